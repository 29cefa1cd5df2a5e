"""A text as the beginning of a sentence."""

from __future__ import annotations


def sentence(text: str) -> str:
    """The text with its first letter large; the rest, such as `N·m`, stays as it is."""
    return text[:1].upper() + text[1:]
