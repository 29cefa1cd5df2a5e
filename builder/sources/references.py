"""Follow every name from record to record: what is named must exist, and must be of the right kind."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from builder.diagnostics.diagnostic import Diagnostic
from builder.diagnostics.nearness import alike, nearest
from builder.model.library import Library
from builder.model.parts import folder_of, kind_of
from builder.model.position import Position
from builder.sources.hints import HOW_TO_ADD, choices, unknown_standard
from builder.sources.mentions import Case, Mention, Named, OpenBraces, PartInRole, Shown, StandardWord, StateValue

# Values that a text may show where they are at hand, besides those of the catalogue.
LOCAL_VALUES = frozenset({"torque"})
# What a record of a collection is called in a message, where it is not the collection's name without its `s`.
_ONE = {
    "named_texts": "value",
    "glossary": "thing",
    "sources": "source",
    "tried": "trial of a guide",
    "printed": "printed card",
}
_MOST_LISTED = 12


@dataclass(frozen=True, slots=True)
class Known:
    """What is written at all: for each collection the place of each id, whether or not its record could be read.

    `unsure` are collections of which a file could not be read, so that nothing can be told to be missing from them.
    """

    places: Mapping[str, Mapping[str, Position]] = field(default_factory=dict)
    unsure: frozenset[str] = frozenset()

    def lacks(self, collection: str, name: str) -> bool:
        """Whether the collection surely holds no such id."""
        return name not in self.places.get(collection, {}) and collection not in self.unsure


def one_of(collection: str) -> str:
    """What a record of the collection is called."""
    return _ONE.get(collection, collection.removesuffix("s"))


def check_mentions(mentions: Iterable[Mention], known: Known, library: Library) -> Iterator[Diagnostic]:
    """Everything that is named and does not exist, or is not what its place asks for."""
    for mention in mentions:
        match mention:
            case Named(collection, name, at):
                if known.lacks(collection, name):
                    yield _unknown(collection, name, at, known)
            case PartInRole():
                yield from _part(mention, known, library)
            case StateValue(state, value, at):
                if state in library.states and value not in library.states[state].values:
                    yield _no_value(f"the state '{state}' has no value '{value}'", value, at, library, state)
            case StandardWord():
                yield from _standard(mention, known, library)
            case Case():
                yield from _case(mention, library)
            case Shown():
                yield from _shown(mention, known)
            case OpenBraces(at):
                yield Diagnostic(
                    rule="braces",
                    message="the braces of a value are not closed",
                    at=at,
                    hints=("write the value's name between two braces on either side, such as {{ chain.links }}",),
                )


def _unknown(collection: str, name: str, at: Position, known: Known, *, what: str = "") -> Diagnostic:
    what = what or one_of(collection)
    places = known.places.get(collection, {})
    near = nearest(name, places)
    hints: tuple[str, ...] = ()
    if near is None:
        hints = (*_some_of(name, what, places), *((HOW_TO_ADD[collection],) if collection in HOW_TO_ADD else ()))
    return Diagnostic(
        rule="unknown-name",
        message=f"unknown {what} '{name}'",
        at=at,
        label=f"there is no such {what}",
        hints=hints,
        related=((places[near], f"did you mean '{near}'?"),) if near is not None else (),
    )


def _some_of(name: str, what: str, known: Iterable[str]) -> tuple[str, ...]:
    """All known names where they are few, else those that begin alike."""
    names = list(known)
    if 0 < len(names) <= _MOST_LISTED:
        return (f"the {what}s are: {', '.join(names)}",)
    some = alike(name, names)
    return (f"{what}s that begin alike: {', '.join(some)}",) if some else ()


def _part(mention: PartInRole, known: Known, library: Library) -> Iterator[Diagnostic]:
    name, kind = mention.name, kind_of(mention.role)
    part = library.parts.get(name)
    if part is not None and folder_of(part) != kind:
        yield Diagnostic(
            rule="wrong-kind",
            message=f"'{name}' is a {folder_of(part)}, and this is the place of a {kind}",
            at=mention.at,
            hints=(f"name a part from parts/{kind}/, or write the part's own facts here, as keys below the role",),
            related=((part.places.at, f"'{name}' stands here"),),
        )
    elif known.lacks("parts", name):
        same = {
            id_: at
            for id_, at in known.places.get("parts", {}).items()
            if id_ not in library.parts or folder_of(library.parts[id_]) == kind
        }
        unknown = _unknown("parts", name, mention.at, Known({"parts": same}), what=kind)
        hint = "or write the part's own facts here, as keys below the role; 'none' says that the bike has no such part"
        yield Diagnostic(
            rule=unknown.rule,
            message=unknown.message,
            at=unknown.at,
            label=unknown.label,
            hints=(*unknown.hints, hint),
            related=unknown.related,
        )


def _no_value(message: str, value: str, at: Position, library: Library, state: str) -> Diagnostic:
    values = library.states[state].values
    return Diagnostic(
        rule="unknown-value",
        message=message,
        at=at,
        related=((library.states[state].places.at, choices(value, values, "its values are")),),
    )


def _standard(mention: StandardWord, known: Known, library: Library) -> Iterator[Diagnostic]:
    word, of = mention.word, mention.of
    if word in of.words:
        return
    own = library.standards.get(word)
    if own is not None and own.of is not of:
        yield Diagnostic(
            rule="wrong-kind",
            message=f"'{word}' is a standard of {own.of}, and this is the place of one of {of}",
            at=mention.at,
            hints=(unknown_standard(word, of, library.standards),),
            related=((own.places.at, f"'{word}' stands here"),),
        )
    elif known.lacks("standards", word):
        yield Diagnostic(
            rule="value",
            message=f"'{word}' is none of the words that can stand here",
            at=mention.at,
            hints=(unknown_standard(word, of, library.standards),),
        )


def _case(mention: Case, library: Library) -> Iterator[Diagnostic]:
    attribute = library.attributes.get(mention.attribute)
    if attribute is not None and mention.case not in attribute.cases:
        yield Diagnostic(
            rule="unknown-case",
            message=f"'{mention.attribute}' has no case '{mention.case}'",
            at=mention.at,
            related=((attribute.places.at, choices(mention.case, attribute.cases, "its cases are")),),
        )


def _shown(mention: Shown, known: Known) -> Iterator[Diagnostic]:
    if mention.name in LOCAL_VALUES:
        if not mention.tightens:
            yield Diagnostic(
                rule="no-torque",
                message="a torque is shown where nothing is tightened",
                at=mention.at,
                hints=("add 'tightens:' with the fastener whose torque is meant, to this step",),
            )
    elif not mention.name:
        hint = "write the name of a value between them, such as {{ chain.links }}"
        yield Diagnostic(rule="braces", message="these braces hold no name", at=mention.at, hints=(hint,))
    elif known.lacks("named_texts", mention.name):
        yield _unknown("named_texts", mention.name, mention.at, known)
