"""`spannerleaf prove`: show that guides cannot go wrong, over every configuration that a bike and a plan can have."""

from __future__ import annotations

import json
from pathlib import Path

import click

from builder.build.remembering import load_remembered
from builder.cli.common import (
    Status,
    chosen_workspace,
    counted,
    finish,
    has_errors,
    json_option,
    show,
    workspace_option,
)
from builder.diagnostics.diagnostic import nearest
from builder.diagnostics.rendering import as_object
from builder.proof.proving import Proof, caution_waivers, prove


@click.command("prove")
@click.argument("guides", nargs=-1, metavar="[GUIDE]...")
@workspace_option
@json_option
def command(guides: tuple[str, ...], workspace: Path | None, as_json: bool) -> None:
    """Walk guides through every configuration and show the shortest path that goes wrong.

    \b
    Examples:
      spannerleaf prove
      spannerleaf prove wider-range-cassette --json
    """
    loaded = load_remembered(chosen_workspace(workspace))
    library = loaded.library
    for name in guides:
        if name not in library.guides:
            near = nearest(name, library.guides)
            raise click.UsageError(f"unknown guide '{name}'" + (f"; did you mean '{near}'?" if near else ""))
    chosen = [library.guides[name] for name in guides] if guides else list(library.guides.values())
    proofs = [prove(guide, library) for guide in chosen]
    found = tuple(diagnostic for proof in proofs for diagnostic in proof.diagnostics)
    if as_json:
        click.echo(json.dumps([_as_data(proof) for proof in proofs], ensure_ascii=False, indent=2))
    else:
        show(found, loaded.texts)
        for proof in proofs:
            click.echo(_line(proof))
        waivers = caution_waivers(chosen, library)
        if waivers:
            click.echo("Cautions left out on purpose:")
            for anchor, waiver in waivers:
                click.echo(f"  {anchor}: {waiver.rule.removeprefix('caution:')} - {waiver.reason}")
    finish(Status.FINDINGS if has_errors(found) else Status.DONE)


def _line(proof: Proof) -> str:
    verdict = "proven" if not proof.diagnostics else counted(len(proof.diagnostics), "finding")
    return (
        f"{proof.guide}: {counted(proof.steps, 'step')}, {counted(proof.configurations, 'configuration')}, "
        f"{counted(proof.paths, 'distinct path')}: {verdict}"
    )


def _as_data(proof: Proof) -> dict[str, object]:
    return {
        "guide": proof.guide,
        "steps": proof.steps,
        "configurations": proof.configurations,
        "paths": proof.paths,
        "findings": [as_object(found) for found in proof.diagnostics],
    }
