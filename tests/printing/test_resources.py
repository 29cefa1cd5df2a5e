"""A document brings in files of the theme and the workspace, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.printing.pdf import PdfWriter
from builder.printing.resources import ResourceRefused, allowed_file
from tests.pages.shop import THEME, theme


def test_a_file_of_the_theme_is_given() -> None:
    assert allowed_file((THEME / "tokens.css").as_uri(), (THEME,)) == THEME / "tokens.css"


@pytest.mark.parametrize(
    "address",
    [
        "https://example.org/a.png",
        "http://localhost/a.png",
        "ftp://example.org/a",
        "file:///etc/passwd",
        "file://example.org/etc/passwd",
        f"{THEME.as_uri()}/../../pyproject.toml",
        f"{THEME.as_uri()}/%2e%2e/%2e%2e/pyproject.toml",
    ],
)
def test_an_address_elsewhere_is_refused(address: str) -> None:
    with pytest.raises(ResourceRefused):
        allowed_file(address, (THEME,))


def test_a_link_that_leads_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    secret, inside = tmp_path / "secret.txt", tmp_path / "workspace"
    secret.write_text("secret")
    inside.mkdir()
    (inside / "link.txt").symlink_to(secret)
    with pytest.raises(ResourceRefused):
        allowed_file((inside / "link.txt").as_uri(), (inside,))


def test_a_picture_outside_is_not_in_the_pdf(tmp_path: Path) -> None:
    picture = tmp_path / "outside.svg"
    picture.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"><text y="9">leak</text></svg>')
    html = f'<html lang="en"><title>t</title><body class="on-a5"><p>here</p><img alt="a" src="{picture.as_uri()}">'
    outside = PdfWriter(theme()).pdf_bytes(html)
    inside = PdfWriter(theme(), (tmp_path,)).pdf_bytes(html)
    assert len(inside) > len(outside)
