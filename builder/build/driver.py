"""Build the site and the cards: read, work out, write pages, print what changed, and put the new state in place.

sources ─► library ─► jobs ─► outcomes ─► pages and cards as HTML ─► PDFs (from the store, or printed) ─► output
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from builder.build import fingerprint
from builder.build.order import Built, Examine, Order, Progress, Told
from builder.build.state import remember, remembered
from builder.diagnostics.diagnostic import Diagnostic

INDEX = "site/index.html"


def look_for_nothing(loaded: object, processes: int, progress: Progress) -> tuple[Diagnostic, ...]:
    """An examination that finds no mistake."""
    del loaded, processes, progress
    return ()


def build(order: Order, progress: Progress, examine: Examine = look_for_nothing) -> Built:
    """Build what is ordered.

    Args:
        order: what to build.
        progress: is told how far it is.
        examine: looks at all that was read for mistakes that reading does not show.

    Raises:
        Unknown: a guide or bike is named that is not there.
        OutputRefused: the output folder can't be used.
        ThemeError: the theme lacks something.
        CanNotPrint: this machine can't print cards.
    """
    made_from = _made_from(order)
    before = remembered(order.out, made_from)
    if before is not None:
        lists = {name: tuple(value) for name, value in before.items() if isinstance(value, list)}
        return Built(told=Told(**{**before, **lists}), unchanged=True)
    # What takes time to import is imported only where something is to be built.
    from builder.build.making import make

    built, paths = make(order, progress, examine)
    if built.told is not None:
        remember(order.out, made_from, paths, asdict(built.told))
    return built


def _made_from(order: Order) -> str:
    """The fingerprint of everything that the output comes from."""
    package = Path(__file__).parent.parent
    shipped = [package / "_library", package.parent / "guides", package.parent / "themes"]
    wishes = (
        order.workspace is None,
        order.guides,
        order.bikes,
        order.forms,
        order.papers,
        order.every,
        order.printing,
    )
    return fingerprint.digest(
        repr(wishes),
        fingerprint.of_program(),
        fingerprint.of_folders(shipped),
        *(fingerprint.of_sources(folder, order.out) for folder in order.folders),
    )
