"""JSON Schemas: valid by their own standard, true to the shipped files, and as strict as the reader."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, ClassVar

import jsonschema
import pytest
import yaml

from builder.model.units import QuantityError, Range, Unit, read_measure, read_range, read_value
from builder.sources.descriptions import schema_of
from builder.sources.json_schemas import json_schema, schema_files
from builder.sources.shapes import Quantity
from builder.sources.workspace import shipped_library
from tests.sources.broken_cases import SMALL

SCHEMAS = {name: (files, json_schema(name, files, contents)) for name, files, contents in schema_files()}


class CoreLoader(yaml.SafeLoader):
    """YAML 1.2's core types, as an editor takes them: true and false, whole and decimal numbers, all else text."""

    yaml_implicit_resolvers: ClassVar[dict[str, list[tuple[str, Any]]]] = {}


for tag, pattern, first in (
    ("bool", "(?:true|false)$", "tf"),
    ("int", "[-+]?[0-9]+$", "-+0123456789"),
    ("float", r"[-+]?[0-9]*\.[0-9]+$", "-+.0123456789"),
):
    CoreLoader.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(pattern), list(first))


def as_an_editor_reads(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), Loader=CoreLoader)


def files_with_schemas(folder: Path) -> list[tuple[Path, str]]:
    return [
        (path, name)
        for name, (files, _) in SCHEMAS.items()
        for path in sorted(folder.glob(files))
        if (path.name == "workshop.yaml") == (name == "workshop")
    ]


@pytest.mark.parametrize("name", SCHEMAS)
def test_each_is_a_valid_schema_of_2020_12(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[name][1])


@pytest.mark.parametrize("folder", [shipped_library(), SMALL], ids=["shipped", "small"])
def test_every_good_file_has_one_schema_and_keeps_to_it(folder: Path) -> None:
    pairs = files_with_schemas(folder)
    assert sorted(path for path, _ in pairs) == sorted(p for p in folder.rglob("*.yaml") if "images" not in p.parts)
    validators = {name: jsonschema.Draft202012Validator(SCHEMAS[name][1]) for _, name in pairs}
    for path, name in pairs:
        validators[name].validate(as_an_editor_reads(path))


WRONG = [
    ("bike", {"name": "Coot", "mesured": {}}),
    ("bike", {"name": "Coot", "parts": {"frame": {"chainstay": "425"}}}),
    ("bike", {"name": "Coot", "parts": {"frame": {"chainstay": 425}}}),
    ("bike", {"name": "Coot", "parts": {"rear-hub": {"axle": "nuted"}}}),
    ("bike", {"name": "Coot", "parts": {"chain": {"links": 1160}}}),
    ("bike", {"tag": "S-1"}),
    ("guide", {"title": "x"}),
    ("procedure", {"title": "x", "steps": [{"id": "a"}]}),
    ("procedure", {"title": "x", "steps": [{"use": "a", "do": "x"}]}),
    ("procedure", {"title": "x", "steps": [{"use": "a", "when": {"all": "x"}}]}),
    ("procedure", {"title": "x", "steps": [{"use": "a", "when": {}}]}),
    ("catalogue-tools", {"Chain Whip": {"name": "x"}}),
    ("catalogue-tools", {"chain-whip": {"name": "x", "home": "yes"}}),
    ("catalogue-exclusions", {"never": {}}),
    ("part-chain", {"chain-a": {"name": "x", "speeds": 11}}),
    ("workshop", {"name": ""}),
]


@pytest.mark.parametrize(("name", "value"), WRONG, ids=str)
def test_a_mistake_is_refused(name: str, value: object) -> None:
    validator = jsonschema.Draft202012Validator(SCHEMAS[name][1])
    assert list(validator.iter_errors(value))


TEXTS = (
    *("425 mm", "425 ± 2 mm", "35–45 N·m", "35 to 45 N·m", "35-45 Nm", "1.5 in", "1,5 cm", "425", "mm", "4 5 mm"),
    *("16.7 in", "5 N·m", "20 psi", "3–5 bar", "8 %", "-1 mm", "1 mm 2", "10 mm – 12 mm", "1e3 mm", "x mm", "73°"),
)
READERS = {float: read_value, Range: read_range}


@pytest.mark.parametrize("unit", [Unit.MILLIMETRE, Unit.NEWTON_METRE, Unit.BAR, Unit.PERCENT, Unit.DEGREE], ids=str)
@pytest.mark.parametrize("text", TEXTS)
def test_the_pattern_of_a_quantity_takes_what_the_reader_takes(text: str, unit: Unit) -> None:
    """A number with an exponent is the one thing that is read and not completed: nobody writes one in a workshop."""
    for kind, read in (*READERS.items(), (type(read_measure("1 mm", Unit.MILLIMETRE)), read_measure)):
        schema = schema_of(Quantity(kind, unit, 0, 1000))
        taken = jsonschema.Draft202012Validator(schema).is_valid(text)
        try:
            read(text, unit)
        except QuantityError:
            assert not taken
        else:
            assert taken or "e" in text


def test_what_an_editor_shows_comes_from_the_docstrings() -> None:
    _, schema = SCHEMAS["part-chain"]
    chain = schema["$defs"]["Chain"]
    assert chain["description"].startswith("A chain, or the belt in its place. `links` is its length in pitches")
    assert "its length in pitches" in chain["properties"]["links"]["description"]
    assert chain["properties"]["joiner"]["enum"] == [
        "reusable-link",
        "single-use-link",
        "joining-pin",
        "spring-clip",
    ]
