"""Ask on the terminal what is known of a bike: plain questions, only those that still matter, each of which may be
left open.
"""

from __future__ import annotations

from collections.abc import Mapping

import click

from builder.cli.answers import STOP, Sprockets, chosen, known_cassettes, leaves_open, sprockets_in, teeth_in
from builder.cli.facts import FactError, Facts
from builder.cli.mattering import Mattering
from builder.model.catalogue import Attribute
from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.library import Library

# What numbers the checks of a transmission need, beside the questions of the catalogue: where they go, what to ask.
_NUMBERS: tuple[tuple[str, str], ...] = (
    ("rear-shifter.speeds", "How many clicks has the rear shifter, as a number of gears?"),
    (
        "rear-derailleur.largest-sprocket",
        "What is the largest sprocket that the rear derailleur is made for? (its maker says so)",
    ),
    ("rear-derailleur.capacity-teeth", "What is the capacity of the rear derailleur, in teeth? (its maker says so)"),
    ("frame.chainstay", "How far is it from the bottom bracket's axle to the rear axle? (such as 432 ± 1 mm)"),
    ("measured.chain-links", "How many links has the chain, the joining link counted?"),
)
_TRANSMISSIONS = {
    "derailleur": "a rear derailleur",
    "hub-gear": "gears inside the hub",
    "single": "neither: there is one gear",
}
_ANOTHER = "another one"


class _Enough(Exception):
    """The one who answers has had enough."""


def ask_name(words: str, default: str) -> str:
    """Ask for a name."""
    answer: str = click.prompt(words, default=default)
    return answer


def ask_bike(facts: Facts, library: Library, guide: Guide | None = None) -> None:
    """Ask what is not known yet and still matters, and put the answers into `facts`.

    Args:
        facts: what is known, and where the answers go.
        library: where the questions and what hangs on them stand.
        guide: the job that the bike is described for; without one, everything that any guide asks.
    """
    click.echo("Press Enter to leave a question open: a card asks for what it needs. Write . to leave the rest open.\n")
    try:
        _ask_all(facts, library, guide)
    except _Enough:
        click.echo("The rest stays open.")


def _ask_all(facts: Facts, library: Library, guide: Guide | None) -> None:
    mattering = Mattering.of(library, guide)
    wants_numbers = guide is None or bool(guide.wants)
    if wants_numbers or mattering.asks("transmission"):
        _ask_transmission(facts)
    if (wants_numbers or mattering.asks("chainrings")) and facts.is_open("crankset.rings"):
        _ask_teeth(facts, "crankset.rings", "How many teeth has each chainring? (such as 46, 30)")
    if wants_numbers and facts.is_open("cassette.sprockets"):
        _ask_sprockets(facts, library)
    for attribute in mattering.questions():
        settled = mattering.left(attribute, facts)
        if len(settled) == 1:
            _take_case(facts, attribute, settled[0])
        elif settled:
            _ask_choice(facts, attribute, settled)
    for key, words in _NUMBERS if wants_numbers else ():
        if facts.is_open(key):
            _ask_fact(facts, key, words)
    if not facts.tag and guide is None:
        facts.tag = _answer("Which number or tag hangs on the bike?")


# --- the questions -------------------------------------------------------------------------------


def _ask_transmission(facts: Facts) -> None:
    if not facts.is_open(f"{Role.REAR_DERAILLEUR}.capacity-teeth") or facts.parts.get(Role.REAR_DERAILLEUR) is not None:
        return
    match _choose("What changes the gears at the rear wheel?", _TRANSMISSIONS):
        case "derailleur":
            facts.add_part(Role.REAR_DERAILLEUR)
        case "hub-gear":
            for role in (Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR, Role.CASSETTE):
                facts.set(role.value, "none")
            _ask_fact(facts, "rear-hub.gears", "How many gears are inside the hub?")
        case "single":
            for role in (Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR, Role.REAR_SHIFTER):
                facts.set(role.value, "none")
            facts.set("rear-hub.gears", "1")
        case _:
            pass


def _ask_sprockets(facts: Facts, library: Library) -> None:
    while answer := _answer("Which sprockets are at the rear wheel? (such as 11, 13, 15, 18, or 11-36 10-speed)"):
        told = sprockets_in(answer)
        try:
            if told is None:
                _take_cassette(facts, answer)
                return
            if told.every:
                facts.set("cassette.sprockets", ", ".join(map(str, told.every)))
                return
        except FactError as error:
            click.echo(f"  {error}")
            continue
        _ask_by_ends(facts, told, library)
        return


def _ask_by_ends(facts: Facts, told: Sprockets, library: Library) -> None:
    """Only the ends are told: find a known cassette with them, or every sprocket."""
    while not told.count and (answer := _answer("How many sprockets are there?")):
        number = teeth_in(answer.casefold().removesuffix("speed").rstrip(" -"))
        if len(number) == 1:
            told = Sprockets(smallest=told.smallest, largest=told.largest, count=number[0])
        else:
            click.echo("  write a number, such as 10, or press Enter")
    known = known_cassettes(told, library)
    if known:
        name = _choose("Is it one of these?", {**known, _ANOTHER: _ANOTHER})
        if name and name != _ANOTHER:
            _take_cassette(facts, name)
            return
    facts.set("cassette.note", f"{told.words}. Every sprocket is to be counted.")
    if told.count:
        facts.set("rear-shifter.speeds", str(told.count))
    _ask_teeth(facts, "cassette.sprockets", "How many teeth has each sprocket, smallest first?")


def _take_cassette(facts: Facts, name: str) -> None:
    """Take a known cassette by its id; what it sits on is then known too, since it is on the bike."""
    facts.set(Role.CASSETTE.value, name)
    mount = facts.text_of("cassette.mount")
    if mount and facts.is_open("rear-hub.sprocket-mount"):
        facts.set("rear-hub.sprocket-mount", mount)


def _ask_teeth(facts: Facts, key: str, words: str) -> None:
    while answer := _answer(words):
        numbers = teeth_in(answer)
        try:
            facts.set(key, ", ".join(map(str, numbers)) if numbers else answer)
        except FactError as error:
            click.echo(f"  {error}")
        else:
            return


def _ask_choice(facts: Facts, attribute: Attribute, left: tuple[str, ...]) -> None:
    answer = _choose(attribute.ask, {name: attribute.cases[name] for name in left})
    if answer:
        _take_case(facts, attribute, answer)


def _take_case(facts: Facts, attribute: Attribute, case: str) -> None:
    try:
        facts.set(attribute.source, case)
    except FactError:
        role = attribute.source.partition(".")[0]
        # The case in which there is no such part at all, unless it is a known part that says otherwise.
        if not facts.parts.get(Role(role)):
            facts.set(role, "none")


def _ask_fact(facts: Facts, key: str, words: str) -> None:
    while answer := _answer(words):
        try:
            taken = facts.set_loosely(key, answer)
        except FactError as error:
            click.echo(f"  {error}")
        else:
            if taken != answer:
                click.echo(f"  taken as {taken}")
            return


def _choose(words: str, cases: Mapping[str, str]) -> str:
    """Ask for one of the cases, by its number or its words; '' where the question is left open."""
    click.echo(words)
    for number, case in enumerate(cases.values(), 1):
        click.echo(f"  {number}  {case}")
    while answer := _answer(f"  1 to {len(cases)}"):
        case = chosen(answer, cases)
        if case:
            return case
        click.echo(f"  write a number from 1 to {len(cases)}, or press Enter")
    return ""


def _answer(words: str) -> str:
    """An answer; '' where it says that nothing is known.

    Raises:
        _Enough: no more is to be asked.
    """
    answer: str = click.prompt(words, default="", show_default=False)
    if answer.strip().casefold() in STOP:
        raise _Enough
    return "" if leaves_open(answer) else answer.strip()
