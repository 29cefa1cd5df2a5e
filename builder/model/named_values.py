"""Values that a text shows as `{{ name }}`: the one place that knows how they are written."""

from __future__ import annotations

import re
from collections.abc import Callable

_VALUE = re.compile(r"\{\{\s*([^{}]*?)\s*\}\}")
# The same inside a longer pattern.
VALUE_PATTERN = r"\{\{.*?\}\}"


def names_in(text: str) -> tuple[str, ...]:
    """The names of the values that a text shows, in order."""
    return tuple(found[1] for found in _VALUE.finditer(text))


def with_values(text: str, shown: Callable[[str], str]) -> str:
    """`text` with each value replaced by what `shown` gives for its name."""
    return _VALUE.sub(lambda found: shown(found[1]), text)
