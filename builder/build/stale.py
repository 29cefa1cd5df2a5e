"""Printed cards held against the guides as they are now."""

from __future__ import annotations

from pathlib import Path

from builder.build.examining import is_sound
from builder.diagnostics.diagnostic import Diagnostic
from builder.proof.since_print import stale_cards
from builder.sources.loaded import Loaded


def stale(loaded: Loaded, workspace: Path | None) -> tuple[Diagnostic, ...]:
    """A warning for whatever in the register is stale; nothing where the sources have mistakes."""
    library = loaded.library
    if not library.printed or not is_sound(loaded):
        return ()
    # Only where there is a register, since the theme must be read to work out a card's code.
    from builder.build.printer import Printer
    from builder.pages.printed_today import today_in

    theme = Printer(folders=() if workspace is None else (workspace,)).theme
    return tuple(stale_cards(library, today_in(library, theme)))
