"""Edit one source after another, and hold what is made from what was kept against what is made of nothing."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from builder.build.driver import build
from builder.build.order import Order, Quiet
from builder.model.memory import Memory
from builder.sources.workspace import shipped_library
from tests.build.ordering import state

# Where words for people stand, of which one more harms no rule of writing.
_KEYS = ("title", "name", "note", "meaning", "description", "symptom", "reason", "use", "amount")
_VALUE = re.compile(
    rf"^(?P<key>\s*(?:- )?(?:{'|'.join(_KEYS)}): )(?P<value>[A-Za-z][^\n'\"{{}}\[\]|>&*#:]*)$", re.MULTILINE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """A place that was edited, and the paths that came out otherwise than from nothing; by preview and by process."""

    place: str
    in_preview: tuple[str, ...]
    in_process: tuple[str, ...]
    changed: int


def edits(
    folder: Path, number: int, seed: int, files: tuple[str, ...] = ("**/*.yaml",), **wishes: object
) -> Iterator[Edit]:
    """Copy the library, and edit so many values of it by chance, each held against a build that knows nothing."""
    shop = folder / "shop"
    shutil.copytree(shipped_library(), shop)
    chance, memory = random.Random(seed), Memory()
    last: dict[str, bytes] = {}
    tried = 0
    while tried < number:
        path, text, place = _edited(shop, files, chance)
        orders = {
            name: Order(workspace=shop, out=folder / name, printing=False, **wishes)  # type: ignore[arg-type]
            for name in ("preview", "process", "nothing")
        }
        if build(orders["nothing"], Quiet(), Memory(lasting=False)).told is None:
            path.write_text(text, encoding="utf-8")  # the word broke a rule of writing
            continue
        for name, known in (("preview", memory), ("process", None)):
            build(orders[name], Quiet(), known)
        whole = state(folder / "nothing")
        yield Edit(
            place=place,
            in_preview=_differing(state(folder / "preview"), whole),
            in_process=_differing(state(folder / "process"), whole),
            changed=len(_differing(last, whole)),
        )
        last, tried = whole, tried + 1


def _edited(shop: Path, files: tuple[str, ...], chance: random.Random) -> tuple[Path, str, str]:
    """Put a word in one value of one source; the file, what it said before, and where."""
    while True:
        path = chance.choice(sorted({one for pattern in files for one in shop.glob(pattern)}))
        text = path.read_text(encoding="utf-8")
        found = list(_VALUE.finditer(text))
        if found:
            one = chance.choice(found)
            path.write_text(f"{text[: one.start('value')]}Now {text[one.start('value') :]}", encoding="utf-8")
            return path, text, f"{path.relative_to(shop).as_posix()}: {one['value'][:40]}"


def _differing(one: dict[str, bytes], other: dict[str, bytes]) -> tuple[str, ...]:
    return tuple(sorted(path for path in one.keys() | other.keys() if one.get(path) != other.get(path)))
