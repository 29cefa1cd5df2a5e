"""Letters that no face at all has: the printing library writes an empty box for them, and says so while it writes."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position
from builder.printing.repairs import REPAIRS

RULE = "L25"
_LOGGER, _SAYS = "weasyprint", ".notdef glyph"


@contextmanager
def lost_letters() -> Iterator[list[str]]:
    """The letters that are lost in what is written within, each once."""
    found: list[str] = []

    class Listener(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            if str(record.msg).startswith(_SAYS) and record.args:
                letter = str(next(iter(record.args)))
                if letter not in found:
                    found.append(letter)

    listener, logger = Listener(), logging.getLogger(_LOGGER)
    logger.addHandler(listener)
    try:
        yield found
    finally:
        logger.removeHandler(listener)


def lost_finding(letters: list[str]) -> tuple[Diagnostic, ...]:
    """L25: what is told of a card with such letters; nothing where there are none."""
    if not letters:
        return ()
    named = ", ".join(f"'{one}' (U+{ord(one[0]):04X})" for one in letters)
    return (
        Diagnostic(
            rule=RULE,
            message=f"no face on this system has {named}: the text is lost",
            at=Position("", 0, 0),
            gravity=Gravity.ERROR,
            label="allowed: every letter has a glyph",
            hints=REPAIRS[RULE].hints(RULE),
        ),
    )
