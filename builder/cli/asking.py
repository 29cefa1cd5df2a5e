"""Ask on the terminal what is known of a bike: plain questions, each of which may be left open with Enter."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import click

from builder.cli.facts import FactError, Facts
from builder.model.catalogue import Attribute
from builder.model.facts import Role
from builder.model.library import Library

_COMPUTED = "computed"
# What numbers the lead checks need, beside the questions of the catalogue: where they go, and what to ask.
_NUMBERS: tuple[tuple[str, str], ...] = (
    ("crankset.rings", "How many teeth has each chainring? (such as 46, 30)"),
    (
        "cassette.sprockets",
        "How many teeth has each sprocket, smallest first? (such as 11, 13, 15, 18, 21, 24, 28)",
    ),
    ("rear-shifter.speeds", "How many clicks has the rear shifter, as a number of gears?"),
    (
        "rear-derailleur.largest-sprocket",
        "What is the largest sprocket that the rear derailleur is made for?",
    ),
    ("rear-derailleur.capacity-teeth", "What is the capacity of the rear derailleur, in teeth?"),
    ("frame.chainstay", "How far is it from the bottom bracket's axle to the rear axle? (such as 432 ± 1 mm)"),
    ("measured.chain-links", "How many links has the chain, the joining link counted?"),
)


def ask_name(words: str, default: str) -> str:
    """Ask for a name."""
    answer: str = click.prompt(words, default=default)
    return answer


def ask_bike(facts: Facts, library: Library) -> None:
    """Ask everything that is not known yet, and put the answers into `facts`."""
    click.echo("Press Enter to leave a question open: a card asks for what it needs.\n")
    if not facts.tag:
        facts.tag = click.prompt("Which number or tag hangs on the bike?", default="", show_default=False)
    _ask_transmission(facts)
    for attribute in _questions(library):
        if facts.is_open(attribute.source):
            _ask_choice(facts, attribute)
    for key, words in _NUMBERS:
        if facts.is_open(key):
            _ask_fact(facts, key, words)


def _questions(library: Library) -> Iterator[Attribute]:
    """The questions of the catalogue that a fact of the bike answers."""
    for attribute in library.attributes.values():
        if attribute.ask and attribute.source != _COMPUTED:
            yield attribute


def _ask_transmission(facts: Facts) -> None:
    if not facts.is_open(f"{Role.REAR_DERAILLEUR}.capacity-teeth"):
        return
    cases = {
        "derailleur": "a rear derailleur",
        "hub-gear": "gears inside the hub",
        "single": "neither: there is one gear",
    }
    match _choose("What changes the gears at the rear wheel?", cases):
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


def _ask_choice(facts: Facts, attribute: Attribute) -> None:
    answer = _choose(attribute.ask, attribute.cases)
    if not answer:
        return
    try:
        facts.set(attribute.source, answer)
    except FactError:
        # The case in which there is no such part at all.
        facts.set(attribute.source.partition(".")[0], "none")


def _ask_fact(facts: Facts, key: str, words: str) -> None:
    while answer := click.prompt(words, default="", show_default=False):
        try:
            facts.set(key, answer)
        except FactError as error:
            click.echo(f"  {error}")
        else:
            return


def _choose(words: str, cases: Mapping[str, str]) -> str:
    """Ask for one of the cases by its number; '' where the question is left open."""
    click.echo(words)
    names = list(cases)
    for number, name in enumerate(names, 1):
        click.echo(f"  {number}  {cases[name]}")
    while answer := click.prompt(f"  1 to {len(names)}", default="", show_default=False):
        if answer.isdecimal() and 1 <= int(answer) <= len(names):
            return names[int(answer) - 1]
        if answer in cases:
            return answer
        click.echo(f"  write a number from 1 to {len(names)}, or press Enter")
    return ""
