"""A photograph of one's own beside a step: what goes out of it, what is refused, and where it is shown."""

from __future__ import annotations

import os
import re
import shutil
import struct
import zlib
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from builder.build.printer import Printer
from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.contents import Site
from builder.pages.form import Form
from builder.pages.guide_page import guide_page
from builder.pages.paper import Paper
from builder.sources.loaded import Loaded
from builder.sources.photos import photo_files
from builder.sources.workspace import load
from builder.tailoring import tailor
from tests.pages.shop import theme
from tests.sources.broken_cases import SMALL

PHOTO = """\
        photo:
          file: rack.jpg
          alt: The rear rack from behind, its left bolt half out.
          call-outs:
            - {across: 25 %, down: 40 %, text: The bolt.}
            - {across: 98 %, down: 3 %, text: The stay.}
"""
GUIDE = """\
title: Fit the rack
family: whole bike
purpose: The rack carries a bag.
done-when: The rack does not move.
level: first-time
prepare-time: 5 min
work-time: 5 min
work:
  - title: Fit it
    end: The rack is fitted.
    steps:
      - id: hold
        do: Hold the rack over the wheel.
"""
FIRST_LINE = GUIDE.count("\n") + 1


def picture(width: int = 1600, height: int = 1200) -> Image.Image:
    image = Image.new("RGB", (width, height), "#3366aa")
    image.paste("#cc3311", (0, 0, width // 4, height // 4))
    return image


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A workspace whose guide shows a photograph, which stands on its side and tells where it was taken."""
    (tmp_path / "images").mkdir()
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by a quarter
    exif.get_ifd(0x8825)[2] = (52.0, 31.0, 12.0)  # a latitude
    picture().save(tmp_path / "images" / "rack.jpg", exif=exif, comment=b"at home", quality=95)
    write(tmp_path)
    return tmp_path


def write(shop: Path, photo: str = PHOTO) -> None:
    (shop / "rack.yaml").write_text(GUIDE + photo)


def read(shop: Path) -> Loaded:
    return load(shop, SMALL)


def told(shop: Path) -> Diagnostic:
    (found,) = (one for one in read(shop).diagnostics if one.at.file.endswith("rack.yaml"))
    return found


def test_the_pixels_go_out_upright_and_small_and_nothing_else_does(shop: Path) -> None:
    loaded = read(shop)
    assert loaded.diagnostics == ()
    ((name, data),) = photo_files(loaded.library, (SMALL, shop)).items()
    made = Image.open(BytesIO(data))
    assert (made.format, made.size) == ("JPEG", (825, 1100))
    red, _, blue = made.getpixel((800, 20))  # type: ignore[misc]
    assert red > blue  # the corner that was at the top left is at the top right
    assert len(made.getexif()) == 0
    assert "comment" not in made.info
    assert b"Exif" not in data
    assert (loaded.library.photos[0].name, loaded.library.photos[0].width_px) == (name, 825)
    assert photo_files(read(shop).library, (SMALL, shop)) == {name: data}


def bomb(side: int) -> bytes:
    """A PNG of a few bytes that says it is so many pixels wide and high."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 99)) + chunk(b"IEND", b"")


def jpeg(image: Image.Image) -> bytes:
    out = BytesIO()
    image.save(out, "JPEG")
    return out.getvalue()


def moving() -> bytes:
    out = BytesIO()
    frames = [Image.new("RGB", (300, 300), colour) for colour in ("red", "blue")]
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:])
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "data", "message"),
    [
        ("rack.jpg", bomb(30_000), "has more than 60 million pixels"),
        ("rack.jpg", bomb(8_000), "has more than 60 million pixels"),
        ("rack.jpg", b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>', "can be read"),
        ("rack.jpg", b"", "can be read"),
        ("rack.jpg", jpeg(picture())[:900], "can be read"),
        ("rack.jpg", b"\xff\xd8\xff" + b"\0" * 400, "can be read"),
        ("rack.png", b"GIF89a" + b"\0" * 400, "can be read"),
        ("rack.webp", moving(), "'rack.webp' moves"),
        ("rack.jpg", jpeg(picture(150, 900)), "too few to see anything on"),
        ("rack.svg", b"<svg/>", "'rack.svg' is no photograph that can be shown"),
        ("rack.jpg", b"\0" * 25_000_001, "has 25 MB"),
    ],
)
def test_what_is_no_photograph_is_refused(shop: Path, name: str, data: bytes, message: str) -> None:
    (shop / "images" / "rack.jpg").unlink()
    (shop / "images" / name).write_bytes(data)
    write(shop, PHOTO.replace("rack.jpg", name))
    found = told(shop)
    assert message in found.message
    assert (found.at.line, found.at.column) == (FIRST_LINE + 1, 17)
    assert found.hints


@pytest.mark.parametrize("name", ["../secret.jpg", "/etc/passwd.jpg", "link.jpg", "folder/secret.jpg"])
def test_a_file_elsewhere_is_not_shown(shop: Path, name: str) -> None:
    shutil.copy(shop / "images" / "rack.jpg", shop / "secret.jpg")
    (shop / "images" / "link.jpg").symlink_to(shop / "secret.jpg")
    (shop / "images" / "folder").symlink_to(shop)
    write(shop, PHOTO.replace("rack.jpg", name))
    assert told(shop).message == f"'{name}' lies outside the folder 'images'"


def test_what_is_no_file_does_not_hold_the_reading_up(shop: Path) -> None:
    (shop / "images" / "rack.jpg").unlink()
    os.mkfifo(shop / "images" / "rack.jpg")
    assert told(shop).message == "there is no photograph 'rack.jpg'"


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "message", "hint"),
    [
        ("rack.jpg", "rak.jpg", 1, 17, "there is no photograph 'rak.jpg'", "did you mean 'rack.jpg'?"),
        (
            "          alt: The rear rack from behind, its left bolt half out.\n",
            "",
            0,
            9,
            "this photo has no 'alt'",
            "",
        ),
        ("The rear rack from behind, its left bolt half out.", "Photo", 2, 16, "do not tell what", "say what is seen"),
        ("25 %", "125 %", 4, 24, "125", "0 to 100"),
        ("25 %", "25 mm", 4, 24, "mm", ""),
        ("text: The bolt.", "txt: The bolt.", 4, 15, "this call out has no 'text'", ""),
        (
            "        photo:",
            "        figure: hub-cone\n        photo:",
            2,
            11,
            "a drawing and a photograph",
            "keep the one",
        ),
    ],
)
def test_a_mistake_is_told_at_its_place(
    shop: Path, old: str, new: str, line: int, column: int, message: str, hint: str
) -> None:
    assert old in PHOTO
    write(shop, PHOTO.replace(old, new))
    found = next(one for one in read(shop).diagnostics if one.at.file.endswith("rack.yaml"))
    assert message in found.message
    assert (found.at.line - FIRST_LINE, found.at.column) == (line, column)
    assert hint in " ".join((found.label, *found.hints))


def test_it_stands_on_the_page_with_its_words(shop: Path) -> None:
    library = read(shop).library
    site = Site(library=library, generic=(), tailored=(), typeset=str)
    html = guide_page(tailor(library.guides["rack"], library), site, theme()).html
    (svg,) = re.findall(r"<svg[^>]*>(?:(?!</svg>).)*<image.*?</svg>", html)
    assert f'<image href="../photos/{library.photos[0].name}"' in svg
    assert "The rear rack from behind, its left bolt half out.</title>" in svg
    assert " 1 The bolt. 2 The stay.</desc>" in svg
    assert re.search(r"<figcaption><b>1</b> The bolt\. <b>2</b> The stay\.", html)
    # Each number stands within the picture, beside its point.
    rings = [tuple(map(float, found)) for found in re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="2.7"', svg)]
    assert len(rings) == 2
    width, height = 60.0, 80.0
    assert all(2.7 < x < width - 2.7 and 2.7 < y < height - 2.7 for x, y in rings)


@pytest.mark.parametrize("form", [Form.STEPS, Form.TEACHING])
def test_it_is_printed_on_the_cards(shop: Path, form: Form) -> None:
    library = read(shop).library
    printer = Printer((shop,), theme(), photo_files(library, (SMALL, shop)))
    card = tailor(library.guides["rack"], library)
    with pdfplumber.open(BytesIO(printer.pdf(printer.html(card, Paper.A5, form=form)).data)) as pdf:
        images = [image for page in pdf.pages for image in page.images]
        text = " ".join(page.extract_text() for page in pdf.pages)
    assert [image["srcsize"] for image in images] == [(825, 1100)]
    assert "The bolt." in text
    assert "The stay." in text
    alone = printer.html(card, Paper.A5, form=form, standalone=True)
    assert '<image href="data:image/jpeg;base64,' in alone
    assert "photos/" not in alone
