"""What holds for every check that is registered, whatever its family."""

import string

import pytest
from latex2mathml.converter import convert

from builder.checks.reckoning import reckon_texts, result_as_json
from builder.checks.registry import CHECKS, UnknownCheck, find_check
from builder.checks.result import Kind, Provenance, Verdict

EVERY = pytest.mark.parametrize("check", CHECKS.values(), ids=lambda check: check.name)
# Name -> inputs that have no default, then those that have one or may be left out; they are fixed for users' scripts.
FIXED = {
    "sprocket-diameter": (["teeth"], []),
    "chain-length": (["chainstay", "ring", "sprocket"], ["growth", "joiner"]),
    "derailleur-capacity": (["rings", "sprockets"], ["rated"]),
    "chain-wear": (["length", "links"], ["speeds"]),
    "gear": (["ring", "sprocket"], ["circumference", "crank", "cadence"]),
    "wheel-circumference": (["rim", "tyre"], []),
    "hill-power": (["mass", "gradient", "speed"], ["wind", "cda", "crr", "density", "efficiency"]),
    "hill-cadence": (
        ["power", "mass", "gradient", "ring", "sprocket", "circumference"],
        ["wind", "cda", "crr", "density", "efficiency"],
    ),
    "bolt-preload": (["thread", "class", "torque"], ["friction"]),
    "adaptor-setting": (["torque", "wrench", "adaptor"], ["angle"]),
    "lever-force": (["torque", "lever"], []),
    "spoke-length": (["rim-diameter", "flange-diameter", "flange-offset", "spokes", "crossings"], ["hole"]),
    "indexing": (["pull", "ratio", "pitch", "sprockets"], []),
    "letter-height": (["distance"], ["angle"]),
    "contrast": (["foreground", "background"], []),
}
FIXED_VALUES = {
    "chain-length": {"exact", "approximation", "trade-rule"},
    "gear": {"development", "gear-inches", "gain-ratio", "speed"},
    "hill-cadence": {"speed"},
    "hill-power": {"aerodynamic", "rolling", "bearing", "gravity", "drivetrain"},
    "bolt-preload": {"share-of-proof", "assembly-preload", "assembly-torque"},
    "indexing": {"per-shift"},
}
FIXED_UNITS = {
    "sprocket-diameter": "mm",
    "chain-length": "links",
    "derailleur-capacity": "teeth",
    "chain-wear": "%",
    "gear": "",
    "wheel-circumference": "mm",
    "hill-power": "W",
    "hill-cadence": "rev/min",
    "bolt-preload": "kN",
    "adaptor-setting": "N·m",
    "lever-force": "N",
    "spoke-length": "mm",
    "indexing": "mm",
    "letter-height": "mm",
    "contrast": "",
}
KEYS = {"check", "verdict", "value", "unit", "limit", "margin", "working", "advice", "source", "values"}


@EVERY
def test_every_check_explains_itself(check):
    assert check.title
    assert len(check.purpose) > 40
    assert check.formula
    assert check.source.title
    assert check.at_verdict
    assert all(check.at_verdict.values())


@EVERY
def test_every_name_is_in_kebab_case(check):
    allowed = set(string.ascii_lowercase + string.digits + "-")
    for name in (check.name, *(item.name for item in check.inputs)):
        assert set(name) <= allowed
    names = [item.name for item in check.inputs]
    assert len(names) == len(set(names))


@EVERY
def test_every_formula_can_be_set(check):
    assert "<math" in convert(check.formula)


@EVERY
def test_every_example_runs_and_shows_its_working(check):
    result = reckon_texts(check, check.example)
    assert result.check == check.name
    assert result.working
    assert all(line == line.strip() and "\n" not in line for line in result.working)
    assert result.source
    assert result.advice
    assert result.verdict in check.at_verdict
    assert set(result_as_json(result)) == KEYS


@EVERY
def test_every_source_without_publication_says_so(check):
    if check.source.provenance is Provenance.COMMON_PRACTICE:
        assert "common practice" in reckon_texts(check, check.example).source


@EVERY
def test_every_input_says_what_it_is_and_where_it_ends(check):
    for item in check.inputs:
        assert item.words
        if item.kind in (Kind.QUANTITY, Kind.WHOLE, Kind.WHOLE_LIST, Kind.QUANTITY_LIST):
            assert item.low is not None
            assert item.high is not None
            assert item.low < item.high
        if item.kind is Kind.CHOICE:
            assert len(item.choices) > 1


@pytest.mark.parametrize("name", FIXED)
def test_the_fixed_names_are_there(name):
    check = CHECKS[name]
    needed, free = FIXED[name]
    assert [item.name for item in check.inputs if item.default is None and not item.optional] == needed
    assert set(free) <= {item.name for item in check.inputs if item.default is not None or item.optional}
    result = reckon_texts(check, check.example)
    assert result.unit.value == FIXED_UNITS[name]
    assert FIXED_VALUES.get(name, set()) <= {item.name for item in result.values}


@EVERY
def test_fits_never_stands_beyond_its_limit(check):
    result = reckon_texts(check, check.example)
    if result.margin is not None:
        assert result.verdict is not Verdict.FITS or result.margin >= -1e-9
        assert result.verdict is not Verdict.DOES_NOT_FIT or result.margin <= 1e-9


def test_a_name_is_found():
    assert find_check("chain-length").name == "chain-length"


def test_an_unknown_name_is_answered_with_the_nearest_one():
    with pytest.raises(UnknownCheck, match="did you mean 'chain-length'"):
        find_check("chain-lenght")


def test_a_name_that_is_like_none_points_to_the_list():
    with pytest.raises(UnknownCheck, match="--list"):
        find_check("xyzzy")
