"""What a source may say of a figure, and what the check that reads it can reckon with, is one range."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.checks.registry import CHECKS
from builder.model.bike import Climb, Measurements, Rider, WearReading
from builder.model.parts import KINDS
from builder.sources.reading import Misread
from builder.sources.schema import read_as
from builder.sources.shapes import GREATEST, Many, Number, Quantity, fields_of
from tests.sources.broken_cases import read_in

# Where a figure of a bike's file goes: the record, its key, and the check with the input that takes it.
TAKEN_BY = (
    ("frame", "chainstay", "chain-length", "chainstay"),
    ("frame", "chainstay", "chain-reach", "chainstay"),
    ("frame", "chainstay", "take-up", "chainstay"),
    ("frame", "axle-growth", "chain-length", "growth"),
    ("frame", "rear-spacing", "hub-spacing", "frame"),
    ("frame", "rear-tyre-room", "tyre-clearance", "space"),
    ("frame", "greatest-rear-rotor", "rotor-size", "largest"),
    ("frame", "shell-width", "bottom-bracket-fit", "shell-width"),
    ("frame", "seat-tube-bore", "clamp-diameter", "clamp"),
    ("fork", "travel", "suspension-sag", "travel"),
    ("fork", "tyre-room", "tyre-clearance", "space"),
    ("fork", "greatest-rotor", "rotor-size", "largest"),
    ("fork", "spacing", "hub-spacing", "frame"),
    ("fork", "steerer", "clamp-diameter", "part"),
    ("shock", "stroke", "suspension-sag", "travel"),
    ("stem", "steerer", "clamp-diameter", "clamp"),
    ("stem", "bar-clamp", "clamp-diameter", "clamp"),
    ("handlebar", "clamp", "clamp-diameter", "part"),
    ("seat-post", "diameter", "post-insertion", "diameter"),
    ("seat-post", "least-insertion", "post-insertion", "mark"),
    ("crankset", "rings", "chain-length", "ring"),
    ("crankset", "crank", "gear", "crank"),
    ("bottom-bracket", "width", "bottom-bracket-fit", "bracket-width"),
    ("chain", "outer-width", "chain-width", "width"),
    ("chain", "links", "chain-supply", "sold"),
    ("cassette", "sprockets", "chain-length", "sprocket"),
    ("cassette", "stack", "sprocket-stack", "stack"),
    ("cassette", "sprocket-pitch", "indexing", "pitch"),
    ("rear-derailleur", "largest-sprocket", "largest-sprocket", "rated"),
    ("rear-derailleur", "smallest-sprocket", "smallest-sprocket", "rated"),
    ("rear-derailleur", "capacity-teeth", "derailleur-capacity", "rated"),
    ("rear-derailleur", "cable-ratio", "indexing", "ratio"),
    ("shifter", "speeds", "shifter-clicks", "shifter"),
    ("shifter", "cable-pull", "indexing", "pull"),
    ("hub", "spacing", "hub-spacing", "hub"),
    ("hub", "body-length", "sprocket-stack", "body"),
    ("hub", "flange-diameter", "spoke-length", "flange-diameter"),
    ("hub", "left-flange-offset", "spoke-length", "flange-offset"),
    ("rim", "bead-seat", "bead-seat", "rim"),
    ("rim", "inner-width", "tyre-rim-width", "rim-inner"),
    ("rim", "spoke-bed", "spoke-length", "rim-diameter"),
    ("rim", "spokes", "spoke-length", "spokes"),
    ("rim", "crossings", "spoke-length", "crossings"),
    ("rim", "greatest-pressure", "tyre-pressure", "rim-max"),
    ("tyre", "width", "tyre-rim-width", "tyre"),
    ("tyre", "bead-seat", "bead-seat", "tyre"),
    ("tyre", "least-pressure", "tyre-pressure", "tyre-min"),
    ("tyre", "greatest-pressure", "tyre-pressure", "tyre-max"),
    ("rotor", "diameter", "rotor-size", "rotor"),
    ("rotor", "least-thickness", "rotor-wear", "least"),
    ("pads", "least-thickness", "pad-wear", "least"),
    ("sprocket-spacer", "width", "sprocket-stack", "spacers"),
    (Measurements, "chain-length", "chain-wear", "length"),
    (Measurements, "chain-length-links", "chain-wear", "links"),
    (Measurements, "chain-links", "chain-reach", "links"),
    (Measurements, "wheel-circumference", "hill-cadence", "circumference"),
    (Measurements, "front-rotor", "rotor-wear", "thickness"),
    (Measurements, "rear-pads", "pad-wear", "thickness"),
    (Measurements, "sag", "suspension-sag", "sag"),
    (Measurements, "post-inserted", "post-insertion", "inserted"),
    (Measurements, "steerer-gap", "spacer-gap", "gap"),
    (Rider, "power", "hill-cadence", "power"),
    (Rider, "least-cadence", "steepest-gradient", "cadence"),
    (Climb, "gradient", "steepest-gradient", "gradient"),
    (WearReading, "chain-wear", "chain-on-new-sprockets", "wear"),
)  # fmt: skip


def shape_at(record: str | type, key: str) -> Quantity | Number:
    kind = KINDS[record] if isinstance(record, str) else record
    shape = next(field.shape for field in fields_of(kind) if field.key == key)
    shape = shape.item if isinstance(shape, Many) else shape
    assert isinstance(shape, Quantity | Number)
    return shape


@pytest.mark.parametrize(("record", "key", "check", "taken"), TAKEN_BY, ids=lambda one: getattr(one, "__name__", one))
def test_a_source_and_its_check_take_the_same_range(record: str | type, key: str, check: str, taken: str) -> None:
    shape = shape_at(record, key)
    wanted = next(item for item in CHECKS[check].inputs if item.name == taken)
    assert (shape.low, shape.high) == (wanted.low, wanted.high)


@pytest.mark.parametrize("record", [*KINDS, Measurements, Rider, Climb, WearReading])
def test_every_figure_of_a_bike_has_bounds_of_its_own(record: str | type) -> None:
    kind = KINDS[record] if isinstance(record, str) else record
    for field in fields_of(kind):
        shape = field.shape.item if isinstance(field.shape, Many) else field.shape
        if isinstance(shape, Quantity) and field.key != "price":
            assert (shape.low, shape.high) != (0.0, GREATEST[shape.unit]) or field.key == "distance", field.key


@pytest.mark.parametrize("text", ["432 ± 200 mm", "251 ± 2 mm", "899 ± 2 mm", "43.2 mm", "4320 mm"])
def test_a_figure_is_refused_where_one_end_of_its_tolerance_is_out_of_range(text: str) -> None:
    with pytest.raises(Misread, match="out of range"):
        read_as(shape_at("frame", "chainstay"), text)


@pytest.mark.parametrize("text", ["43 mm", "432 ± 200 mm"])
def test_a_mistyped_chainstay_is_told_with_its_line(text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    loaded = read_in(tmp_path, {"bikes/coot.yaml": f"name: Coot\nparts:\n  frame:\n    chainstay: {text}\n"})
    (wrong,) = loaded.diagnostics
    assert (wrong.at.file, wrong.at.line) == ("ours/bikes/coot.yaml", 4)
    assert wrong.label == "250 to 900 mm is possible here"
    assert "coot" not in loaded.library.bikes
