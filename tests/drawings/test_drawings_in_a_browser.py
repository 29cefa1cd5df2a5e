"""Every example drawing laid out by a real browser, in a narrow and in a wide sans face.

What is asked: no word and no line leaves its drawing, and no word covers another.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from builder.drawings.registry import draw
from tests.drawings.examples import CASES, case_id

_CHROMIUM = shutil.which("chromium")
_FACES = ("Liberation Sans", "DejaVu Sans")
_SLACK_MM = 0.15  # a hair's breadth over the edge is nothing that an eye can see
_SCRIPT = """
<script>
const found = [...document.querySelectorAll('svg')].map(svg => {
  const frame = svg.getBoundingClientRect(), scale = svg.viewBox.baseVal.width / frame.width;
  const inside = box => [
    (box.left - frame.left) * scale, (box.top - frame.top) * scale,
    (box.right - frame.left) * scale, (box.bottom - frame.top) * scale];
  const ringed = box => {
    const x = (box[0] + box[2]) / 2, y = (box[1] + box[3]) / 2;
    return [x - 2.7, y - 2.7, x + 2.7, y + 2.7];
  };
  const words = [...svg.querySelectorAll('text')].map(t => {
    const box = inside(t.getBoundingClientRect());
    return [t.textContent, ...(t.dataset.part === 'call-out' ? ringed(box) : box)];
  });
  const shapes = [...svg.querySelectorAll('line,circle,ellipse,rect,polyline,polygon,path')].map(shape => {
    const half = (parseFloat(shape.getAttribute('stroke-width')) || 0) / 2, box = inside(shape.getBoundingClientRect());
    return [shape.outerHTML.slice(0, 90), box[0] - half, box[1] - half, box[2] + half, box[3] + half];
  });
  return {words, shapes};
});
document.body.innerHTML = '<pre>' + JSON.stringify(found).replace(/&/g, '&amp;').replace(/</g, '&lt;') + '</pre>';
</script>
"""


@pytest.fixture(scope="module", params=_FACES)
def laid_out(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    """What the browser measured, one entry a case: the boxes of words and shapes in millimetres."""
    if _CHROMIUM is None:
        pytest.skip("no Chromium on this machine")
    drawings = [
        draw(name, numbers).to_svg(prefix=f"d{number}", font_family=request.param)
        for number, (name, numbers) in enumerate(CASES)
    ]
    page: Path = tmp_path_factory.mktemp("drawings") / "all.html"
    page.write_text(f'<!doctype html><html lang="en"><meta charset="utf-8"><body>{"".join(drawings)}{_SCRIPT}')
    command = [
        _CHROMIUM,
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--no-first-run",
        f"--user-data-dir={page.parent / 'profile'}",
        "--dump-dom",
        page.as_uri(),
    ]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    found = re.search(r"<pre>(.*)</pre>", done.stdout, re.DOTALL)
    assert found is not None
    measured: list[dict[str, Any]] = json.loads(unescape(found[1]))
    assert len(measured) == len(CASES)
    return measured


def test_no_word_and_no_line_leaves_its_drawing(laid_out: list[dict[str, Any]]) -> None:
    outside = []
    for case, measured in zip(CASES, laid_out, strict=True):
        drawing = draw(*case)
        for what, left, top, right, bottom in (*measured["words"], *measured["shapes"]):
            over = max(-left, -top, right - drawing.width_mm, bottom - drawing.height_mm)
            if over > _SLACK_MM:
                outside.append(f"{case_id(case)}: {what!r} by {over:.2f} mm")
    assert not outside, "\n".join(outside)


def test_no_word_covers_another(laid_out: list[dict[str, Any]]) -> None:
    covered = []
    for case, measured in zip(CASES, laid_out, strict=True):
        words = measured["words"]
        for index, (one, left, top, right, bottom) in enumerate(words):
            for other, left_2, top_2, right_2, bottom_2 in words[index + 1 :]:
                # Line boxes are taller than letters: a quarter of their height may overlap.
                across = min(right, right_2) - max(left, left_2)
                down = min(bottom, bottom_2) - max(top, top_2) - 0.25 * min(bottom - top, bottom_2 - top_2)
                if across > _SLACK_MM and down > _SLACK_MM:
                    covered.append(f"{case_id(case)}: {one!r} and {other!r}")
    assert not covered, "\n".join(covered)
