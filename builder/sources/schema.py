"""From the model's records to pydantic models, from which JSON Schemas are made; each is made once and when needed."""

from __future__ import annotations

import functools
from collections.abc import Callable
from functools import partial
from typing import Annotated, Any, ClassVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    PlainValidator,
    Tag,
    WithJsonSchema,
    create_model,
)
from pydantic import Field as Described

from builder.model.facts import Role
from builder.model.guide import Use
from builder.sources import descriptions
from builder.sources.reading import (
    read_choice,
    read_condition,
    read_name,
    read_number,
    read_part_name,
    read_quantity,
    read_standard,
    read_truth,
    read_words,
)
from builder.sources.shapes import (
    Keyed,
    Many,
    Number,
    OneOf,
    PartsByRole,
    Quantity,
    Record,
    Shape,
    StandardOf,
    Text,
    Truth,
    When,
    fields_of,
    kind_among,
    kind_for,
)

# Tells the kinds apart where a value may be of several.
_STEP, _USE, _NAMED, _HERE = "<step>", "<use>", "<named>", "<here>"


class Written(BaseModel):
    """What all models of written records share: nothing unknown is taken."""

    model_config = ConfigDict(extra="forbid", frozen=True, protected_namespaces=())
    kind: ClassVar[type]


@functools.cache
def model_of(record: type, *, inline: bool = False) -> type[Written]:
    """The model that reads `record`. A part that is written `inline` among a bike's parts may go without a name."""
    fields: dict[str, Any] = {}
    for field in fields_of(record):
        required = field.required and not (inline and field.key == "name")
        fields[field.name] = (
            _annotation(field.shape),
            Described(
                default=... if required else None,
                alias=field.key,
                description=descriptions.of_field(record, field),
            ),
        )
    name = f"{record.__name__}Here" if inline else record.__name__
    model: type[Written] = create_model(name, __base__=Written, __doc__=descriptions.of_record(record), **fields)
    model.kind = record
    return model


@functools.cache
def parts_model() -> type[Written]:
    """The model of a bike's parts: one field for each role."""
    fields: dict[str, Any] = {
        role.name.lower(): (
            _part_annotation(role),
            Described(default=None, alias=role.value, description=f"The {role.value.replace('-', ' ')} of this bike."),
        )
        for role in Role
    }
    doc = "The bike's parts by role: the id of a part, the part's own facts, or `none` where the bike has none."
    model: type[Written] = create_model("BikeParts", __base__=Written, __doc__=doc, **fields)
    return model


def _reader(read: Callable[[Any], Any], schema: dict[str, Any]) -> Any:
    return Annotated[Any, PlainValidator(read), WithJsonSchema(schema)]


def _annotation(shape: Shape) -> Any:
    match shape:
        case Text():
            return _reader(partial(read_words, shape), descriptions.schema_of(shape))
        case Truth():
            return _reader(read_truth, descriptions.schema_of(shape))
        case Number():
            return _reader(partial(read_number, shape), descriptions.schema_of(shape))
        case Quantity():
            return _reader(partial(read_quantity, shape), descriptions.schema_of(shape))
        case OneOf():
            return _reader(partial(read_choice, shape), descriptions.schema_of(shape))
        case StandardOf():
            return _reader(partial(read_standard, shape), descriptions.schema_of(shape))
        case When():
            return _reader(read_condition, descriptions.schema_of(shape))
        case Many(item):
            return tuple[_annotation(item), ...]  # type: ignore[misc]
        case Keyed(_, value):
            name = Annotated[str, BeforeValidator(read_name), WithJsonSchema(descriptions.NAME)]
            return dict[name, _annotation(value)]  # type: ignore[misc]
        case Record((kind,)):
            return model_of(kind)
        case Record(kinds):
            return _either(kinds)
        case PartsByRole():
            return parts_model()


def _either(kinds: tuple[type, ...]) -> Any:
    """One of two kinds of record: a mapping with the key `use` places a procedure, any other is a step."""
    step, use = sorted(kinds, key=lambda kind: kind is Use)

    def tag(value: Any) -> str:
        return _USE if kind_among(kinds, value) is Use else _STEP

    return Annotated[
        Annotated[model_of(step), Tag(_STEP)] | Annotated[model_of(use), Tag(_USE)],
        Discriminator(tag),
    ]


def _part_annotation(role: Role) -> Any:
    def tag(value: Any) -> str:
        return _HERE if isinstance(value, dict) else _NAMED

    named = _reader(read_part_name, descriptions.part_name(role))
    here = model_of(kind_for(role), inline=True)
    return Annotated[Annotated[named, Tag(_NAMED)] | Annotated[here, Tag(_HERE)], Discriminator(tag)]
