"""A workspace laid over the library: what is read, what overrides what, and what each record knows of its places."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

from builder.model.catalogue import Tool
from builder.model.condition import All, AnyOf, Is, Not
from builder.model.facts import Role
from builder.model.fields import UNIT_SUFFIX
from builder.model.guide import Step, Use
from builder.model.library import Library
from builder.model.parts import KINDS, Chain, Frame
from builder.model.position import Position
from builder.model.units import Measure, Range
from builder.sources.layout import CATALOGUE, COLLECTIONS
from builder.sources.shapes import fields_of
from builder.sources.workspace import load, shipped_library, shipped_themes
from tests.sources.broken_cases import SMALL, read_in


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(scope="module")
def small() -> Library:
    return load(None, SMALL).library


def test_the_shipped_library_has_no_mistake() -> None:
    loaded = load()
    assert loaded.diagnostics == ()
    assert loaded.library.guides


def test_the_shipped_folders_are_there() -> None:
    assert (shipped_library() / "catalogue").is_dir()
    assert shipped_themes().is_dir()


def test_quantities_are_kept_in_the_unit_of_their_field(small: Library) -> None:
    bike = small.bikes["wagtail"]
    frame = bike.part(Role.FRAME)
    assert isinstance(frame, Frame)
    assert frame.chainstay_mm == Measure(425.0, 2.0)
    assert small.guides["cassette"].work_time_min == 20.0
    assert small.tools["torque-wrench"].torque_nm == Range(10.0, 60.0)


def test_ids_come_from_keys_and_file_names(small: Library) -> None:
    assert small.tools["chain-whip"].id == "chain-whip"
    assert small.guides["cassette"].id == "cassette"
    assert small.bikes["wagtail"].id == "wagtail"


def test_a_part_is_named_written_out_or_done_without(small: Library) -> None:
    bike = small.bikes["wagtail"]
    assert bike.parts[Role.CHAIN] is small.parts["chain-a"]
    assert bike.parts[Role.FRAME].name == "frame"
    assert bike.without == {Role.FRONT_DERAILLEUR}
    assert Role.FORK not in bike.parts


def test_steps_and_uses_and_conditions_are_told_apart(small: Library) -> None:
    guide = small.guides["cassette"]
    first, step, _ = guide.work[0].steps
    assert isinstance(first, Use)
    assert isinstance(step, Step)
    assert guide.suits == Not(Is("rear-axle", ("bolt-through",)))
    assert step.when == AnyOf((Is("rear-axle", ("quick-release", "nutted")), Is("battery", ("none",))))
    assert small.exclusions[0].never == All((Is("rear-axle", ("bolt-through",)), Is("battery", ("fitted",))))


def test_a_record_knows_the_places_of_its_values(here: Path) -> None:
    loaded = read_in(here, {})
    step = loaded.library.guides["cassette"].work[0].steps[1]
    assert isinstance(step, Step)
    file = "shipped/cassette.yaml"
    assert step.places.at == Position(file, 13, 9)
    assert step.places.of("do") == Position(file, 14, 13, 37)
    assert step.places.of("tools.0") == Position(file, 18, 17, 13)
    assert step.places.of("needs.rear-wheel") == Position(file, 16, 29, 3)
    assert step.places.of("why") == step.places.at
    whip = loaded.library.tools["chain-whip"]
    assert whip.places.at == Position("shipped/catalogue/tools.yaml", 2, 1, 10)
    torque = loaded.library.parts["cassette-a"].places.of("torques.lockring")
    assert loaded.texts[torque.file].splitlines()[torque.line - 1][torque.column - 1 :].startswith("40 N·m")


def test_a_workspace_overrides_whole_records_by_id(here: Path) -> None:
    loaded = read_in(
        here,
        {
            "catalogue/tools.yaml": "lockring-tool: {name: our tool, fits: [lockring-splines]}\n",
            "workshop.yaml": "name: Ours\n",
            "parts/chain/ours.yaml": "chain-a: {name: Ours, links: 120}\nchain-z: {name: Z}\n",
            "bikes/coot.yaml": "name: Coot\nparts: {chain: chain-z}\n",
        },
    )
    assert loaded.diagnostics == ()
    library = loaded.library
    assert library.tools["lockring-tool"].name == "our tool"
    assert not library.tools["lockring-tool"].driven
    assert library.workshop.name == "Ours"
    assert library.workshop.tools == ()
    chain = library.bikes["wagtail"].part(Role.CHAIN)
    assert isinstance(chain, Chain)
    assert chain.links == 120
    assert set(library.bikes) == {"wagtail", "coot"}


def test_exclusions_of_both_folders_hold(here: Path) -> None:
    text = "- never: {rear-axle: nutted, battery: fitted}\n  because: We have none.\n"
    assert len(read_in(here, {"catalogue/exclusions.yaml": text}).library.exclusions) == 2


def test_a_broken_record_is_left_out_and_not_replaced_by_the_one_below(here: Path) -> None:
    loaded = read_in(here, {"catalogue/tools.yaml": "chain-whip: {nam: our whip}\n"})
    assert "chain-whip" not in loaded.library.tools
    assert {diagnostic.at.file for diagnostic in loaded.diagnostics} == {"ours/catalogue/tools.yaml"}


def test_a_bike_with_a_part_that_is_not_to_be_had_is_left_out(here: Path) -> None:
    loaded = read_in(here, {"bikes/coot.yaml": "name: Coot\nparts: {chain: chain-z}\n"})
    assert "coot" not in loaded.library.bikes
    assert len(loaded.diagnostics) == 1


def test_a_missing_folder_is_told(here: Path) -> None:
    loaded = load(Path("nowhere"), SMALL)
    assert [diagnostic.rule for diagnostic in loaded.diagnostics] == ["no-folder"]


def test_a_folder_laid_over_itself_is_read_once() -> None:
    assert load(SMALL, SMALL).diagnostics == ()


def test_files_outside_the_current_folder_are_shown_whole(here: Path) -> None:
    assert all(Path(file).is_absolute() for file in load(None, SMALL).texts)


def test_a_library_can_be_sent_to_another_process(small: Library) -> None:
    assert pickle.loads(pickle.dumps(small)) == small


def test_reading_twice_gives_the_same(here: Path) -> None:
    first = read_in(here, {"bikes/coot.yaml": "name: Coot\nmesured: {}\ntag: no\n"})
    assert load(Path("ours"), Path("shipped")) == first


def test_every_collection_of_the_library_has_its_file() -> None:
    written = {contents.collection for contents in CATALOGUE.values()}
    assert set(COLLECTIONS) - {"guides", "procedures", "bikes", "parts"} == written - {"exclusions"}
    assert COLLECTIONS["tools"] is Tool


def test_no_two_fields_of_a_record_share_a_key() -> None:
    """Two fields that differ in their unit alone would: then both keep it in their key, and one wants a better name."""
    suffixes = tuple(suffix.replace("_", "-") for suffix in UNIT_SUFFIX.values())
    for kind in (*COLLECTIONS.values(), *KINDS.values()):
        keys = [field.key for field in fields_of(kind)]
        assert len(keys) == len(set(keys)), kind
        assert not [key for key in keys if key.endswith(suffixes)], kind
