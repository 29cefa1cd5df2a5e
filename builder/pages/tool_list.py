"""Tool lists: all tools of the catalogue, or those that one bike's guides ask for; who has them and who lacks them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from builder.model.guide import Guide
from builder.model.library import Library
from builder.pages import amounts
from builder.pages.markup import inline
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import LaidGuide, ToolUse, Upkeep, tool_uses

# Whoever works has them.
_HANDS = "hand-lever"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolRow:
    """A tool: what it is for, the range of a torque wrench, who has it, and the guides that ask for it."""

    id: str
    name: str
    use: Markup
    range: str
    owned: bool
    home: bool
    guides: tuple[Guide | LaidGuide, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolList:
    """Rows by name."""

    rows: tuple[ToolRow, ...]

    @property
    def owned(self) -> int:
        """How many of them the workshop has."""
        return sum(row.owned for row in self.rows)

    @property
    def lacking(self) -> tuple[str, ...]:
        """Names of those that the workshop does not have."""
        return tuple(row.name for row in self.rows if not row.owned)


def tools_of_library(library: Library, guides: Iterable[Tailored]) -> ToolList:
    """Every tool of the catalogue, with those of `guides`, in their generic form, that ask for it."""
    used: dict[str, list[Guide | LaidGuide]] = {
        name: [] for name, tool in library.tools.items() if _HANDS not in tool.fits
    }
    for generic in guides:
        for item in generic.tools:
            if item.tool is not None and item.tool.id in used:
                used[item.tool.id].append(generic.guide)
    return _list(tool_uses(used, library))


def tools_of_bike(upkeep: Upkeep) -> ToolList:
    """Every tool that the guides which suit the bike ask for."""
    return _list(upkeep.tools)


def home_lacks(tailored: Tailored) -> tuple[str, ...]:
    """Names of the tools of a guide that a rider's own kit usually lacks."""
    return tuple(item.name for item in tailored.tools if item.tool is not None and not item.tool.home)


def _list(uses: Iterable[ToolUse]) -> ToolList:
    return ToolList(
        rows=tuple(
            ToolRow(
                id=use.tool.id,
                name=use.tool.name,
                use=inline(use.tool.use),
                range="" if use.tool.torque_nm is None else amounts.torque(use.tool.torque_nm),
                owned=use.owned,
                home=use.tool.home,
                guides=use.guides,
            )
            for use in uses
        )
    )
