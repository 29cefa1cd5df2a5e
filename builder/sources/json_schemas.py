"""JSON Schemas of every kind of source file, made from the models that read them, so that an editor completes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any

from pydantic import TypeAdapter, WithJsonSchema

from builder.sources.descriptions import CONDITION, IDS, NAME, condition_schema
from builder.sources.layout import BIKE, CATALOGUE, GUIDE, PARTS, PROCEDURE, THEME, WORKSHOP, Contents, Form
from builder.sources.schema import model_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_files() -> Iterator[tuple[str, str, Contents]]:
    """The name of each schema, the pattern of the files in a workspace that it is for, and what they hold."""
    yield "guide", "*.yaml", GUIDE
    yield "procedure", "procedures/*.yaml", PROCEDURE
    yield "bike", "bikes/*.yaml", BIKE
    for kind, contents in PARTS.items():
        yield f"part-{kind}", f"parts/{kind}/*.yaml", contents
    for name, contents in CATALOGUE.items():
        yield f"catalogue-{name}", f"catalogue/{name}.yaml", contents
    yield "workshop", "workshop.yaml", WORKSHOP
    yield "theme", "theme/theme.yaml", THEME


def json_schema(name: str, files: str, contents: Contents) -> Mapping[str, Any]:
    """The JSON Schema (2020-12) of a kind of file."""
    model: Any = model_of(contents.kind)
    whole: Any
    match contents.form:
        case Form.KEYED:
            ids = IDS if contents.collection == "named_texts" else NAME
            whole = dict[Annotated[str, WithJsonSchema(ids)], model]
        case Form.LISTED:
            whole = list[model]
        case Form.ONE | Form.LONE:
            whole = model
    schema = _tidied(TypeAdapter(whole).json_schema(by_alias=True))
    definitions = {**schema.pop("$defs", {}), "Condition": condition_schema()}
    return {"$schema": DIALECT, "title": f"Spannerleaf: {name} ({files})", **schema, "$defs": definitions}


def _tidied(schema: Any) -> Any:
    """The schema without the titles that pydantic makes up and without `null` as a default, with conditions put in."""
    if isinstance(schema, list):
        return [_tidied(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    if CONDITION.items() <= schema.items():
        rest = {key: value for key, value in schema.items() if key == "description"}
        return {"$ref": "#/$defs/Condition", **rest}
    closed = {"additionalProperties": False} if "patternProperties" in schema else {}
    tidied = {
        key: {name: _tidied(value) for name, value in inner.items()}
        if key in ("properties", "$defs")
        else _tidied(inner)
        for key, inner in schema.items()
        if not (key == "title" and isinstance(inner, str)) and not (key == "default" and inner is None)
    }
    return {**tidied, **closed}
