"""`spannerleaf schema`: write JSON Schemas, so that an editor completes and checks source files while one types."""

from __future__ import annotations

import json
from pathlib import Path

import click

from builder.cli.common import counted, misused


@click.command("schema")
@click.option(
    "--out",
    metavar="DIR",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("schemas"),
    show_default=True,
    help="The folder to write them to.",
)
def command(out: Path) -> None:
    """Write a JSON Schema for each kind of source file.

    An editor that knows JSON Schema then completes keys, shows what each is for, and marks what is wrong. Tell it
    which schema is for which files by the list that this command prints.

    \b
    Example:
      spannerleaf schema --out schemas
    """
    from builder.sources.json_schemas import json_schema, schema_files

    try:
        out.mkdir(parents=True, exist_ok=True)
        written = []
        for name, files, contents in schema_files():
            path = out / f"{name}.schema.json"
            text = json.dumps(json_schema(name, files, contents), ensure_ascii=False, indent=2)
            path.write_text(f"{text}\n", encoding="utf-8")
            written.append((path, files))
    except OSError as error:
        misused(f"'{error.filename}' can not be written: {error.strerror}")
    width = max(len(files) for _, files in written)
    for path, files in written:
        click.echo(f"{files:<{width}}  {path}")
    click.echo(f"{counted(len(written), 'schema')} written to {out}")
