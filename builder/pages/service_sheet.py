"""A service sheet: a guide as one dense table for each bike, with fields for what is measured and a sign-off."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from markupsafe import Markup

from builder.model.bike import Wearing
from builder.model.catalogue import Measurement, Verb
from builder.model.library import Library
from builder.model.units import write_quantity
from builder.model.verbs import acts
from builder.pages import amounts
from builder.pages.guide_view import StripView, TorqueView, strips_of, view_torque
from builder.pages.markup import inline, instruction
from builder.pages.paper import Paper
from builder.pages.revision import revision_of
from builder.pages.signs import sign
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.planning.wear import Wear, wear_of
from builder.tailoring.persons import persons_for
from builder.tailoring.tailored import ShownCaution, ShownStep, Tailored

# Which readings of the wear book a measurement takes up, by where the measurement goes in the bike's file.
_WEARING: Mapping[str, Wearing] = MappingProxyType(
    {f"measured.{wearing.value}": wearing for wearing in Wearing} | {"measured.chain-length": Wearing.CHAIN}
)

# Verbs of the catalogue whose act ends with a value.
_TAKES_A_VALUE = frozenset({"measure", "read"})


@dataclass(frozen=True, slots=True, kw_only=True)
class RowView:
    """A step as a row.

    `safety` are the numbers of the cautions at the head of the sheet that belong to the step. `has_field` says that
    there is a value to write, in `unit` where the step measures; `boxes` are several values, each with its name and
    unit; `is_judged` says that the row passes or calls for a repair. `last` is what the wear book says. `tried` are
    the torques that a wrench holds tight fasteners to, each a line of its own with its boxes.
    """

    number: int
    do: Markup
    choices: tuple[Markup, ...]
    prove: Markup
    until: Markup
    limit: Markup
    wait: str
    turning: str
    torque: TorqueView | None
    tried: tuple[TorqueView, ...]
    safety: str
    has_field: bool
    unit: str
    boxes: tuple[tuple[str, str], ...]
    is_judged: bool
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """Rows under one heading."""

    title: str
    rows: tuple[RowView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """The sheet of one bike. The texts of `strips` are numbered."""

    anchor: str
    bike: str
    tag: str
    description: Markup
    code: str
    revision: str
    is_tried: bool
    time: str
    tools: str
    strips: tuple[StripView, ...]
    before: tuple[Markup, ...]
    not_when: tuple[Markup, ...]
    mechanic_when: tuple[Markup, ...]
    parts: tuple[PartView, ...]
    needs_second: bool
    persons: int


def service_sheet_html(
    sheets: Iterable[Tailored], library: Library, theme: Theme, paper: Paper, words: Words = EN
) -> str:
    """One document with the sheet of each bike, all of one guide, each on a side of its own; a tag is a small one.

    Args:
        sheets: the guide, tailored to each bike; at least one.
        library: whose workshop and verbs they are.
        theme: what they are dressed in.
        paper: A4 or Letter, or A6 for a tag.
        words: the language.
    """
    tailored = tuple(sheets)
    template = "tag.html" if tailored[0].guide.tag else "service_sheet.html"
    return theme.templates.get_template(template).render(
        title=tailored[0].guide.title,
        sheets=tuple(view_sheet(one, library, words) for one in tailored),
        w=words,
        m=theme.marks,
        paper=paper.value,
        workshop=library.workshop.name,
        style=Markup(theme.large_css),
    )


def view_sheet(tailored: Tailored, library: Library, words: Words) -> SheetView:
    """The view of a guide for one bike as a service sheet.

    Raises:
        ValueError: the guide is not tailored to a bike.
    """
    guide, bike = tailored.guide, tailored.bike
    if bike is None:
        raise ValueError("a service sheet is for one bike")
    numbers = {shown.caution.id: number for number, shown in enumerate(tailored.summary_cautions, 1)}
    wear = {record.wearing: record for record in wear_of(bike)}
    maker = _Maker(words=words, verbs=library.verbs, numbers=numbers, wear=wear)
    stretches = [(section.title, section.steps) for section in tailored.sections]
    stretches += [(words.finish, tailored.finish), (words.test, tailored.test)]
    view = SheetView(
        anchor=f"of-{bike.id}",
        bike=bike.name,
        tag=bike.tag,
        description=inline(bike.description),
        code=tailored.code,
        revision="",
        is_tried=tailored.status != "unverified",
        time=amounts.minutes(guide.prepare_time_min + guide.work_time_min),
        tools=", ".join(item.name for item in (*tailored.tools, *tailored.consumables)),
        strips=_short_strips(tailored) if guide.tag else numbered_strips(tailored.summary_cautions),
        before=tuple(map(inline, tailored.before)),
        not_when=tuple(map(inline, tailored.not_when)),
        mechanic_when=tuple(map(inline, tailored.mechanic_when)),
        parts=tuple(PartView(title=title, rows=tuple(map(maker.row, steps))) for title, steps in stretches if steps),
        needs_second=tailored.sign_off,
        persons=persons_for(tailored),
    )
    return replace(view, revision=revision_of(repr(view)))


def _short_strips(tailored: Tailored) -> tuple[StripView, ...]:
    """The cautions of a tag in their short words: it has ten lines, and each is near."""
    return strips_of({shown.caution.id: shown for step in tailored.steps for shown in step.cautions}.values())


def numbered_strips(cautions: Iterable[ShownCaution]) -> tuple[StripView, ...]:
    """The cautions in their order, each with its number, those of one signal word after each other in one frame."""
    found: list[StripView] = []
    for number, shown in enumerate(cautions, 1):
        text = Markup("<b>{}</b> {}").format(number, inline(shown.text))
        signs = tuple(sign(name) for name in shown.caution.signs if name != "W001")
        if found and found[-1].word == shown.word.value:
            last = found[-1]
            shown_signs = tuple(dict.fromkeys((*last.signs, *signs)))
            found[-1] = StripView(word=last.word, texts=(*last.texts, text), signs=shown_signs)
        else:
            found.append(StripView(word=shown.word.value, texts=(text,), signs=signs))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maker:
    """What all rows of one sheet share."""

    words: Words
    verbs: Mapping[str, Verb]
    numbers: Mapping[str, int]
    wear: Mapping[Wearing, Wear]

    def row(self, step: ShownStep) -> RowView:
        safety = sorted({self.numbers[shown.caution.id] for shown in step.cautions})
        measurement = step.measurement
        return RowView(
            number=step.number,
            do=instruction(step.do),
            choices=tuple(instruction(do) for do, _ in step.choose),
            prove=inline(step.prove),
            until=inline(step.until),
            limit=inline(step.limit),
            wait="" if step.step.wait_min is None else amounts.minutes(step.step.wait_min),
            turning=step.turning,
            torque=None if step.torque is None else view_torque(step.torque, self.words),
            tried=tuple(view_torque(torque, self.words) for torque in step.tried),
            safety=self.words.sheet_safety.format(numbers=", ".join(map(str, safety))) if safety else "",
            has_field=measurement is not None or bool(step.step.boxes) or _gives_a_value(step, self.verbs),
            unit="" if measurement is None else measurement.unit,
            boxes=tuple(step.step.boxes.items()),
            is_judged=bool(measurement or step.limit or step.prove or step.step.boxes),
            last="" if measurement is None else self._last(measurement),
        )

    def _last(self, measurement: Measurement) -> str:
        """The last reading of what is measured; its limit is told by the step."""
        wearing = _WEARING.get(measurement.key)
        record = None if wearing is None else self.wear.get(wearing)
        if record is None:
            return ""
        value = write_quantity(record.values[-1], record.unit, 2)
        return self.words.sheet_last.format(value=value, date=record.on(record.days[-1]).isoformat())


def _gives_a_value(step: ShownStep, verbs: Mapping[str, Verb]) -> bool:
    """Whether a value is held against the limit of a step, though the bike's file has no place for it.

    That is so where the limit names a figure, and where the step takes a value.
    """
    named = any(character.isdigit() for character in step.limit) and not step.tried
    return bool(step.limit) and (named or any(act.verb in _TAKES_A_VALUE for act in acts(step.do, verbs)))
