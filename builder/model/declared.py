"""Read a type annotation as what it declares of a value: its type, unit, bounds, words and the fact it stands for.

A field of a part and an input of a check are declared the same way, `Annotated[float | None, In(Unit.MILLIMETRE),
Bounds(16, 200)]`, so that one reader serves both.
"""

from __future__ import annotations

import inspect
import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from builder.model.facts import StandardSet
from builder.model.fields import Bounds, Fact, In, Meaning, OpenTo
from builder.model.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Declared:
    """What an annotation declares.

    `base` is the plain type (`float`, `int`, `str`, `Measure`, an enumeration ...), `many` says that it is a row of
    them, `optional` that it may be None. `choices` are the words of a set: a closed one, or one that is `open_to` a
    workshop's own.
    """

    base: type
    many: bool = False
    optional: bool = False
    choices: tuple[str, ...] = ()
    open_to: StandardSet | None = None
    unit: Unit | None = None
    bounds: Bounds | None = None
    meaning: str = ""
    fact: Fact | None = None


def declared(annotation: Any) -> Declared:
    """What `annotation` declares; where it is nested, the outer marker goes before the inner one.

    Raises:
        TypeError: an annotation of another shape.
    """
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return _marked(declared(arguments[0]), arguments[1:])
    if origin in (Union, types.UnionType):
        rest = [one for one in arguments if one is not type(None)]
        if len(rest) == 1:
            return replace(declared(rest[0]), optional=len(rest) < len(arguments))
    if origin is tuple and len(arguments) == 2 and arguments[1] is Ellipsis:
        return replace(declared(arguments[0]), many=True)
    if origin is Literal:
        return Declared(base=str, choices=tuple(map(str, arguments)))
    if isinstance(annotation, type):
        words = tuple(str(member.value) for member in annotation) if issubclass(annotation, Enum) else ()
        return Declared(base=annotation, choices=words)
    if isinstance(origin, type):
        return Declared(base=origin)
    raise TypeError(f"{annotation!r} declares nothing that is known here")


def _marked(inner: Declared, markers: tuple[Any, ...]) -> Declared:
    for marker in markers:
        match marker:
            case In():
                inner = replace(inner, unit=marker.unit)
            case OpenTo():
                inner = replace(inner, choices=marker.of.words, open_to=marker.of)
            case Bounds():
                inner = replace(inner, bounds=marker)
            case Meaning():
                inner = replace(inner, meaning=marker.text)
            case Fact():
                inner = replace(inner, fact=marker)
            case _:
                pass
    return inner


@cache
def annotations_of(holder: type | Callable[..., Any]) -> Mapping[str, Any]:
    """The annotations of a record's fields or of a function's parameters, by name, with their markers."""
    holders = reversed(holder.__mro__) if isinstance(holder, type) else (holder,)
    return {name: said for one in holders for name, said in inspect.get_annotations(one, eval_str=True).items()}
