"""A process that begins compiles no template that was compiled before, and believes no code but its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from jinja2 import Environment

from builder.build.store import Store
from builder.build.template_code import TemplateCode
from builder.pages.theme import templates_of

GREETING = {"greeting.html": "Good morning, {{ name }}."}


def begun(folder: Path, texts: dict[str, str], seal: bytes = b"s" * 32) -> Environment:
    """The templates as a process that begins has them, with what was kept in a folder."""
    templates = templates_of(texts)
    templates.bytecode_cache = TemplateCode(Store(folder, seal))
    return templates


def greeted(templates: Environment) -> str:
    return templates.get_template("greeting.html").render(name="Heron")


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The texts that are compiled from now on."""
    found: list[str] = []
    plain = Environment.compile

    def noted(self: Environment, source: str, *args: object, **more: object) -> object:
        found.append(source)
        return plain(self, source, *args, **more)  # type: ignore[call-overload]

    monkeypatch.setattr(Environment, "compile", noted)
    return found


def test_what_was_compiled_before_is_not_compiled_again(tmp_path: Path, compiled: list[str]) -> None:
    for _ in range(3):
        assert greeted(begun(tmp_path, GREETING)) == "Good morning, Heron."
    assert compiled == [*GREETING.values()]


def test_another_text_is_another_template_and_both_are_kept(tmp_path: Path, compiled: list[str]) -> None:
    later = {"greeting.html": "Good evening, {{ name }}."}
    for _ in range(2):
        assert greeted(begun(tmp_path, GREETING)) == "Good morning, Heron."
        assert greeted(begun(tmp_path, later)) == "Good evening, Heron."
    assert compiled == [*GREETING.values(), *later.values()]


def test_code_that_somebody_else_put_there_is_not_run(tmp_path: Path, compiled: list[str]) -> None:
    assert greeted(begun(tmp_path, GREETING, seal=b"t" * 32)) == "Good morning, Heron."
    assert greeted(begun(tmp_path, GREETING)) == "Good morning, Heron."
    assert len(compiled) == 2
    for path in tmp_path.iterdir():
        path.write_bytes(path.read_bytes()[:-1])
    assert greeted(begun(tmp_path, GREETING)) == "Good morning, Heron."
    assert len(compiled) == 3
