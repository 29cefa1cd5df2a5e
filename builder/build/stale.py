"""Printed cards held against the guides as they are now."""

from __future__ import annotations

from pathlib import Path

from builder.build.examining import is_sound
from builder.diagnostics.diagnostic import Diagnostic
from builder.proof.since_print import stale_cards
from builder.sources.loaded import Loaded
from builder.tailoring import Tailored


def stale(loaded: Loaded, workspace: Path | None) -> tuple[Diagnostic, ...]:
    """A warning for each card of the register that is stale; nothing where the sources have mistakes."""
    library = loaded.library
    if not library.printed or not is_sound(loaded):
        return ()
    # Only where there is a register, since the theme must be read to work out a card's code.
    from builder.build.printer import Printer
    from builder.pages.card import card_revision

    theme = Printer(folders=() if workspace is None else (workspace,)).theme

    def code(tailored: Tailored) -> str:
        return card_revision(tailored, theme, workshop=library.workshop)

    return tuple(stale_cards(library, code))
