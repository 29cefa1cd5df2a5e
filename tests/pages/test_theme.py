"""The theme keeps the numbers that legibility asks for."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from jinja2 import UndefinedError
from jinja2.sandbox import SecurityError

from builder.checks.contrast import contrast_ratio
from builder.pages.marks import ALERTS
from builder.pages.theme import ThemeError, load_theme
from tests.pages.shop import THEME

PAPER = (THEME / "tokens.css").read_text()
DARK = (THEME / "dark.css").read_text()
MM_PER_PT = 25.4 / 72


def token(name: str, text: str = PAPER) -> str:
    found = re.search(rf"--{name}:\s*([^;]+);", text)
    assert found, f"no token --{name}"
    return found[1]


def points(name: str) -> float:
    assert token(name).endswith("pt")
    return float(token(name).removesuffix("pt"))


def millimetres(name: str) -> float:
    assert token(name).endswith("mm")
    return float(token(name).removesuffix("mm"))


def channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def x_height_em(weight: int) -> float:
    font = TTFont(THEME / "fonts" / f"atkinson-hyperlegible-next-{weight}.woff2")
    return float(font["OS/2"].sxHeight / font["head"].unitsPerEm)


@pytest.mark.parametrize("weight", [400, 500, 700])
def test_small_letters_of_a_step_are_a_tenth_of_an_inch_high(weight: int) -> None:
    # 0.10 in: Degani 1992, NASA CR-177605, as quoted by others.
    assert points("step-size") * MM_PER_PT * x_height_em(weight) >= 2.54


def test_sizes_keep_their_floors() -> None:
    assert points("step-size") >= 14
    assert 18 <= points("torque-size") <= 20
    assert points("safety-size") >= 12  # ISO/IEC Guide 37, read in an identical adoption
    assert points("support-size") >= 12
    assert points("small-size") >= 10  # CAP 676, as quoted by others
    assert float(token("line")) >= 1.3
    assert millimetres("tick-box") >= 5
    assert millimetres("write-line") >= 8
    assert millimetres("sign-size") >= 12
    assert millimetres("step-gap") >= 4
    assert millimetres("group-gap") >= 8


@pytest.mark.parametrize(
    ("ink", "ground", "least"),
    [
        ("ink", "paper", 7.0),
        ("quiet", "paper", 7.0),
        ("ink", "band", 7.0),
        ("on-danger", "danger", 4.5),
        ("on-warning", "warning", 4.5),
        ("on-caution", "caution", 4.5),
        ("on-notice", "notice", 4.5),
        ("text", "ground", 7.0),
        ("text", "raised", 7.0),
        ("muted", "ground", 4.5),
        ("link", "ground", 4.5),
        ("visited", "ground", 4.5),
        ("link", "raised", 4.5),
        ("focus", "ground", 3.0),
        ("accent", "ground", 3.0),
    ],
)
def test_pairs_of_colours_have_contrast(ink: str, ground: str, least: float) -> None:
    # WCAG 2.2, 1.4.3, 1.4.6 and 1.4.11.
    assert contrast_ratio(channels(token(ink)), channels(token(ground))) >= least


@pytest.mark.parametrize(
    ("ink", "ground", "least"),
    [
        ("text", "ground", 7.0),
        ("text", "raised", 7.0),
        ("muted", "ground", 4.5),
        ("link", "ground", 4.5),
        ("visited", "ground", 4.5),
        ("link", "raised", 4.5),
        ("focus", "ground", 3.0),
        ("accent", "ground", 3.0),
    ],
)
def test_pairs_of_colours_have_contrast_in_the_dark(ink: str, ground: str, least: float) -> None:
    assert contrast_ratio(channels(token(ink, DARK)), channels(token(ground, DARK))) >= least


@pytest.mark.parametrize("sheet", ["card.css", "site.css"])
def test_stylesheets_take_colours_from_the_tokens(sheet: str) -> None:
    text = (THEME / sheet).read_text()
    # White behind a drawing or a verdict stays white in the dark, and print is black: both are said where they stand.
    stray = [found for found in re.findall(r"#[0-9a-fA-F]{3,8}\b", text) if found not in {"#fff", "#000000", "#404040"}]
    assert stray == []


@pytest.mark.parametrize("sheet", ["card.css", "site.css"])
def test_every_token_that_is_used_exists(sheet: str) -> None:
    for name in set(re.findall(r"var\(--([\w-]+)", (THEME / sheet).read_text())):
        token(name)


@pytest.mark.parametrize("word", ["danger", "warning", "caution"])
def test_the_alert_symbol_wears_the_colours_of_its_panel(word: str) -> None:
    mark = ALERTS[word.upper()]
    assert f'fill="{token(f"on-{word}")}"' in mark
    assert f'fill="{token(word)}"' in mark


def test_nothing_in_the_theme_comes_from_another_host() -> None:
    for path in (*THEME.glob("*.css"), *THEME.glob("*.js"), *(THEME / "templates").glob("*.html")):
        assert not re.search(r"(?:https?:)?//[a-z]", re.sub(r"^\s*//.*$", "", path.read_text(), flags=re.M)), path.name


def test_the_faces_carry_their_licence() -> None:
    for name in ("atkinson-hyperlegible-next-OFL.txt", "fira-sans-OFL.txt"):
        assert "SIL OPEN FONT LICENSE" in (THEME / "fonts" / name).read_text().upper()


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A copy of the theme, as somebody else might hand it over."""
    return Path(shutil.copytree(THEME, tmp_path / "own"))


@pytest.mark.parametrize(
    "attack",
    [
        "{{ ''.__class__.__mro__[1].__subclasses__() }}",
        "{{ cycler.__init__.__globals__.os.popen('true').read() }}",
        "{{ self.__init__.__globals__ }}",
        "{{ things.append(1) }}",
        "{{ render.__globals__ }}",
    ],
)
def test_templates_of_somebody_else_reach_nothing_but_what_they_are_given(own: Path, attack: str) -> None:
    (own / "templates" / "card.html").write_text(attack)
    template = load_theme(own).templates.get_template("card.html")
    with pytest.raises((SecurityError, UndefinedError)):
        template.render(things=[], render=load_theme)


@pytest.mark.parametrize("name", ["fonts/leak.woff2", "leak.svg", "templates/leak.html", "site.css"])
def test_a_theme_shows_no_file_of_the_machine(own: Path, tmp_path: Path, name: str) -> None:
    (tmp_path / "secret").write_text("swordfish")
    (own / name).unlink(missing_ok=True)
    (own / name).symlink_to(tmp_path / "secret")
    with pytest.raises(ThemeError, match="leads out of the theme"):
        load_theme(own)


def test_a_stylesheet_that_is_not_utf8_is_told(own: Path) -> None:
    (own / "site.css").write_bytes(b"/* \xff */")
    with pytest.raises(ThemeError, match="not UTF-8"):
        load_theme(own)
