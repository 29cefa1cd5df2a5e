"""Cards printed by executors: of this process, and of a cluster of two workers; the bytes are those of this machine."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import pytest

from builder.build.cluster import Otherwise, cluster, print_unit, print_with, setting_of
from builder.build.order import CanNotPrint
from builder.build.printer import Printer
from builder.printing.legibility import CardTexts


@dataclass(frozen=True)
class Leaf:
    """A card of one line."""

    html: str
    texts: CardTexts | None = None


@pytest.fixture(scope="module")
def cards() -> dict[str, Leaf]:
    printer = Printer()
    leaves = [Leaf(f"<html lang='en'><title>{n}</title><body><p>Leaf {n}</p></body></html>") for n in range(12)]
    return {printer.key(leaf.html): leaf for leaf in leaves}


@pytest.fixture(scope="module")
def here(cards: dict[str, Leaf]) -> dict[str, bytes]:
    printer = Printer()
    return {key: printer.pdf(card.html).data for key, card in cards.items()}


def by(executor: Executor, cards: dict[str, Leaf]) -> dict[str, bytes]:
    return {key: printed.data for key, printed in print_with(executor, cards, Printer())}


def test_any_executor_prints_the_same_bytes(cards: dict[str, Leaf], here: dict[str, bytes]) -> None:
    with ThreadPoolExecutor(1) as executor:
        assert by(executor, cards) == here


def test_a_worker_that_would_print_otherwise_refuses(cards: dict[str, Leaf]) -> None:
    leaf = next(iter(cards.values()))
    with pytest.raises(Otherwise):
        print_unit("another key", leaf.html, None, setting_of(Printer()))
    with ThreadPoolExecutor(1) as executor, pytest.raises(CanNotPrint, match="install the same there"):
        by(executor, {"another key": leaf})


def test_what_is_lacking_for_a_cluster_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(CanNotPrint, match=r"pip install 'spannerleaf\[distributed\]'"), cluster("tcp://127.0.0.1:1"):
        pass


@pytest.fixture(scope="module")
def two_workers() -> Iterator[Any]:
    distributed = pytest.importorskip("distributed", reason="the extra 'distributed' is not installed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, worker_dashboard_address=None
    ) as local:
        yield local


def test_a_cluster_prints_the_same_bytes_though_a_worker_is_killed(
    two_workers: Any, cards: dict[str, Leaf], here: dict[str, bytes]
) -> None:
    with cluster(two_workers.scheduler_address) as executor:
        assert by(executor, cards) == here
        found: dict[str, bytes] = {}
        for key, printed in print_with(executor, cards, Printer()):
            found[key] = printed.data
            if len(found) == 1:
                os.kill(next(iter(two_workers.workers.values())).pid, signal.SIGKILL)
        assert found == here
