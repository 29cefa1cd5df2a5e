"""The worked page of a check: what it is for, formula, symbols, source, an example, what to do at each verdict."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from builder.checks.check import AnyCheck, Force
from builder.checks.reckoning import range_words, reckon_texts
from builder.checks.result import Input, Verdict
from builder.drawings.drawing_kind import DrawingError
from builder.drawings.registry import draw, parameters
from builder.model.sentences import sentence
from builder.pages import amounts, paths
from builder.pages.check_drawings import drawing_of
from builder.pages.contents import Page, Site
from builder.pages.figures import FigureView, view_of
from builder.pages.guide_view import view_check
from builder.pages.marks import verdict_mark
from builder.pages.markup import inline, prose
from builder.pages.rendering import render
from builder.pages.strings import Words
from builder.pages.theme import Theme
from builder.planning.judged_kinds import judging

# Address and title of each.
Links = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InputView:
    """A row of the inputs table."""

    name: str
    words: str
    unit: str
    span: str
    default: str
    example: str


def check_page(check: AnyCheck, site: Site, theme: Theme) -> Page:
    """The page of `check`, its example worked here and now."""
    result = reckon_texts(check, check.example)
    words = site.words
    return render(
        site,
        theme,
        paths.check(check.name),
        "check.html",
        check.title,
        check=check,
        purpose=prose(check.purpose),
        # MathML from the project's own formulas, not from a source file.
        formula=Markup(site.typeset(check.formula)) if check.formula else Markup(""),
        notes=inline(check.notes),
        source=str(check.source),
        provenance=words.provenances[check.source.provenance],
        inputs=tuple(_input(item, check, words) for item in check.inputs),
        answer=view_check(result, words),
        values=tuple((item.name.replace("-", " "), amounts.amount(item.value, item.unit)) for item in result.values),
        verdicts=tuple(
            (verdict_mark(verdict), words.verdicts[verdict], inline(check.at_verdict[verdict]))
            for verdict in Verdict
            if verdict in check.at_verdict
        ),
        figure=_figure(check),
        command=f"spannerleaf reckon {check.name} " + " ".join(_argument(*pair) for pair in check.example.items()),
    )


def checks_index(checks: tuple[AnyCheck, ...], site: Site, theme: Theme) -> Page:
    """All checks by family."""
    families: dict[str, list[tuple[str, str, Markup]]] = {}
    for check in checks:
        row = (paths.check(check.name), check.title, inline(check.purpose))
        families.setdefault(sentence(check.family), []).append(row)
    return render(
        site,
        theme,
        paths.CHECKS,
        "checks.html",
        site.words.checks,
        families=families,
        judged=tuple(_judged(kind, by_force) for kind, by_force in judging().items()),
    )


def _judged(kind: str, by_force: Mapping[Force, tuple[AnyCheck, ...]]) -> tuple[str, Links, Links]:
    """A kind of part, the checks whether it fits, and those of its state, each check as link and title."""

    def linked(force: Force) -> Links:
        return tuple((paths.check(check.name), check.title) for check in by_force[force])

    return kind.replace("-", " "), linked(Force.MISFIT), linked(Force.CONDITION)


def _input(item: Input, check: AnyCheck, words: Words) -> InputView:
    if item.default is None:
        default = words.optional if item.optional else ""
    elif isinstance(item.default, int | float):
        default = amounts.amount(item.default, item.unit)
    else:
        default = str(item.default)
    return InputView(
        name=item.name,
        words=item.words,
        unit=item.unit.value,
        span=range_words(item),
        default=default,
        example=check.example.get(item.name, ""),
    )


def _argument(name: str, value: str) -> str:
    text = f"{name}={value}"
    return f'"{text}"' if " " in text else text


def _figure(check: AnyCheck) -> FigureView | None:
    """The drawing of the check's example; None where no drawing shows it, or the example lacks a number for it."""
    name, given = drawing_of(check)
    if not name:
        return None
    try:
        wanted = {parameter.name for parameter in parameters(name)}
        return view_of(draw(name, {key: text for key, text in given.items() if key in wanted}), "figure")
    except DrawingError:
        return None
