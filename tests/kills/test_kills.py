"""A build that is killed while it prints leaves a whole site, no process and no lock; so does one killed anywhere."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.kills.sweep import Shop, moments


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return Shop(tmp_path_factory.mktemp("kills"), Path(os.environ["XDG_CACHE_HOME"]))


def test_killed_while_it_prints_it_leaves_nobody_behind(shop: Shop) -> None:
    outcome = shop.killed("Printing the cards", 0.3, with_store=False)
    assert not outcome.too_late
    assert outcome.wrong == ()


def test_killed_at_a_random_moment_it_leaves_a_whole_site(shop: Shop) -> None:
    # One, and always the same; `python -m tests.kills` tries many.
    for word, after, with_store in moments(1, seed=7):
        assert shop.killed(word, after, with_store=with_store).wrong == ()
