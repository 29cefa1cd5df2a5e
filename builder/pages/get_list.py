"""What to get for a job: each part, whether the workshop has it, its price, and why it is needed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.checks.registry import CHECKS
from builder.model.catalogue import Workshop
from builder.model.facts import Role
from builder.model.parts import Part
from builder.model.units import Unit
from builder.pages import amounts
from builder.pages.strings import Words
from builder.planning.plan import Change, Plan
from builder.tailoring.tailored import Tailored


@dataclass(frozen=True, slots=True, kw_only=True)
class GetRow:
    """A part to get. `source` says in stock or to buy, '' where no workshop is known; `why` is one line or ''."""

    name: str
    source: str
    price: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapRow:
    """A place on the bike where the part changes."""

    role: str
    old: str
    new: str


def get_rows(tailored: Tailored, workshop: Workshop | None, words: Words) -> tuple[GetRow, ...]:
    """The parts of a job in their order; for no certain bike the kinds of part."""
    changes = {change.role: change for change in tailored.plan.changes} if tailored.plan is not None else {}
    by_part = {change.choice.id: change for change in changes.values() if change.choice is not None}
    return tuple(
        GetRow(
            name=item.name,
            source="" if item.part is None else _source(item.part, workshop, words),
            price="" if item.part is None else amounts.amount(item.part.price_eur, Unit.MONEY),
            why=_why(by_part.get(item.part.id) if item.part is not None else None, words),
        )
        for item in tailored.parts
    )


def swap_rows(plan: Plan | None) -> tuple[SwapRow, ...]:
    """What comes off the bike and what goes on, for each part that changes."""
    return () if plan is None else tuple(_swaps(plan))


def _swaps(plan: Plan) -> Iterator[SwapRow]:
    roles: dict[Role, None] = dict.fromkeys((*plan.wanted, *(one.role for one in plan.changes if one.choice)))
    for role in roles:
        old, new = plan.bike.part(role), plan.after.part(role)
        if new is not None:
            yield SwapRow(role=role.value.replace("-", " "), old="" if old is None else old.name, new=new.name)


def _source(part: Part, workshop: Workshop | None, words: Words) -> str:
    if workshop is None:
        return ""
    held = any(item.part == part.id and item.count > 0 for item in workshop.stock)
    return words.in_stock if held else words.to_order


def _why(change: Change | None, words: Words) -> str:
    """Why a part is forced: what the part on the bike did not meet and the new one does."""
    if change is None:
        return ""
    limits = [str(one).replace("-", " ").replace(":", "") for one in change.requires if not one.one_of]
    titles = (CHECKS[name].title if name in CHECKS else name for name in change.because)
    return f"{words.forced}: {', '.join(limits or titles)}"
