"""Cards printed on other machines: each is a unit of work by itself, named by its key, that any executor may do.

A worker makes the key of a card anew from what it finds on its own machine, and prints only where the two agree; so a
card comes out the same wherever it was printed, or is refused with the reason.
"""

from __future__ import annotations

import pickle
from collections.abc import Iterator, Mapping
from concurrent.futures import Executor, Future, as_completed
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Protocol

from builder.build.order import CanNotPrint
from builder.build.printer import Printer
from builder.build.store import kept_blocks
from builder.pages.theme import Layer, load_theme
from builder.printing.legibility import CardTexts
from builder.printing.pdf import Printed

# How often a card is tried again on another worker when the one that had it is gone.
_AGAIN = 3


class ToPrint(Protocol):
    """What a card is printed from, and what it must show; the rules of print are not asked where that is None."""

    @property
    def html(self) -> str:
        """The card as one HTML document."""

    @property
    def texts(self) -> CardTexts | None:
        """What it must show."""


class Otherwise(Exception):
    """The machine of a worker would print the card otherwise than this one."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What all cards are printed with: the workspace's folders, the layers of its theme, its photographs."""

    folders: tuple[Path, ...]
    layers: tuple[Layer, ...]
    photos: Mapping[str, bytes]


def setting_of(printer: Printer) -> bytes:
    """The setting of a printer, packed."""
    return pickle.dumps(Setting(printer.folders, printer.theme.layers, dict(printer.photos)))


def print_unit(key: str, html: str, texts: CardTexts | None, setting: bytes) -> Printed:
    """Print one card, a function of what it is given and of what its key names; `setting` is a `Setting`, packed.

    Raises:
        Otherwise: the program, the theme, the faces or the images here are not those of the key.
    """
    printer = _printer(setting)
    if printer.key(html, texts) != key:
        raise Otherwise("its program, theme, images or faces are others")
    return printer.pdf(html, texts)


@cache
def _printer(packed: bytes) -> Printer:
    """The printer of a worker, made at its first card and kept."""
    # The worker runs what its cluster sends it in any case.
    setting: Setting = pickle.loads(packed)
    return Printer(setting.folders, load_theme(*setting.layers), setting.photos, kept_blocks())


def print_with(executor: Executor, cards: Mapping[str, ToPrint], printer: Printer) -> Iterator[tuple[str, Printed]]:
    """The PDF of each card by key, as each is done, whoever does it as `printer` would.

    Raises:
        CanNotPrint: a worker would print otherwise than this machine.
    """
    setting = setting_of(printer)
    # The longest card first, so that no worker is left alone with it at the end.
    keys = sorted(cards, key=lambda key: (-len(cards[key].html), key))
    waiting: dict[Future[Printed], str] = {
        executor.submit(print_unit, key, cards[key].html, cards[key].texts, setting): key for key in keys
    }
    for future in as_completed(waiting):
        try:
            printed = future.result()
        except Otherwise as refusal:
            raise CanNotPrint(f"a worker can't print for this machine: {refusal}; install the same there") from None
        yield waiting[future], printed


@contextmanager
def cluster(address: str) -> Iterator[Executor]:
    """The executor of a running dask.distributed cluster.

    Raises:
        CanNotPrint: the package that talks to it is not installed, or nobody answers at the address.
    """
    try:
        from distributed import Client
    except ImportError:
        raise CanNotPrint("--on needs one more package: pip install 'spannerleaf[distributed]'") from None
    try:
        client = Client(address, set_as_default=False)
    except (OSError, ValueError) as error:
        raise CanNotPrint(f"no cluster answers at {address}: {error}") from None
    with client, client.get_executor(retries=_AGAIN) as executor:
        yield executor
