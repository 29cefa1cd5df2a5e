"""What the rules of print are asked about: the texts that a card must show, and the stylesheets for paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.units import Unit, write_range
from builder.pages.form import Form
from builder.pages.leaf import PUNCHED_MM, UPRIGHT, Holes, Shape
from builder.pages.theme import Theme
from builder.pages.told_once import told_ahead, told_at_steps
from builder.printing.legibility import CardTexts, Margins
from builder.printing.stylesheet import check_stylesheet
from builder.sources.layout import shown_path
from builder.sources.loaded import shipped_themes
from builder.tailoring import Tailored
from builder.tailoring.brief import brief_of

# The stylesheets of a theme that dress what is printed.
_ON_PAPER = ("tokens.css", "edge.css", "card.css", "blocks.css", "large.css")
# A card to work along is laminated, so that no edge is bound; its document says from where it is read.
_LAMINATED = Margins(binding_mm=7.0, other_mm=7.0, band_mm=4.0)


def card_texts(tailored: Tailored, form: Form, shape: Shape = UPRIGHT) -> CardTexts:
    """The texts of a card that the rules of print look for on its sides."""
    steps, guarded = tailored.steps, []
    for step in steps:
        guarded += [(shown.text, step.do) for shown in step.cautions]
    shown_torques = (step.torque.torque_nm for step in steps if step.torque is not None)
    found = CardTexts(
        steps=tuple(step.do for step in steps),
        headings=tuple(section.title for section in tailored.sections if section.steps),
        cautions=tuple(text for text, _ in guarded),
        guarded=tuple(guarded),
        torques=tuple(write_range(torque, Unit.NEWTON_METRE) for torque in shown_torques if torque is not None),
        marks=(tailored.guide.title, tailored.code, tailored.bike.name if tailored.bike is not None else ""),
    )
    if form is Form.TEACHING:
        return found
    ahead = tuple(shown.text for shown in told_ahead(tailored))
    if form is Form.STEPS:
        # A message stands in full at the first act that it is about, and in short ahead of all and at the others.
        told = told_at_steps(steps)
        here = tuple((shown.text, step.do) for step in steps for shown in told[step.number])
        found = replace(found, cautions=(*ahead, *(text for text, _ in here)), guarded=here)
    if form is Form.BRIEF:
        # It shows lines and no steps, each torque once in its line; a hazard stands ahead of all of them.
        sections, _, _ = brief_of(tailored)
        named = tuple(part.name for part in sections if part.is_shown)
        found = replace(found, steps=(), guarded=(), torques=(), cautions=ahead, headings=named)
    return replace(found, margins=_margins(shape))


def _margins(shape: Shape) -> Margins:
    """What stays free of text on a card that is composed: more at the edge that is kept for holes."""
    match shape.holes:
        case Holes.SIDE:
            return replace(_LAMINATED, binding_mm=PUNCHED_MM, mirrored=not shape.one_sided)
        case Holes.TOP:
            return replace(_LAMINATED, above_mm=PUNCHED_MM)
        case None:
            return _LAMINATED


def theme_findings(theme: Theme) -> tuple[Diagnostic, ...]:
    """Every declaration in the stylesheets for paper of a theme that breaks a rule of print."""
    sheets = (layer.folder / name for layer in theme.layers for name in _ON_PAPER)
    return tuple(
        found
        for sheet in sheets
        if sheet.is_file()
        for found in check_stylesheet(sheet.read_text(encoding="utf-8"), _shown(sheet))
    )


def _shown(sheet: Path) -> str:
    """A stylesheet's path: a shipped one by its theme, whatever folder the program lies in."""
    shipped = shipped_themes()
    return f"themes/{sheet.relative_to(shipped)}" if sheet.is_relative_to(shipped) else shown_path(sheet)
