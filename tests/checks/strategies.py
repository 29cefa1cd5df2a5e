"""Random inputs for any check, made from what its inputs say about themselves."""

from hypothesis import strategies as st

from builder.checks.check import AnyCheck
from builder.checks.result import Input, Kind
from builder.model.units import Unit


def wrong_unit(unit: Unit) -> str:
    """A unit of another kind than `unit`."""
    return "kg" if unit is not Unit.KILOGRAM else "mm"


def good_value(item: Input, example: str | None) -> st.SearchStrategy:
    """A value within the input's range, as the check's function takes it."""
    low, high = item.low or 0.0, item.high or 0.0
    match item.kind:
        case Kind.QUANTITY:
            return st.one_of(st.floats(low, high), st.sampled_from((float(low), float(high))))
        case Kind.WHOLE:
            return st.integers(int(low), int(high))
        case Kind.WHOLE_LIST:
            return st.lists(st.integers(int(low), int(high)), min_size=1, max_size=12).map(tuple)
        case Kind.QUANTITY_LIST:
            return st.lists(st.floats(low, high), min_size=1, max_size=12).map(tuple)
        case Kind.CHOICE:
            return st.sampled_from(item.choices)
        case Kind.TEXT:
            return st.sampled_from((example or "a", "a", "b"))


def good_inputs(check: AnyCheck) -> st.SearchStrategy:
    """Inputs within their ranges; what may be left out is left out now and then."""
    needed = {i.name: good_value(i, check.example.get(i.name)) for i in check.inputs if not _free(i)}
    free = {i.name: good_value(i, check.example.get(i.name)) for i in check.inputs if _free(i)}
    return st.fixed_dictionaries(needed, optional=free)


def _free(item: Input) -> bool:
    return item.optional or item.default is not None


def bad_texts(item: Input) -> list[str]:
    """Texts that must be refused for this input: no number, not finite, absurd, of another kind, empty."""
    unit = item.unit.value
    refused = ["", "   ", "\n"]
    if item.kind is Kind.CHOICE:
        return [*refused, "xyzzy", "1e999", "a\nb"]
    if item.kind is Kind.TEXT:
        return refused
    low, high = item.low or 0.0, item.high or 0.0
    numbers = [f"{high * 10 + 1e6:.0f}", f"{-abs(high) * 10 - 1e6:.0f}", "1e300", "1e999", "nan", "inf", "-inf", "many"]
    if low > 0:
        numbers += ["0", "-0", f"{-low}", f"{low / 1000:.6f}"]
    refused += [f"{number} {unit}".strip() for number in numbers]
    refused += ["12 xyzzy", "1 2 3 mm mm", "±", f"5 {wrong_unit(item.unit)}"]
    if item.kind is Kind.WHOLE:
        refused += [f"{low + 0.5} {unit}".strip(), f"{low:g} ± 1 {unit}".strip(), f"{low:g} to {high:g} {unit}".strip()]
    if item.kind is Kind.WHOLE_LIST:
        refused += [f"{low + 0.5},{high}", f"{low:g},,x", ",", ",".join(["20"] * 61)]
    if item.kind is Kind.QUANTITY_LIST:
        refused += [f"{low:g},,x", ",", ",".join([f"{high:g}"] * 61)]
    if item.kind is Kind.QUANTITY:
        refused += [f"{low:g} to {high:g} {unit}".strip(), f"{low:g} ± {high * 3 + 1:g} {unit}".strip()]
        if unit not in ("", "teeth", "links"):
            refused += [f"{(low + high) / 2:g}"]
    return refused
