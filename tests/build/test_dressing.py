"""A workspace's own theme: what ten lines come to, what may be put in place, and what is told of each mistake."""

from __future__ import annotations

import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from builder.build.dressing import Dressed, dressed
from builder.build.printer import Printer
from builder.cli import check
from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Workshop
from builder.model.library import Library
from builder.pages.contents import Site
from builder.pages.paper import Paper
from builder.pages.published import changes_page, lost_page
from builder.pages.theme import Theme, ThemeError
from builder.sources.workspace import load
from builder.tailoring import tailor
from tests.cli.calling import call
from tests.pages.shop import THEME

MARK = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></svg>'
FIRST = """\
mark: mark.svg
tokens:
  accent: '#7a1f3d'
  step-size: 15pt
dark:
  accent: '#f0a3bd'
fonts:
  - {family: Our Face, file: fonts/ours.woff2}
"""


@pytest.fixture(scope="module")
def below(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty library, so that only what a test writes is read."""
    return tmp_path_factory.mktemp("library")


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A theme of one's own, with a mark and a face."""
    folder = tmp_path / "theme"
    (folder / "fonts").mkdir(parents=True)
    (folder / "templates").mkdir()
    (folder / "mark.svg").write_text(MARK)
    shutil.copy(THEME / "fonts" / "fira-sans-symbols-400.woff2", folder / "fonts" / "ours.woff2")
    return folder


@cache
def small() -> Library:
    """A library of one guide."""
    return load(None, Path(__file__).parents[1] / "sources" / "small").library


def site() -> Site:
    return Site(library=small(), generic=(), tailored=(), typeset=str)


def lost(theme: Theme) -> str:
    return lost_page(site(), theme).html


def worn(own: Path, below: Path, text: str = FIRST) -> Dressed:
    (own / "theme.yaml").write_text(text)
    loaded = load(own.parent, below)
    made = dressed(loaded.library, (own.parent,))
    return replace(made, findings=(*loaded.diagnostics, *made.findings))


def test_a_few_lines_change_mark_colours_sizes_and_face(own: Path, below: Path) -> None:
    made = worn(own, below)
    assert made.findings == ()
    theme = made.theme
    assert (theme.tokens["accent"], theme.dark["accent"], theme.tokens["step-size"]) == ("#7a1f3d", "#f0a3bd", "15pt")
    assert theme.tokens["face"] == '"Our Face", "Bench Symbols", sans-serif'
    assert theme.file("fonts/ours.woff2") == (own / "fonts" / "ours.woff2").read_bytes()
    assert theme.icon == "assets/mark.svg"
    css = theme.assets["assets/site.css"].decode()
    assert css.index("--accent: #14532d") < css.index("--accent: #7a1f3d") < css.index(".wide {")
    # The page, and the card by itself, show the mark; nothing of it is fetched.
    assert '<img class="mark mark-own" src="data:image/svg+xml;base64,' in lost(theme)
    assert 'rel="icon" href="assets/mark.svg"' in lost(theme)
    html = Printer((), theme).html(
        tailor(small().guides["cassette"], small()), Paper.A5, Workshop(name="Ours"), standalone=True
    )
    assert '<img class="mark mark-own" src="data:image/svg+xml;base64,' in html
    assert 'url("data:font/woff2;base64,' in html


def test_a_stylesheet_comes_after_the_shipped_one_or_stands_alone(own: Path, below: Path) -> None:
    (own / "site.css").write_text("h1 { letter-spacing: 0.01em }")
    added = worn(own, below, "tokens: {corner: 0}\n").theme.assets["assets/site.css"].decode()
    alone = worn(own, below, "replaces: [site.css]\n").theme.assets["assets/site.css"].decode()
    assert added.endswith("h1 { letter-spacing: 0.01em }")
    assert alone.endswith("h1 { letter-spacing: 0.01em }")
    assert ".finder" in added
    assert ".finder" not in alone
    assert "--accent" in alone


def test_a_template_takes_the_place_of_the_shipped_one(own: Path, below: Path) -> None:
    (own / "templates" / "lost.html").write_text(
        '{% extends "frame.html" %}{% block main %}<h1>Gone fishing</h1>{% endblock %}'
    )
    theme = worn(own, below).theme
    assert "Gone fishing" in lost(theme)
    assert "Gone fishing" not in changes_page(site(), theme).html


def test_without_a_file_the_folder_alone_is_a_theme(own: Path, below: Path) -> None:
    (own / "site.css").write_text("h1 { color: var(--accent) }")
    made = dressed(load(own.parent, below).library, (own.parent,))
    assert made.findings == ()
    assert b"h1 { color: var(--accent) }" in made.theme.assets["assets/site.css"]


@pytest.mark.parametrize(
    ("text", "line", "column", "message", "hint"),
    [
        ("based-on: benhc\n", 1, 11, "unknown theme 'benhc'", "did you mean 'bench'?"),
        ("tokens:\n  acent: '#14532d'\n", 2, 10, "unknown token 'acent'", "did you mean 'accent'?"),
        ("tokens:\n  accent: green\n", 2, 11, "'green' is no colour", "#rrggbb"),
        ("tokens:\n  corner: '0; } body { color: red'\n", 2, 11, "no value for 'corner'", "one value of CSS"),
        ("tokens:\n  corner: url(https://example.org/x)\n", 2, 11, "no value for 'corner'", "one value of CSS"),
        ("tokens:\n  danger: '#00ff00'\n", 2, 11, "a safety colour", "take it away"),
        ("tokens:\n  text: '#8a8a8a'\n", 2, 9, "'text' on 'ground' has a contrast of 3.5 to 1, under 7", "darker"),
        ("dark:\n  link: '#333333'\n", 2, 9, "'link' on 'ground' on a dark screen has a contrast of 1.", "darker"),
        (
            "fonts:\n  - {family: A, file: fonts/our.woff2}\n",
            2,
            23,
            "there is no font 'fonts/our.woff2'",
            "did you mean",
        ),
        ("fonts:\n  - {family: A, file: mark.svg}\n", 2, 23, "a font is a file in WOFF2", "convert it"),
        ("fonts:\n  - {family: 'A\"b', file: fonts/ours.woff2}\n", 2, 14, "can't be the name of a family", "letters"),
        ("mark: mark.png\n", 1, 7, "there is no mark 'mark.png'", "did you mean 'mark.svg'?"),
        ("mark: ../secret.svg\n", 1, 7, "lies outside the theme", "copy it"),
        ("mark: fonts/ours.woff2\n", 1, 7, "a mark is a file in SVG or PNG", "convert it"),
        ("replaces: [sites.css]\n", 1, 12, "unknown stylesheet 'sites.css'", "did you mean 'site.css'?"),
        ("colours: {}\n", 1, 1, "'colours'", ""),
    ],
)
def test_a_mistake_is_told_at_its_place(
    own: Path, below: Path, text: str, line: int, column: int, message: str, hint: str
) -> None:
    (own.parent / "secret.svg").write_text(MARK)
    told = next(one for one in worn(own, below, text).findings if one.gravity is Gravity.ERROR)
    assert Path(told.at.file).name == "theme.yaml"
    assert message in told.message
    assert (told.at.line, told.at.column) == (line, column)
    assert hint in " ".join(told.hints)


def test_a_file_that_is_not_what_it_says_is_refused(own: Path, below: Path) -> None:
    (own / "fonts" / "ours.woff2").write_bytes(b"GIF89a")
    (own / "mark.svg").write_text(MARK + " " * 30_000)
    messages = [one.message for one in worn(own, below).findings]
    assert messages == [
        "the mark has 30 kB, and stands on every page",
        "'fonts/ours.woff2' is not what its ending says",
    ]


def test_a_template_that_can_not_be_read_is_told_with_its_line(own: Path, below: Path) -> None:
    (own / "templates" / "lost.html").write_text("<p>\n{% if title %}\n</p>")
    (own / "templates" / "losst.html").write_text("")
    found = {Path(one.at.file).name: one for one in worn(own, below).findings}
    assert found["lost.html"].at.line == 3
    assert "endif" in found["lost.html"].message
    assert found["losst.html"].gravity is Gravity.NOTE
    assert found["losst.html"].hints == ("did you mean 'lost.html'?",)


@pytest.mark.parametrize("wrong", ["{{ titel }}", "{{ title.nothing }}", "{{ title + 1 }}", "{{ title.__class__ }}"])
def test_a_template_that_fails_names_its_line(own: Path, below: Path, wrong: str) -> None:
    (own / "templates" / "lost.html").write_text(
        f'{{% extends "frame.html" %}}\n{{% block main %}}\n{wrong}\n{{% endblock %}}'
    )
    with pytest.raises(ThemeError, match=r"lost\.html:3: "):
        lost(worn(own, below).theme)


def test_a_mistake_of_a_shipped_template_stays_a_fault_of_the_program(own: Path, below: Path) -> None:
    theme = worn(own, below).theme
    with pytest.raises(Exception, match="undefined") as fault:
        theme.templates.get_template("lost.html").render()
    assert not isinstance(fault.value, ThemeError)


def test_a_new_theme_is_sound_and_check_reads_it(tmp_path: Path, below: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # The library is read and proven elsewhere.
    monkeypatch.setattr(check, "load_remembered", lambda workspace: load(workspace, below))
    monkeypatch.setattr(check, "examined", lambda *_: ())
    shop = tmp_path / "shop"
    assert call("new", "theme", "--workspace", str(shop)).exit_code == 0
    text = (shop / "theme" / "theme.yaml").read_text()
    assert call("check", "--workspace", str(shop)).exit_code == 0
    (shop / "theme" / "theme.yaml").write_text(text.replace("'#7a1f3d'", "'#f0f0f0'"))
    told = call("check", "--workspace", str(shop))
    assert told.exit_code == 1
    assert "'accent' on 'ground' has a contrast of" in told.output
    assert call("new", "theme", "--workspace", str(shop)).exit_code == 2
