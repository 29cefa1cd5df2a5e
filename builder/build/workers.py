"""Print cards on all cores: processes that share one warmed printing library, with the answers in their own order."""

from __future__ import annotations

import gc
import multiprocessing
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from functools import partial
from multiprocessing.context import BaseContext
from pathlib import Path

from builder.build.alone import lock_of
from builder.build.cluster import ToPrint, cluster, print_with
from builder.build.collector import collect_now_and_then
from builder.build.order import CanNotPrint, Order
from builder.build.printer import Printer
from builder.build.processes import can_fork, settle_in, undisturbed
from builder.printing.pdf import Printed

# Below this it is quicker to print here than to start processes.
_WORTH_PROCESSES = 2


# What a process finds ready, the printer and the cards by key; it is set before the work begins and not changed.
# The cards are not sent one by one, since a queue whose reader dies in the middle of a long item never ends.
_ready: list[tuple[Printer, Mapping[str, ToPrint]]] = []


def print_all(
    cards: Mapping[str, ToPrint], order: Order, printer: Printer, started: Callable[[], None]
) -> Iterator[tuple[str, Printed]]:
    """The PDF of each card, by key, as each is done.

    Args:
        cards: what each card is printed from, by key.
        order: says how many processes to use at most.
        printer: what prints; processes get it by being forked, or make their own like it.
        started: called when the processes run, before the first card is done.
    """
    if order.on:
        with cluster(order.on) as executor:
            started()
            yield from print_with(executor, cards, order.folders)
        return
    processes = min(order.processes, len(cards))
    if processes < _WORTH_PROCESSES:
        started()
        for key, card in cards.items():
            collect_now_and_then()
            yield key, printer.pdf(card.html, card.texts)
        return
    with _pool(cards, order, printer, processes) as pool:
        # The longest card first, so that no process is left alone with it at the end.
        keys = sorted(cards, key=lambda key: (-len(cards[key].html), key))
        with undisturbed():
            waiting: dict[Future[Printed], str] = {pool.submit(_print_here, key): key for key in keys}
        started()
        for future in as_completed(waiting):
            try:
                printed = future.result()
            except BrokenProcessPool:
                raise CanNotPrint(
                    "a process that prints was ended by the system, likely for want of memory; try --processes 1"
                ) from None
            yield waiting[future], printed


@contextmanager
def _pool(
    cards: Mapping[str, ToPrint], order: Order, printer: Printer, processes: int
) -> Iterator[ProcessPoolExecutor]:
    """Processes that print. Forked ones find the printer of this process ready; others make one like it."""
    context: BaseContext
    if can_fork():
        printer.warm()
        _ready.append((printer, cards))
        gc.freeze()
        context, make = multiprocessing.get_context("fork"), partial(_settle_in, lock_of(order.out))
    else:
        context = multiprocessing.get_context("spawn")
        make = partial(_make_ready, cards, order.folders, printer.theme.folder)
    pool = ProcessPoolExecutor(processes, mp_context=context, initializer=make)
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)
        _ready.clear()
        gc.unfreeze()


def _make_ready(cards: Mapping[str, ToPrint], folders: tuple[Path, ...], theme: Path) -> None:
    _ready.append((Printer(folders, theme), cards))
    _settle_in()


def _settle_in(lock: Path | None = None) -> None:
    gc.disable()
    settle_in(lock)


def _print_here(key: str) -> Printed:
    collect_now_and_then()
    printer, cards = _ready[0]
    return printer.pdf(cards[key].html, cards[key].texts)
