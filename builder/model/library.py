"""Everything that was read: the shipped library with a workspace laid over it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields

from builder.model.bike import Bike
from builder.model.catalogue import (
    Attribute,
    Caution,
    Citation,
    Consumable,
    Exclusion,
    Fastener,
    Head,
    Measurement,
    NamedText,
    Standard,
    State,
    Term,
    Tool,
    Verb,
    Workshop,
)
from builder.model.dress import Dress
from builder.model.guide import Guide, Procedure, Tried
from builder.model.parts import Part
from builder.model.printed import Printed
from builder.model.rules import Rule


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenPhoto:
    """A photograph as pages show it: the file it comes from, its name beside the pages, and its size."""

    file: str
    name: str
    width_px: int
    height_px: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Library:
    """All collections, each by id, in the order of their files and lines."""

    guides: Mapping[str, Guide] = field(default_factory=dict)
    procedures: Mapping[str, Procedure] = field(default_factory=dict)
    bikes: Mapping[str, Bike] = field(default_factory=dict)
    parts: Mapping[str, Part] = field(default_factory=dict)
    tools: Mapping[str, Tool] = field(default_factory=dict)
    heads: Mapping[str, Head] = field(default_factory=dict)
    consumables: Mapping[str, Consumable] = field(default_factory=dict)
    fasteners: Mapping[str, Fastener] = field(default_factory=dict)
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    states: Mapping[str, State] = field(default_factory=dict)
    attributes: Mapping[str, Attribute] = field(default_factory=dict)
    standards: Mapping[str, Standard] = field(default_factory=dict)
    exclusions: tuple[Exclusion, ...] = ()
    measurements: Mapping[str, Measurement] = field(default_factory=dict)
    named_texts: Mapping[str, NamedText] = field(default_factory=dict)
    glossary: Mapping[str, Term] = field(default_factory=dict)
    verbs: Mapping[str, Verb] = field(default_factory=dict)
    sources: Mapping[str, Citation] = field(default_factory=dict)
    tried: Mapping[str, Tried] = field(default_factory=dict)
    printed: Mapping[str, Printed] = field(default_factory=dict)
    rules: Mapping[str, Rule] = field(default_factory=dict)
    workshop: Workshop = field(default=Workshop(name=""))
    dress: Dress = field(default=Dress())
    photos: tuple[TakenPhoto, ...] = ()


def records_of(library: Library) -> Iterator[object]:
    """Every record of the library."""
    for one in fields(library):
        held = getattr(library, one.name)
        match held:
            case Mapping():
                yield from held.values()
            case tuple():
                yield from held
            case _:
                yield held
