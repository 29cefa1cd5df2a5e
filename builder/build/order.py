"""What is ordered of a build, what is told of it, and who wants to know how far it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.form import Form
from builder.pages.leaf import Holes, Shape
from builder.pages.paper import Paper

if TYPE_CHECKING:  # a build that has nothing to do reads no sources
    pass


class Progress(Protocol):
    """Who wants to know how far a build is."""

    def begin(self, words: str, total: int) -> None:
        """A stretch of work begins that has `total` parts."""

    def advance(self) -> None:
        """A part of it is done."""


class Quiet:
    """A build whose progress nobody follows."""

    def begin(self, words: str, total: int) -> None:
        """Nobody is told."""

    def advance(self) -> None:
        """Nobody is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What to build, and from what.

    Args:
        workspace: the folder laid over the library; None for the library alone.
        out: the folder that the output goes to.
        guides, bikes: only these, by id; all where none is named.
        forms: what the cards are for; a form that a paper can't hold is left out on that paper.
        papers: what the cards are printed on.
        holes: the edge of the cards that is kept free for them.
        one_sided: the cards are printed on one face of each leaf.
        sheet: the paper that the cards of each bike are also put on, to be cut; None where they are not.
        rounded: on such sheets, where corners are cut round is marked.
        every: each guide for each bike that it suits.
        processes: how many processes may print at one time.
        printing: whether the cards are printed; without it pages link to cards that somebody else serves.
        keep_going: a guide or a bike with a mistake is left out, its old output stays, and all others are built.
        on: the address of a cluster that prints; '' for this machine.
    """

    workspace: Path | None = None
    out: Path = Path("output")
    guides: tuple[str, ...] = ()
    bikes: tuple[str, ...] = ()
    forms: tuple[Form, ...] = (Form.STEPS,)
    papers: tuple[Paper, ...] = (Paper.A5,)
    holes: Holes | None = None
    one_sided: bool = False
    sheet: Paper | None = None
    rounded: bool = False
    every: bool = False
    processes: int = 1
    printing: bool = True
    keep_going: bool = False
    on: str = ""

    @property
    def shape(self) -> Shape:
        """How the cards are wanted on their paper."""
        return Shape(holes=self.holes, one_sided=self.one_sided)

    @property
    def folders(self) -> tuple[Path, ...]:
        """The folders of sources beside the library."""
        return () if self.workspace is None else (self.workspace,)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A guide, a bike, or a guide on a bike that was left out of a build for its mistakes."""

    guide: str = ""
    bike: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()

    def __str__(self) -> str:
        return " on ".join(f"'{name}'" for name in (self.guide, self.bike) if name)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildReport:
    """What is said of a whole build: its numbers, and what could not be made or does not look right.

    `sheets` are PDFs with the service sheets of the fleet, `charts` those with torques and tools for the wall.
    `print_findings` are lesser breaches of rules of print, a line each; grave ones stop the build. `waivers` are the
    rules and cautions that authors set aside, with their reasons. `kept` are the files in the output that no build
    made. `notes` say what the site goes without.
    """

    pages: int
    cards: int
    bikes: int
    sheets: int = 0
    charts: int = 0
    refused: tuple[str, ...] = ()
    troubled: tuple[str, ...] = ()
    overflows: tuple[str, ...] = ()
    print_findings: tuple[str, ...] = ()
    waivers: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """How a build ended. With error diagnostics nothing was written and `told` is None.

    `printed` is how many cards were printed and not taken from the store; `unchanged` says that nothing was to be done.
    `set_aside` is what was left out for its mistakes, and `stale` every file of it that stays from an earlier build.
    """

    told: BuildReport | None
    printed: int = 0
    unchanged: bool = False
    set_aside: tuple[SetAside, ...] = ()
    stale: tuple[str, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)


class CanNotPrint(Exception):
    """This machine can't print cards; the message is one line that says what to do."""


class Unknown(ValueError):
    """A guide or a bike was named that is not there: what kind, its name, and the known ones."""

    def __init__(self, what: str, name: str, known: Iterable[str]) -> None:
        super().__init__(f"unknown {what} '{name}'")
        self.what, self.name, self.known = what, name, tuple(known)
