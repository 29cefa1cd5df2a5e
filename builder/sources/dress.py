"""A theme's `theme.yaml` read by itself, as it stands in a shipped theme."""

from __future__ import annotations

from pathlib import Path

from builder.model.dress import Dress
from builder.model.position import Position
from builder.sources.layout import shown_path
from builder.sources.records import read_record
from builder.sources.text import decode
from builder.sources.yaml_tree import read_tree


def read_dress(path: Path) -> Dress:
    """What a shipped theme says of itself; a file that can't be read or is not there says nothing."""
    if not path.is_file():
        return Dress(based_on="")
    shown = shown_path(path)
    tree = read_tree(decode(shown, path.read_bytes()))
    values, _ = (None, ()) if tree.root is None else read_record(Dress, tree.root, Position(shown, 1, 1))
    return Dress(based_on="") if values is None else Dress(**values)
