"""Kinds of things that can be found on the site."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What a record is of, the most looked for first."""

    GUIDE = "guide"
    FAULT = "fault"
    BIKE = "bike"
    CARD = "card"
    TOOL = "tool"
    FASTENER = "fastener"
    PART = "part"
    TERM = "term"
    CHECK = "check"
    STEP = "step"
