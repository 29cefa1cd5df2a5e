"""Every theme keeps the numbers that legibility asks for, and what a theme may not do is refused."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from jinja2 import UndefinedError
from jinja2.sandbox import SecurityError

from builder.pages.marks import ALERTS
from builder.pages.theme import ThemeError, load_theme
from builder.pages.theme_colours import PAIRS, faint_pairs, is_colour
from builder.printing.faces import face_files
from builder.sources.loaded import shipped_themes
from tests.pages.shop import THEME, THEMES, theme

MM_PER_PT = 25.4 / 72
each_theme = pytest.mark.parametrize("name", THEMES)


def points(name: str, of: str) -> float:
    value = theme(of).tokens[name]
    assert value.endswith("pt")
    return float(value.removesuffix("pt"))


def millimetres(name: str, of: str) -> float:
    value = theme(of).tokens[name]
    assert value.endswith("mm")
    return float(value.removesuffix("mm"))


def files_of_first_face(name: str) -> list[bytes]:
    files = next(iter(face_files(theme(name).card_css).values()))
    return [theme(name).assets[f"assets/{file}"] for file in files]


@each_theme
def test_small_letters_of_a_step_are_a_tenth_of_an_inch_high(name: str) -> None:
    # 0.10 in: Degani 1992, NASA CR-177605, as quoted by others.
    faces = files_of_first_face(name)
    assert len(faces) == 3
    for face in faces:
        font = TTFont(BytesIO(face))
        x_height_em = float(font["OS/2"].sxHeight / font["head"].unitsPerEm)
        assert points("step-size", name) * MM_PER_PT * x_height_em >= 2.54


@each_theme
def test_sizes_keep_their_floors(name: str) -> None:
    assert points("step-size", name) >= 14
    assert 18 <= points("torque-size", name) <= 20
    assert points("safety-size", name) >= 12  # ISO/IEC Guide 37, read in an identical adoption
    assert points("support-size", name) >= 12
    assert points("small-size", name) >= 10  # CAP 676, as quoted by others
    assert float(theme(name).tokens["line"]) >= 1.3
    assert millimetres("tick-box", name) >= 5
    assert millimetres("write-line", name) >= 8
    assert millimetres("sign-size", name) >= 12
    assert millimetres("step-gap", name) >= 4
    assert millimetres("group-gap", name) >= 8


@each_theme
def test_pairs_of_colours_have_contrast(name: str) -> None:
    assert list(faint_pairs(theme(name))) == []
    for pair in PAIRS:
        assert is_colour(theme(name).tokens[pair.ink])
        assert is_colour(theme(name).dark[pair.ground])


def test_a_faint_pair_is_found_in_its_scheme() -> None:
    faint = replace(theme(), dark={**theme().dark, "muted": "#555555"})
    assert [(one.pair.ink, one.pair.ground, one.dark) for one in faint_pairs(faint)] == [
        ("muted", "ground", True),
        ("muted", "raised", True),
    ]


@each_theme
def test_stylesheets_take_colours_from_the_tokens(name: str) -> None:
    for path in (shipped_themes() / name).glob("*.css"):
        if path.name in ("tokens.css", "dark.css"):
            continue
        found = re.findall(r"#[0-9a-fA-F]{3,8}\b", path.read_text())
        # White behind a drawing stays white in the dark, and print is black: both are said where they stand.
        assert [one for one in found if one not in {"#fff", "#000000", "#404040"}] == [], path.name


@each_theme
def test_every_token_that_is_used_exists(name: str) -> None:
    css = "\n".join(path.read_text() for path in (shipped_themes() / name).glob("*.css"))
    of_its_own = set(re.findall(r"--([\w-]+):", css))  # charts and blocks have sizes for themselves
    assert set(re.findall(r"var\(--([\w-]+)", css)) <= theme(name).tokens.keys() | of_its_own


@pytest.mark.parametrize("word", ["danger", "warning", "caution"])
@each_theme
def test_the_alert_symbol_wears_the_colours_of_its_panel(name: str, word: str) -> None:
    mark, tokens = ALERTS[word.upper()], theme(name).tokens
    assert f'fill="{tokens[f"on-{word}"]}"' in mark
    assert f'fill="{tokens[word]}"' in mark


@each_theme
def test_nothing_in_the_theme_comes_from_another_host(name: str) -> None:
    folder = shipped_themes() / name
    for path in (*folder.glob("*.css"), *folder.glob("*.js"), *(folder / "templates").glob("*.html")):
        assert not re.search(r"(?:https?:)?//[a-z]", re.sub(r"^\s*//.*$", "", path.read_text(), flags=re.M)), path.name


@each_theme
def test_the_faces_carry_their_licence(name: str) -> None:
    fonts = shipped_themes() / name / "fonts"
    families = {path.name.rpartition("-")[0].removesuffix("-symbols") for path in fonts.glob("*.woff2")}
    assert families
    for family in families:
        assert "SIL OPEN FONT LICENSE" in (fonts / f"{family}-OFL.txt").read_text().upper()


def test_a_theme_on_another_holds_only_what_differs() -> None:
    whole, lean = (sum(len(one) for one in map(Path.read_bytes, texts_of(name))) for name in ("bench", "ledger"))
    assert lean < 0.15 * whole
    assert theme("ledger").templates.list_templates() == theme("bench").templates.list_templates()


def texts_of(name: str) -> list[Path]:
    folder = shipped_themes() / name
    return [path for pattern in ("*.css", "*.js", "templates/*.html") for path in folder.glob(pattern)]


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
