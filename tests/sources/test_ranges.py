"""What a source may say of a figure, and what the check that reads it can reckon with, is one range."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.model.bike import Climb, Measurements, Rider, WearReading
from builder.model.parts import KINDS
from builder.sources.reading import Misread, read_as
from builder.sources.shapes import GREATEST, Many, Number, Quantity, fields_of
from tests.sources.broken_cases import read_in


def shape_at(record: str | type, key: str) -> Quantity | Number:
    kind = KINDS[record] if isinstance(record, str) else record
    shape = next(field.shape for field in fields_of(kind) if field.key == key)
    shape = shape.item if isinstance(shape, Many) else shape
    assert isinstance(shape, Quantity | Number)
    return shape


@pytest.mark.parametrize("record", [*KINDS, Measurements, Rider, Climb, WearReading])
def test_every_figure_of_a_bike_has_bounds_of_its_own(record: str | type) -> None:
    kind = KINDS[record] if isinstance(record, str) else record
    for field in fields_of(kind):
        shape = field.shape.item if isinstance(field.shape, Many) else field.shape
        if isinstance(shape, Quantity) and field.key != "price":
            assert (shape.low, shape.high) != (0.0, GREATEST.get(shape.unit)) or field.key == "distance", field.key


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
