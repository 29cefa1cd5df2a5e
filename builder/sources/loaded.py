"""What a reading of the sources comes to, and where those that come with the program stand.

Apart from the reading itself, so that who has a remembered reading need not load what reads.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.library import Library


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What a workspace came to: the records that could be read, every mistake, and the files' texts for quoting.

    `laid_under` are the files of the library below a workspace; what they hold is not the workspace's to answer for.
    `digest` names everything that it was read from and by; '' where nobody worked that out.
    """

    library: Library
    diagnostics: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)
    laid_under: frozenset[str] = frozenset()
    digest: str = field(default="", compare=False)


def shipped_library() -> Path:
    """The folder of the guides that come with the program: inside the installed package, or beside it in a checkout."""
    return _shipped("guides")


def shipped_themes() -> Path:
    """The folder of the themes that come with the program."""
    return _shipped("themes")


def shipped_theme_names() -> tuple[str, ...]:
    """The themes that come with the program."""
    return tuple(sorted(path.name for path in shipped_themes().iterdir() if path.is_dir()))


def _shipped(name: str) -> Path:
    package = Path(__file__).parent.parent
    inside = package / "_library" / name
    return inside if inside.is_dir() else package.parent / name
