"""Whatever stands in the files, reading them never raises: there are only diagnostics, and each can be written out."""

from __future__ import annotations

import random
import tempfile
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.cli.common import has_errors
from builder.diagnostics.rendering import as_json, as_line, as_text
from builder.proof.gate import gate
from builder.sources.workspace import Loaded, load
from tests.sources.broken_cases import SMALL

FILES = sorted(path.relative_to(SMALL).as_posix() for path in SMALL.rglob("*.yaml"))
WORDS = [
    "name",
    "use",
    "when",
    "not",
    "all",
    "steps",
    "parts",
    "chain",
    "rear-hub",
    "none",
    "425 mm",
    "{{ torque }}",
    "5",
]


def read(files: dict[str, bytes]) -> Loaded:
    """The files read as a workspace, with everything that `check` and a reader of its output would do."""
    with tempfile.TemporaryDirectory() as folder:
        for name, raw in files.items():
            path = Path(folder) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(raw)
        loaded = load(Path(folder), SMALL)
    found = (*loaded.diagnostics, *gate(loaded.library, sound=not has_errors(loaded.diagnostics)))
    for diagnostic in found:
        assert diagnostic.message
        assert "\n" not in as_line(diagnostic)
        assert as_text(diagnostic, loaded.texts)
        assert diagnostic.at.line <= loaded.texts.get(diagnostic.at.file, "\n" * 10_000).count("\n") + 2
    assert as_json(found)
    return loaded


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(FILES), st.binary(max_size=200))
def test_random_bytes_are_no_trouble(name: str, raw: bytes) -> None:
    loaded = read({name: raw})
    assert loaded.diagnostics or loaded.texts


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(FILES), st.text(alphabet="ab-: {}[]'\"\n\t#&*!|>%@`,?~0", max_size=120))
def test_random_yaml_signs_are_no_trouble(name: str, text: str) -> None:
    read({name: text.encode()})


VALUES = st.recursive(
    st.sampled_from(WORDS) | st.text(max_size=8) | st.integers() | st.booleans() | st.none(),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(WORDS) | st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=12,
)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(FILES), VALUES)
def test_well_formed_yaml_of_any_shape_is_no_trouble(name: str, value: object) -> None:
    read({name: yaml.safe_dump(value, allow_unicode=True).encode("utf-8", "replace")})


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(FILES), VALUES, st.integers(0, 1000))
def test_a_strange_value_anywhere_in_a_good_file_is_no_trouble(name: str, value: object, place: int) -> None:
    whole = yaml.load((SMALL / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    spots = list(_spots(whole))
    owner, key = spots[place % len(spots)]
    owner[key] = value
    read({name: yaml.safe_dump(whole, allow_unicode=True, sort_keys=False).encode("utf-8", "replace")})


def _spots(value: object) -> list[tuple[dict[object, object] | list[object], object]]:
    found: list[tuple[dict[object, object] | list[object], object]] = []
    if isinstance(value, dict):
        for key, inner in value.items():
            found += [(value, key), *_spots(inner)]
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            found += [(value, number), *_spots(inner)]
    return found


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(FILES), st.randoms(use_true_random=False))
def test_slips_of_the_hand_in_a_good_file_are_no_trouble(name: str, chance: random.Random) -> None:
    text = (SMALL / name).read_text(encoding="utf-8")
    for _ in range(chance.randint(1, 4)):
        place = chance.randrange(len(text))
        match chance.randrange(5):
            case 0:
                text = text[:place] + text[place + 1 :]
            case 1:
                text = text[:place] + chance.choice("{}[]:,-#'\"\t\n &*!|>") + text[place:]
            case 2:
                lines = text.splitlines(keepends=True)
                chance.shuffle(lines)
                text = "".join(lines)
            case 3:
                lines = text.splitlines(keepends=True)
                del lines[chance.randrange(len(lines))]
                text = "".join(lines) or "\n"
            case _:
                text = text[:place] + text[place : place + 1].swapcase() + text[place + 1 :]
        text = text or "\n"
    read({name: text.encode()})


@pytest.mark.parametrize("name", FILES)
def test_a_key_that_is_taken_out_or_misspelt_is_always_told_or_harmless(name: str) -> None:
    """Every key of every good file, misspelt: always an error, since no key is free to be anything."""
    whole = yaml.load((SMALL / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    for owner, key in _spots(whole):
        if isinstance(owner, dict) and isinstance(key, str):
            kept = dict(owner)
            owner.clear()
            owner.update({(f"{one}zz9" if one == key else one): inner for one, inner in kept.items()})
            loaded = read({name: yaml.safe_dump(whole, allow_unicode=True, sort_keys=False).encode()})
            owner.clear()
            owner.update(kept)
            assert loaded.diagnostics or _is_free(name, key, whole), f"{name}: {key}"


def _is_free(name: str, key: str, whole: object) -> bool:
    """Ids of records, of states' values and of attributes' cases are chosen freely."""
    top = isinstance(whole, dict) and key in whole and name.startswith(("catalogue/", "parts/"))
    return top or name in ("catalogue/states.yaml", "catalogue/attributes.yaml")
