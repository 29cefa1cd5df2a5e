"""A question: how one check is put to a bike, and what a part must satisfy for it to be answered well."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from builder.checks.result import Given
from builder.model.facts import Role
from builder.model.parts import Part
from builder.planning.outfit import Outfit
from builder.planning.plan import Requirement

AnyPart = TypeVar("AnyPart", bound=Part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """A fact that the check needs and the bike's file does not hold."""

    key: str
    words: str
    how: str = "Read the marking on the part, or look in its maker's data."


# What a question finds on a bike: the inputs of its check, what is lacking, or None where it does not apply.
Answer = Mapping[str, Given] | tuple[Lack, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """How the check called `check` is put to a bike.

    `roles` are the places whose parts it is about: it is asked when one of them changes. `cures` are the places where
    another part can turn a bad answer, the likeliest first; where there are none the answer informs and forces
    nothing. `requires` says what a part in one of `cures` must satisfy, given the rest of the bike.
    """

    check: str
    roles: frozenset[Role]
    ask: Callable[[Outfit], Answer]
    cures: tuple[Role, ...] = ()
    requires: Callable[[Outfit, Role], tuple[Requirement, ...]] | None = None
    binding: bool = True


def lacking(outfit: Outfit, role: Role, field: str, words: str, how: str = "") -> Lack:
    """The lack of `field` of the part in `role`."""
    key = f"parts.{role.value}.{field}"
    name = outfit.bike.parts[role].name if role in outfit.bike.parts else ""
    of = f" of {name}" if name else ""
    return Lack(key=key, words=f"{words}{of}", **({"how": how} if how else {}))


def as_kind(outfit: Outfit, role: Role, kind: type[AnyPart]) -> AnyPart | None:
    """The part in `role` where it is of `kind`."""
    part = outfit.part(role)
    return part if isinstance(part, kind) else None
