"""Print cards on all cores: processes that share one warmed printing library, with the answers in their own order."""

from __future__ import annotations

import gc
import multiprocessing
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from multiprocessing.context import BaseContext
from pathlib import Path
from typing import TypeVar

from builder.build.alone import lock_of
from builder.build.cluster import ToPrint, cluster, print_with
from builder.build.collector import collect_all_now_and_then
from builder.build.order import CanNotPrint, Order, Progress
from builder.build.printer import Printer
from builder.build.processes import can_fork, settle_in, undisturbed
from builder.build.store import kept_blocks
from builder.pages.theme import Layer, load_theme
from builder.printing.pdf import Batch, Printed

# Fewer cards are printed here sooner than processes are started.
_WORTH_PROCESSES = 4
_PRINTING = "Printing the cards"

Key = TypeVar("Key")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class _Work:
    """What there is to do: blocks to lay out, by number, and then cards to print, by key."""

    batches: tuple[Batch, ...]
    cards: Mapping[str, ToPrint]


# What a process finds ready; it is set before the work begins and not changed.
# The work is not sent piece by piece, since a queue whose reader dies in the middle of a long item never ends.
_ready: list[tuple[Printer, _Work]] = []


def print_all(
    cards: Mapping[str, ToPrint], order: Order, printer: Printer, progress: Progress
) -> Iterator[tuple[str, Printed]]:
    """The PDF of each card, by key, as each is done; what their blocks have in common is laid out once, beforehand.

    Args:
        cards: what each card is printed from, by key.
        order: says how many processes to use at most.
        printer: what prints; processes get it by being forked, or make their own like it.
        progress: told when the processes run, before the first card is done, and of every card.
    """
    if order.on:
        with cluster(order.on) as executor:
            progress.begin(_PRINTING, len(cards))
            for key, printed in print_with(executor, cards, printer):
                yield key, printed
                progress.advance()
        return
    processes = min(order.processes, len(cards))
    if processes < 2 or len(cards) < _WORTH_PROCESSES:
        progress.begin(_PRINTING, len(cards))
        for key, card in cards.items():
            collect_all_now_and_then()
            yield key, printer.pdf(card.html, card.texts)
            progress.advance()
        return
    work = _Work(printer.due(card.html for card in cards.values()), cards)
    with _pool(work, order, printer, processes) as pool:
        progress.begin("Laying out what cards show", len(work.batches))
        for _ in _done(pool, _lay_out_here, range(len(work.batches))):
            progress.advance()
        progress.begin(_PRINTING, len(cards))
        # The longest card first, so that no process is left alone with it at the end.
        for key, printed in _done(pool, _print_here, sorted(cards, key=lambda key: (-len(cards[key].html), key))):
            yield key, printed
            progress.advance()


def _done(pool: Executor, work: Callable[[Key], Result], keys: Iterable[Key]) -> Iterator[tuple[Key, Result]]:
    """What the work comes to for each key, as it is done.

    Raises:
        CanNotPrint: the system ended a process.
    """
    with undisturbed():
        waiting = {pool.submit(work, key): key for key in keys}
    for future in as_completed(waiting):
        try:
            result = future.result()
        except BrokenProcessPool:
            raise CanNotPrint(
                "a process that prints was ended by the system, likely for want of memory; try --processes 1"
            ) from None
        yield waiting[future], result


@contextmanager
def _pool(work: _Work, order: Order, printer: Printer, processes: int) -> Iterator[ProcessPoolExecutor]:
    """Processes that print. Forked ones find the printer of this process ready; others make one like it."""
    context: BaseContext
    if can_fork():
        printer.warm()
        _ready.append((printer, work))
        gc.freeze()
        context, make = multiprocessing.get_context("fork"), partial(_settle_in, lock_of(order.out))
    else:
        context = multiprocessing.get_context("spawn")
        make = partial(_make_ready, work, order.folders, printer.theme.layers, printer.photos)
    pool = ProcessPoolExecutor(processes, mp_context=context, initializer=make)
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)
        _ready.clear()
        gc.unfreeze()


def _make_ready(work: _Work, folders: tuple[Path, ...], layers: tuple[Layer, ...], photos: Mapping[str, bytes]) -> None:
    _ready.append((Printer(folders, load_theme(*layers), photos, kept_blocks()), work))
    _settle_in()


def _settle_in(lock: Path | None = None) -> None:
    gc.disable()
    settle_in(lock)


def _lay_out_here(number: int) -> None:
    collect_all_now_and_then()
    printer, work = _ready[0]
    printer.lay_out(work.batches[number])


def _print_here(key: str) -> Printed:
    collect_all_now_and_then()
    printer, work = _ready[0]
    return printer.pdf(work.cards[key].html, work.cards[key].texts)
