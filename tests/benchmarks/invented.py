"""A fleet as large as wanted: the demo's bikes again and again, each with a name and a tag of its own.

Their parts are those of the demo, so that what a card shows besides its bands is one of as many as the demo has bikes.
"""

from __future__ import annotations

import random
import re
from pathlib import Path

from builder.sources.workspace import shipped_library

_NAME, _TAG = re.compile(r"^name:.*$", re.MULTILINE), re.compile(r"^tag:.*$", re.MULTILINE)
_CHAINSTAY = re.compile(r"^(\s+chainstay: )(\d+)( mm)", re.MULTILINE)


def write_fleet(workspace: Path, number: int, *, seed: int = 12) -> tuple[str, ...]:
    """Write so many bikes into a workspace that has no others, and tell their ids; chainstays differ a little."""
    chance = random.Random(seed)
    folder = workspace / "bikes"
    folder.mkdir(parents=True, exist_ok=True)
    (workspace / "workshop.yaml").write_text("name: A large fleet\ndemo-fleet: false\n", encoding="utf-8")
    texts = [path.read_text(encoding="utf-8") for path in sorted((shipped_library() / "bikes").glob("*.yaml"))]
    ids = tuple(f"bike-{count:04}" for count in range(1, number + 1))
    for count, name in enumerate(ids, 1):
        text = _NAME.sub(f"name: Bike {count}", texts[count % len(texts)], count=1)
        text = _TAG.sub(f"tag: F-{count}", text, count=1)
        more = chance.randint(-3, 3)
        text = _CHAINSTAY.sub(lambda found, more=more: f"{found[1]}{int(found[2]) + more}{found[3]}", text, count=1)
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return ids
