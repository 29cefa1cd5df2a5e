"""Build the site and the cards: read, work out, write pages, print what changed, and put the new state in place.

sources ─► library ─► gate ─► jobs ─► outcomes ─► pages and cards as HTML ─► PDFs (from the store, or printed) ─► output
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from builder.build import fingerprint
from builder.build.alone import refuse_place
from builder.build.order import BuildReport, Built, Order, Progress
from builder.build.output import refuse_unusable, settled
from builder.build.state import remember, remembered
from builder.model.memory import Memory

INDEX = "site/index.html"


def build(order: Order, progress: Progress, memory: Memory | None = None) -> Built:
    """Build what is ordered, where the gate finds nothing wrong with the sources.

    Args:
        order: what to build.
        progress: is told how far it is.
        memory: what this process made in builds before.

    Raises:
        Unknown: a guide or bike is named that is not there.
        OutputRefused: the output folder can't be used, or holds sources.
        OSError: the disk is full, or something like it; the output is as it was.
        ThemeError: the theme lacks something.
        CanNotPrint: this machine can't print cards.
    """
    refuse_place(order.out, (*order.folders, *_shipped()))
    settled(order.out)
    made_from = _made_from(order)
    before = remembered(order.out, made_from)
    if before is not None:
        lists = {name: tuple(value) for name, value in before.items() if isinstance(value, list)}
        return Built(told=BuildReport(**{**before, **lists}), unchanged=True)
    refuse_unusable(order.out)
    # What takes time to import is imported only where something is to be built.
    from builder.build.collector import collector_at_rest
    from builder.build.making import make
    from builder.build.snapshot import keep, recalled

    with collector_at_rest():
        remembering = recalled(order) if memory is None else memory
        built, paths = make(order, progress, remembering)
        if memory is None and built.told is not None:
            keep(order, remembering)
    # A build that left something out is not the last word: the next one tries again, and tells it again.
    if built.told is not None and not built.set_aside:
        remember(order.out, made_from, paths, asdict(built.told))
    return built


def _made_from(order: Order) -> str:
    """The fingerprint of everything that the output comes from."""
    wishes = (
        order.workspace is None,
        order.guides,
        order.bikes,
        order.forms,
        order.papers,
        order.shape,
        order.sheet,
        order.rounded,
        order.every,
        order.printing,
    )
    return fingerprint.digest(
        repr(wishes),
        fingerprint.of_program(),
        fingerprint.of_system_fonts(),
        fingerprint.of_folders(_shipped()),
        *(fingerprint.of_sources(folder, order.out) for folder in order.folders),
    )


def _shipped() -> tuple[Path, ...]:
    """The folders of what comes with the program: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).parent.parent
    return package / "_library", package.parent / "guides", package.parent / "themes"
