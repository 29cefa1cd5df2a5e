"""Charts for the wall, on A4 or Letter: torques and tools of the workshop, and both of one bike in one document."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from builder.model.bike import Bike
from builder.model.library import Library
from builder.pages.paper import Paper
from builder.pages.revision import revision_of
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.pages.tool_list import ToolList, tools_of_bike, tools_of_library
from builder.pages.torque_chart import TorqueChart, chart_by_thing, chart_of_bike, chart_of_library
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import Upkeep


def torque_chart_html(library: Library, theme: Theme, paper: Paper, words: Words = EN) -> str:
    """The torque chart of every fastener in the catalogue."""
    chart = chart_of_library(library, words)
    return _html(library, theme, paper, words, title=words.torque_chart, torques=chart, code=chart.revision)


def torque_wall_html(library: Library, theme: Theme, words: Words = EN) -> str:
    """The torques of every fastener on one side of A2, by the thing that it is on."""
    return theme.templates.get_template("torque_wall.html").render(
        chart=chart_by_thing(library, words),
        w=words,
        m=theme.marks,
        paper=Paper.A2.value,
        workshop=library.workshop.name,
        style=Markup(theme.large_css),
    )


def tool_list_html(library: Library, generic: Iterable[Tailored], theme: Theme, paper: Paper, words: Words = EN) -> str:
    """The list of every tool: what the workshop has and lacks, and what a home kit holds."""
    tools = tools_of_library(library, generic)
    return _html(library, theme, paper, words, title=words.tools_workshop, tools=tools, code=tools_revision(tools))


def tools_revision(tools: ToolList) -> str:
    """The code of a tool list."""
    return revision_of(repr(tools))


def upkeep_revision(chart: TorqueChart, tools: ToolList) -> str:
    """The code of the torques and tools of one bike."""
    return revision_of(chart.revision + repr(tools))


def upkeep_html(upkeep: Upkeep, library: Library, theme: Theme, paper: Paper, words: Words = EN) -> str:
    """The torques of the fasteners that one bike has, then the tools that its guides ask for."""
    chart, tools = chart_of_bike(upkeep, library, words), tools_of_bike(upkeep)
    return _html(
        library,
        theme,
        paper,
        words,
        title=words.upkeep,
        bike=upkeep.bike,
        torques=chart,
        tools=tools,
        unsure=tuple(fastener.name for fastener in upkeep.unsure),
        code=upkeep_revision(chart, tools),
    )


def _html(
    library: Library,
    theme: Theme,
    paper: Paper,
    words: Words,
    *,
    title: str,
    code: str,
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
        code=code,
        w=words,
        m=theme.marks,
        paper=paper.value,
        workshop=library.workshop.name,
        style=Markup(theme.large_css),
    )
