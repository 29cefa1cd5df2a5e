"""A set of parts for lower gears, in lines to read and as plain data."""

from __future__ import annotations

from collections.abc import Iterator

from builder.model.units import write_number
from builder.planning.lowering import Lowering


def lowering_as_data(one: Lowering) -> dict[str, object]:
    """All of it as plain data for JSON."""
    return {
        "wanted": [part.id for part in one.plan.wanted.values()],
        "forced": [
            {
                "part": change.choice.id,
                "count": change.count,
                "because": list(change.because),
                "to-order": change.to_order,
            }
            for change in one.plan.changes
            if change.choice is not None
        ],
        "price": one.price_eur,
        "easier": round(one.easier_percent, 6),
        "highest-gear": round(one.top_percent, 6),
        "range-before": round(one.range_before_percent, 6),
        "range-after": round(one.range_after_percent, 6),
        "measure": [missing.key for missing in one.plan.missing],
    }


def lowering_lines(one: Lowering) -> Iterator[str]:
    """What it does and costs, then each part with the reason for it, then what it does to the range."""
    price = "price not known" if one.price_eur is None else f"{one.price_eur:.2f} EUR"
    yield f"{write_number(one.easier_percent, 0)} % easier, {price}"
    for part in one.plan.wanted.values():
        yield f"{part.id}  {part.name}"
    for change in one.plan.changes:
        if change.choice is not None:
            order = ", to order" if change.to_order else ""
            count = f"{change.count} × " if change.count > 1 else ""
            yield f"{change.choice.id}  {count}{change.choice.name}{order} (because of {', '.join(change.because)})"
    before, after = write_number(one.range_before_percent, 0), write_number(one.range_after_percent, 0)
    kept = "the range stays" if before == after else f"the range goes from {before} to {after} %"
    yield f"The highest gear changes by {write_number(one.top_percent, 0)} %; {kept}."
    if one.plan.missing:
        yield f"Measure first: {', '.join(missing.words for missing in one.plan.missing)}"
