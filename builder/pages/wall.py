"""Charts for the wall, on A4 or Letter: torques and tools of the workshop, and both of one bike in one document."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from markupsafe import Markup

from builder.model.bike import Bike
from builder.model.library import Library
from builder.pages.paper import Paper
from builder.pages.revision import UNKNOWN, revision_of_html
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.pages.tool_list import ToolList, tools_of_bike, tools_of_library
from builder.pages.torque_chart import TorqueChart, chart_by_thing, chart_of_bike, chart_of_library
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import Upkeep

# The paper that a code is taken from.
_CODED = Paper.A4


def torque_chart_html(
    library: Library, theme: Theme, paper: Paper, families: Mapping[str, str] | None = None, words: Words = EN
) -> str:
    """The torque chart of every fastener in the catalogue; `families` as `families_of` tells, where they are known."""
    return _coded(_torques(library, theme, paper, words, families))


def torque_wall_html(
    library: Library, theme: Theme, families: Mapping[str, str] | None = None, words: Words = EN
) -> str:
    """The torques of every fastener on one side of A2, by the thing that it is on, under the code of the chart."""
    return theme.templates.get_template("torque_wall.html").render(
        chart=chart_by_thing(library, words, families),
        code=torques_revision(library, theme, words, families),
        w=words,
        m=theme.marks,
        paper=Paper.A2.value,
        workshop=library.workshop.name,
        style=Markup(theme.large_css),
    )


def torques_revision(
    library: Library, theme: Theme, words: Words = EN, families: Mapping[str, str] | None = None
) -> str:
    """The code of the torque chart of the catalogue; one code names it in both orders."""
    return revision_of_html(_torques(library, theme, _CODED, words, families))


def tool_list_html(library: Library, generic: Iterable[Tailored], theme: Theme, paper: Paper, words: Words = EN) -> str:
    """The list of every tool: what the workshop has and lacks, and what a home kit holds."""
    return _coded(_tools(library, generic, theme, paper, words))


def tools_revision(library: Library, generic: Iterable[Tailored], theme: Theme, words: Words = EN) -> str:
    """The code of the tool list."""
    return revision_of_html(_tools(library, generic, theme, _CODED, words))


def upkeep_html(upkeep: Upkeep, library: Library, theme: Theme, paper: Paper, words: Words = EN) -> str:
    """The torques of the fasteners that one bike has, then the tools that its guides ask for."""
    return _coded(_upkeep(upkeep, library, theme, paper, words))


def upkeep_revision(upkeep: Upkeep, library: Library, theme: Theme, words: Words = EN) -> str:
    """The code of the torques and tools of one bike."""
    return revision_of_html(_upkeep(upkeep, library, theme, _CODED, words))


def _torques(
    library: Library, theme: Theme, paper: Paper, words: Words, families: Mapping[str, str] | None = None
) -> str:
    chart = chart_of_library(library, words, families)
    return _rendered(library, theme, paper, words, title=words.torque_chart, torques=chart)


def _tools(library: Library, generic: Iterable[Tailored], theme: Theme, paper: Paper, words: Words) -> str:
    tools = tools_of_library(library, generic)
    return _rendered(library, theme, paper, words, title=words.tools_workshop, tools=tools)


def _upkeep(upkeep: Upkeep, library: Library, theme: Theme, paper: Paper, words: Words) -> str:
    return _rendered(
        library,
        theme,
        paper,
        words,
        title=words.upkeep,
        bike=upkeep.bike,
        torques=chart_of_bike(upkeep, library, words),
        tools=tools_of_bike(upkeep),
        unsure=tuple(fastener.name for fastener in upkeep.unsure),
    )


def _coded(html: str) -> str:
    """A chart with its code, which is the same on every paper: the paper's name is nothing that a reader sees."""
    return html.replace(UNKNOWN, revision_of_html(html))


def _rendered(
    library: Library,
    theme: Theme,
    paper: Paper,
    words: Words,
    *,
    title: str,
    bike: Bike | None = None,
    torques: TorqueChart | None = None,
    tools: ToolList | None = None,
    unsure: tuple[str, ...] = (),
) -> str:
    return theme.templates.get_template("wall.html").render(
        title=title,
        bike=bike,
        torques=torques,
        tools=tools,
        unsure=unsure,
        code=UNKNOWN,
        w=words,
        m=theme.marks,
        paper=paper.value,
        workshop=library.workshop.name,
        style=Markup(theme.large_css),
    )
