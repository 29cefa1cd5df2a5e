"""Rules of the trade about acts: what must be so before, what is so after, on which bikes, and with which tool.

A rule may also say which act comes before another, and which must follow: a thread is started by hand before a tool
tightens it, and what went under a brake lever is pumped before anybody rides.

A rule holds for every guide, whether or not its author thought of it; the proof holds each step against it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from builder.model.condition import ALWAYS, Condition
from builder.model.fields import Ref, Text
from builder.model.position import Places


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """An act by its kind: any of `verbs` done to any of `things`; no `verbs` means every act."""

    verbs: tuple[Annotated[str, Ref("verbs")], ...] = ()
    things: tuple[Annotated[str, Ref("glossary")], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What holds whenever any of `verbs` is done to any of `things`, on bikes for which `when` holds.

    No `verbs` means every act. `fasteners` brings in every step that loosens or tightens one of them. `needs` must be
    so just before the act and `leaves` just after it, as far as the bike has the state; `only` must hold for the bike;
    one of `tools` must be laid out. On every path an act of the kind `first` comes somewhere before it, and one of the
    kind `then` somewhere after it.
    """

    id: str = ""
    verbs: tuple[Annotated[str, Ref("verbs")], ...] = ()
    things: tuple[Annotated[str, Ref("glossary")], ...] = ()
    fasteners: tuple[Annotated[str, Ref("fasteners")], ...] = ()
    when: Condition = ALWAYS
    needs: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    leaves: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    only: Condition = ALWAYS
    tools: tuple[Annotated[str, Ref("tools")], ...] = ()
    first: Deed | None = None
    then: Deed | None = None
    because: Text
    places: Places = field(default=Places(), compare=False, repr=False)
