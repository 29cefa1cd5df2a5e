"""What holds for every drawing: form, legibility, accessibility, and clear words for numbers that cannot be drawn."""

from __future__ import annotations

import math
import re
from typing import Any

import pymupdf
import pytest
import weasyprint
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from builder.drawings.canvas import ACCENT, LEAST_PT, MM_PER_PT, PAGE_MM, Drawing
from builder.drawings.drawing_kind import WIDTHS_MM, DrawingError, Numbers, Parameter
from builder.drawings.marks import call_out, dimension
from builder.drawings.registry import DRAWING_KINDS, DRAWINGS, draw, parameters
from builder.drawings.smaller import reduced
from builder.pages.figures import smaller, view_of
from builder.sources.loaded import shipped_themes
from tests.drawings.examples import CASES, EXAMPLES, case_id
from tests.drawings.svg import NAMESPACE, part, root, value, words

every_case = pytest.mark.parametrize(("name", "numbers"), CASES, ids=map(case_id, CASES))

# Drawings whose numbers bind each other: within their ranges some combinations are refused, in words.
_BOUND_TOGETHER = {
    "chain-path",
    "chain-gauge",
    "sprocket-stack",
    "bolt-circle",
    "adaptor",
    "spoke-triangle",
    "rim-tyre-section",
    "measure-axle-distance",
    "measure-sag",
    "wear-trend",
}


# Drawings that would tell the contrary from the other side.
SEEN = (
    "barrel-adjuster",
    "body-gap",
    "bottom-bracket-cups",
    "cable-clamp",
    "cage-and-pulleys",
    "cage-back",
    "chain-path",
    "chain-whip",
    "front-derailleur-cage",
    "hanger-shoulder",
    "hub-cone",
    "hub-gear-marks",
    "lever",
    "limit-screws",
    "pedal-threads",
    "quick-link-lock",
    "quick-link-open",
    "quick-release",
    "rotor-bolts",
    "thread-hand",
    "wheel-in-dropout",
    "wheel-true",
)


def test_every_drawing_has_an_example() -> None:
    assert set(EXAMPLES) == set(DRAWINGS) == set(DRAWING_KINDS)


@every_case
def test_a_drawing_names_and_describes_itself(name: str, numbers: Numbers) -> None:
    drawing = draw(name, numbers)
    svg = root(drawing, prefix="f1")
    title, description = svg.find(f"{NAMESPACE}title"), svg.find(f"{NAMESPACE}desc")
    assert svg.get("role") == "img"
    assert title is not None
    assert title is svg[0], "the title must come first to be the alternative text of a PDF"
    assert title.text == drawing.title
    assert description is not None
    assert description.text is not None
    assert drawing.description in description.text
    assert all(entry in description.text for entry in drawing.legend)
    assert svg.attrib["aria-labelledby"].split() == [title.get("id"), description.get("id")]


@every_case
def test_a_drawing_fits_the_smallest_card(name: str, numbers: Numbers) -> None:
    drawing = draw(name, numbers)
    svg = root(drawing)
    assert svg.get("width") == f"{drawing.width_mm:g}mm"
    frame = [float(number) for number in svg.attrib["viewBox"].split()]
    assert frame == [0, 0, pytest.approx(drawing.width_mm, abs=0.01), pytest.approx(drawing.height_mm, abs=0.01)]
    assert drawing.width_mm <= PAGE_MM
    assert drawing.height_mm <= 125


@pytest.mark.parametrize("name", sorted(DRAWING_KINDS))
def test_a_drawing_says_the_narrowest_column_that_holds_it(name: str) -> None:
    widest = max(draw(name, numbers).width_mm for numbers in EXAMPLES[name])
    assert DRAWING_KINDS[name].width_mm == min(width for width in WIDTHS_MM if width >= widest - 0.01)


@every_case
def test_a_turning_arrow_says_from_where_it_is_seen(name: str, numbers: Numbers) -> None:
    drawing = draw(name, numbers)
    if any((element.get("data-part") or "").startswith("turn-") for element in root(drawing).iter()):
        assert words(drawing, "seen-from")


@pytest.mark.parametrize("name", SEEN)
def test_a_drawing_that_has_sides_says_from_where_it_is_seen(name: str) -> None:
    assert all(words(draw(name, numbers), "seen-from") for numbers in EXAMPLES[name])


@every_case
def test_words_are_never_too_small(name: str, numbers: Numbers) -> None:
    sizes = [float(element.attrib["font-size"]) for element in root(draw(name, numbers)).iter(f"{NAMESPACE}text")]
    assert all(size >= LEAST_PT * MM_PER_PT - 0.005 for size in sizes)


@every_case
def test_a_drawing_uses_only_what_prints_everywhere(name: str, numbers: Numbers) -> None:
    svg = root(draw(name, numbers))
    allowed = {"svg", "title", "desc", "g", "line", "circle", "ellipse", "rect", "polyline", "polygon", "path", "text"}
    assert {element.tag.removeprefix(NAMESPACE) for element in svg.iter()} <= allowed
    assert not any("class" in element.attrib or "style" in element.attrib for element in svg.iter())
    assert [element for element in svg.iter() if "font-family" in element.attrib] == [svg]


@every_case
def test_a_drawing_is_complete_in_black_and_white_with_one_accent(name: str, numbers: Numbers) -> None:
    if name == "contrast-chips":
        pytest.skip("its colours are its subject")
    colours = {element.get(what, "none") for element in root(draw(name, numbers)).iter() for what in ("fill", "stroke")}
    greys = {colour for colour in colours if re.fullmatch(r"#(..)\1\1", colour)}
    assert colours - greys <= {"none", ACCENT}


@every_case
def test_ids_carry_the_prefix_and_are_unique(name: str, numbers: Numbers) -> None:
    drawing = draw(name, numbers)
    first, second = ([e.attrib["id"] for e in root(drawing, prefix=p).iter() if "id" in e.attrib] for p in ("a1", "a2"))
    assert len(set(first + second)) == len(first) + len(second)
    assert all(found.startswith("a1-") for found in first)


@every_case
def test_call_outs_are_numbered_as_the_legend(name: str, numbers: Numbers) -> None:
    drawing = draw(name, numbers)
    assert sorted(map(int, words(drawing, "call-out"))) == list(range(1, len(drawing.legend) + 1))


@every_case
def test_the_same_numbers_give_the_same_bytes(name: str, numbers: Numbers) -> None:
    svg = draw(name, numbers).svg
    assert svg == DRAWINGS[name](numbers).svg
    assert "e-" not in "".join(re.findall(r'="([-\d. e]+)"', svg))
    assert not re.search(r"\d\.\d{3}", re.sub(r"<(title|desc|text)[^>]*>[^<]*", "", svg)), "more than two decimals"


def test_words_of_the_outside_are_escaped() -> None:
    svg = draw("chain-ends").to_svg(prefix='"><script>', font_family='"><b>')
    assert "<script>" not in svg
    assert "<b>" not in svg


def test_printed_words_are_at_least_ten_points_high() -> None:
    """WeasyPrint's own PDF read back: the size of every letter on paper."""
    pages = "".join(f"<p>{draw(name, numbers).to_svg(prefix=f'd{n}')}</p>" for n, (name, numbers) in enumerate(CASES))
    css = "@page { size: 105mm 148mm; margin: 7mm } p { margin: 0; break-inside: avoid }"
    pdf = weasyprint.HTML(string=f'<html lang="en"><style>{css}</style>{pages}</html>').write_pdf()
    with pymupdf.open(stream=pdf) as document:
        blocks = [block for page in document for block in page.get_text("dict")["blocks"]]
    spans = [
        span for block in blocks for line in block.get("lines", ()) for span in line["spans"] if span["text"].strip()
    ]
    sizes = [span["size"] for span in spans for letter in span["text"] if letter.strip()]
    assert len(sizes) > 2000
    assert min(sizes) >= LEAST_PT - 0.05


def test_a_smaller_drawing_keeps_its_letters_and_the_ground_that_is_cleared_for_them() -> None:
    body = dimension((0, 10), (40, 10), "40 mm") + call_out(1, (5, 5), (20, 5))
    whole = Drawing(name="a", title="A", description="A.", width_mm=60, height_mm=20, body=body)
    small = reduced(whole, 0.5)
    assert (small.width_mm, small.height_mm) == (30, 10)
    for name, sizes in (("ground", ("width", "height")), ("call-out-ring", ("r",))):
        for size in sizes:
            shown = value(part(small, name), size) * 0.5
            assert shown == pytest.approx(value(part(whole, name), size), abs=0.011)
    before, after = (part(drawing, "ground") for drawing in (whole, small))
    assert value(after, "x") + value(after, "width") / 2 == pytest.approx(
        value(before, "x") + value(before, "width") / 2, abs=0.02
    )


# As cards show a drawing beside its step: at this share of its size, its letters larger by so much.
_ON_CARDS = (0.62, 1.32)
_WORDS = re.compile(r'<text x="([^"]+)" y="[^"]+" font-size="([^"]+)"([^>]*)>([^<]+)</text>')
_REDUCED = re.compile(r'transform="scale\(([\d.]+)\)')


def test_no_word_is_cut_off_where_a_card_makes_its_letters_larger() -> None:
    fonts = shipped_themes() / "bench" / "fonts"
    faces = {
        weight: ImageFont.truetype(str(fonts / f"atkinson-hyperlegible-next-{weight}.woff2"), 1000)
        for weight in (400, 700)
    }
    cut = []
    for case in CASES:
        if case[0] == "letter-height":  # stands on its check's page only
            continue
        svg = str(smaller(view_of(draw(*case), "a"), *_ON_CARDS).svg)
        box = re.search(r'viewBox="([^ ]+) [^ ]+ ([^ ]+)', svg)
        assert box is not None
        left, width = float(box[1]), float(box[2])
        scale = float(found[1]) if (found := _REDUCED.search(svg)) else 1.0
        for at, size, more, words_ in _WORDS.findall(svg):
            long = faces[700 if "bold" in more else 400].getlength(words_) / 1000 * float(size)
            start = float(at) - (long / 2 if "middle" in more else long if "end" in more else 0.0)
            over = max(left - start * scale, (start + long) * scale - left - width)
            if over > 0.3:
                cut.append(f"{case_id(case)}: {words_!r} by {over:.1f} mm")
    assert not cut, "\n".join(cut)


def test_an_unknown_drawing_names_the_nearest() -> None:
    with pytest.raises(DrawingError, match="unknown drawing 'chain-pth'; did you mean 'chain-path'"):
        draw("chain-pth")
    with pytest.raises(DrawingError, match="unknown drawing"):
        parameters("nothing-like-it")


def test_a_missing_number_is_named_with_all_that_is_needed() -> None:
    with pytest.raises(DrawingError) as caught:
        draw("chain-path", {"chainstay": "425 mm", "ring": 32})
    message = str(caught.value)
    assert "\n" not in message
    assert "'sprocket' is missing" in message
    for parameter in parameters("chain-path"):
        assert parameter.name in message


@pytest.mark.parametrize(
    ("name", "numbers", "complaint"),
    [
        ("chain-path", {"chainstay": math.nan, "ring": 32, "sprocket": 40}, "finite"),
        ("chain-path", {"chainstay": math.inf, "ring": 32, "sprocket": 40}, "finite"),
        ("chain-path", {"chainstay": 4000, "ring": 32, "sprocket": 40}, "outside 250 to 900"),
        ("chain-path", {"chainstay": 425, "ring": 3, "sprocket": 40}, "outside 9 to 70"),
        ("chain-path", {"chainstay": 425, "ring": 32.5, "sprocket": 40}, "not a whole number"),
        ("chain-path", {"chainstay": "425 kg", "ring": 32, "sprocket": 40}, "kg"),
        ("chain-path", {"chainstay": "long", "ring": 32, "sprocket": 40}, "not a number"),
        ("chain-path", {"chainstay": (425.0, 426.0), "ring": 32, "sprocket": 40}, "single value"),
        ("chain-path", {"chainstay": 250, "ring": 70, "sprocket": 70}, "would touch"),
        ("chain-path", {"chainstay": 425, "ring": 32, "sprocket": 40, "links": 90}, "can't be laid"),
        ("chain-gauge", {"length": 700, "links": 48}, "longer than new"),
        ("takeup-grid", {"rings": "50,34,24,22", "sprockets": 11, "rated": 30}, "4 values given"),
        ("bolt-circle", {"bolts": 5, "kind": "faceplate"}, "faceplate with 5 bolts"),
        ("bolt-circle", {"bolts": 4, "kind": "square"}, "not one of"),
        ("sprocket-stack", {"body": 35, "stack": 70, "sprockets": "11,12"}, "leave 35.0 mm"),
        ("adaptor", {"torque": 5, "wrench": 100, "adaptor": 90, "angle": 180}, "leaves no lever"),
        (
            "spoke-triangle",
            {"rim-diameter": 600, "flange-diameter": 50, "flange-offset": 30, "spokes": 33, "crossings": 3},
            "even number",
        ),
        ("rim-tyre-section", {"inner-width": 40, "tyre-width": 20}, "at least as wide"),
        ("measure-sag", {"travel": 100, "sag": 120}, "more than"),
        ("wear-trend", {"days": "0,5", "values": "1,2,3", "limit": 4}, "one value for each day"),
        ("wear-trend", {"days": "5,5", "values": "1,2", "limit": 4}, "do not rise"),
        ("wear-trend", {"days": "0,5", "values": "1,2", "limit": 4, "first": "last spring"}, "'first'"),
        ("contrast-chips", {"foreground": "red"}, "not a colour"),
    ],
)
def test_numbers_that_cannot_be_drawn_are_refused_in_one_line(name: str, numbers: Any, complaint: str) -> None:
    with pytest.raises(DrawingError) as caught:
        draw(name, numbers)
    message = str(caught.value)
    assert complaint in message
    assert "\n" not in message
    assert name in message


def _values(parameter: Parameter) -> st.SearchStrategy[Any]:
    if parameter.colour:
        return st.integers(0, 0xFFFFFF).map(lambda level: f"#{level:06x}")
    if parameter.date:
        return st.dates().map(lambda day: day.isoformat())
    if parameter.choices:
        return st.sampled_from(parameter.choices)
    one: st.SearchStrategy[Any]
    if parameter.whole:
        one = st.integers(math.ceil(parameter.low), math.floor(parameter.high))
    else:
        one = st.floats(parameter.low, parameter.high, allow_nan=False)
    return st.lists(one, min_size=parameter.many, max_size=parameter.most).map(tuple) if parameter.many else one


@st.composite
def _numbers(pick: st.DrawFn, name: str) -> dict[str, Any]:
    return {
        parameter.name: pick(_values(parameter))
        for parameter in parameters(name)
        if parameter.default is None or pick(st.booleans())
    }


@settings(max_examples=100, deadline=None)
@given(data=st.data(), name=st.sampled_from(sorted(set(DRAWING_KINDS) - _BOUND_TOGETHER)))
def test_numbers_in_range_always_give_a_drawing(data: st.DataObject, name: str) -> None:
    drawing = draw(name, data.draw(_numbers(name)))
    assert not re.search("nan|inf", re.sub(r"<(title|desc|text)[^>]*>[^<]*", "", drawing.svg))


def _refusal(name: str, numbers: Any) -> str:
    """What the drawing says against the numbers, or nothing if it is made; any other error fails the test."""
    try:
        drawing = draw(name, numbers)
    except DrawingError as error:
        return str(error)
    assert not re.search("nan|inf", re.sub(r"<(title|desc|text)[^>]*>[^<]*", "", drawing.svg))
    return ""


@settings(max_examples=100, deadline=None)
@given(data=st.data(), name=st.sampled_from(sorted(_BOUND_TOGETHER)))
def test_numbers_in_range_are_drawn_or_refused_in_words(data: st.DataObject, name: str) -> None:
    refusal = _refusal(name, data.draw(_numbers(name)))
    assert not refusal or "it needs" in refusal
    assert "\n" not in refusal


@settings(max_examples=60, deadline=None)
@given(
    value=st.one_of(st.text(max_size=12), st.floats(), st.integers(), st.lists(st.floats(), max_size=3).map(tuple)),
    data=st.data(),
)
def test_no_value_whatever_brings_a_drawing_down(value: Any, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(name for name in DRAWING_KINDS if parameters(name))))
    numbers = dict(EXAMPLES[name][0])
    numbers[data.draw(st.sampled_from([parameter.name for parameter in parameters(name)]))] = value
    assert "\n" not in _refusal(name, numbers)


@pytest.mark.parametrize("value", [10**400, "1e400", "4\n2", "\u0000", "−5 mm", "²"])
def test_odd_values_are_refused_in_one_line(value: Any) -> None:
    refusal = _refusal("chain-path", {"chainstay": value, "ring": 32, "sprocket": 40})
    assert "chainstay" in refusal
    assert "\n" not in refusal


@pytest.mark.parametrize("name", ["thread-hand", "bottom-bracket-cups", "rotor-bolts"])
def test_a_turning_direction_is_never_guessed(name: str) -> None:
    """Without the hand, the shell or the mount there is no drawing, rather than one that may show the wrong way."""
    with pytest.raises(DrawingError, match="is missing"):
        draw(name)
