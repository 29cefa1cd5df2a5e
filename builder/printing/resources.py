"""Which files a document may bring in: those of the theme and the workspace, and nothing from the network."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from urllib.parse import unquote, urlsplit


class ResourceRefused(ValueError):
    """An address outside the theme and the workspace; the message names it."""


def allowed_file(url: str, folders: Iterable[Path]) -> Path:
    """The file behind a `file:` address, where it really lies in one of `folders`, links followed.

    Raises:
        ResourceRefused: another scheme, another host, or a file that lies elsewhere.
    """
    parts = urlsplit(url)
    if parts.scheme != "file" or parts.netloc not in ("", "localhost"):
        raise ResourceRefused(f"{url}: only files of the theme and the workspace can be used")
    path = Path(unquote(parts.path)).resolve()
    if not any(path.is_relative_to(folder.resolve()) for folder in folders):
        raise ResourceRefused(f"{url}: lies outside the theme and the workspace")
    return path
