"""Reading a drawing back: its elements by the name of the part, and the points of each."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

from builder.drawings.canvas import Drawing

Point = tuple[float, float]
NAMESPACE = "{http://www.w3.org/2000/svg}"
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def root(drawing: Drawing, **how: str) -> ET.Element:
    """The parsed SVG."""
    return ET.fromstring(drawing.to_svg(**how))


def parts(drawing: Drawing, name: str) -> list[ET.Element]:
    """Every element that is named `name`; at least one."""
    found = [element for element in root(drawing).iter() if element.get("data-part") == name]
    assert found, f"no part is called {name!r}"
    return found


def part(drawing: Drawing, name: str) -> ET.Element:
    """The one element that is named `name`."""
    (found,) = parts(drawing, name)
    return found


def value(element: ET.Element, name: str) -> float:
    """A number from an attribute."""
    return float(element.attrib[name])


def ends(element: ET.Element) -> tuple[Point, Point]:
    """Start and end of a line."""
    x1, y1, x2, y2 = (value(element, name) for name in ("x1", "y1", "x2", "y2"))
    return (x1, y1), (x2, y2)


def centre(element: ET.Element) -> Point:
    """The middle of a circle."""
    return value(element, "cx"), value(element, "cy")


def points(element: ET.Element) -> list[Point]:
    """The corners of a polygon or polyline."""
    numbers = [float(number) for number in _NUMBER.findall(element.attrib["points"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def commands(element: ET.Element) -> list[tuple[str, list[float]]]:
    """The commands of a path: a letter and its numbers."""
    found = re.findall(r"([A-Za-z])([^A-Za-z]*)", element.attrib["d"])
    return [(letter, [float(number) for number in _NUMBER.findall(rest)]) for letter, rest in found]


def turns_clockwise(element: ET.Element) -> bool:
    """Whether a turning arrow runs clockwise, from the sweep flag of its arc."""
    (numbers,) = [numbers for letter, numbers in commands(element) if letter == "A"]
    return numbers[4] == 1


def words(drawing: Drawing, name: str | None = None) -> list[str]:
    """All words that the drawing shows, or those of one part."""
    found = root(drawing).iter(f"{NAMESPACE}text")
    return [element.text or "" for element in found if name is None or element.get("data-part") == name]
