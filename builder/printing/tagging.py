"""Make what the tags of a written PDF say true, so that it may claim to be accessible.

    structure and marks as the printing library writes them ─► only what a reader needs, all else an artifact

A picture without words of its own stands beside the words that it repeats, so that it is an artifact; bands at the edge
of a side are artifacts of pagination; an element without content goes; a heading of a table says which cells it heads;
a table without headings only lays out. What the tree doesn't hold is nothing that its marks may name.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from typing import Any

# Written as the printing library writes it: the kind of an element, and its number on the page or the form.
MARK = re.compile(rb"/(\w+)\s*<<\s*/MCID\s+(\d+)\s*>>\s*BDC")
# ISO 14289-1, which this module makes true.
VARIANT = "pdf/ua-1"
_PT_PER_PX = 0.75
_ARTIFACT = b"/Artifact BMC"
PAGINATION = b"/Artifact <</Type /Pagination>> BDC"
# A cell may be empty, since its row must have it.
_CELLS = frozenset({"/TD", "/TH"})
_OF_TABLES = frozenset({"/Table", "/THead", "/TBody", "/TFoot", "/TR", "/TD"})

Place = tuple[int, int]


def trued_bytes(data: bytes) -> bytes:
    """The same PDF with tags that are true."""
    import pikepdf

    with pikepdf.open(io.BytesIO(data)) as pdf:
        true_tags(pdf)
        return written(pdf)


def written(pdf: Any) -> bytes:
    """The bytes of a PDF, the same for the same content."""
    import pikepdf

    out = io.BytesIO()
    pdf.save(
        out,
        deterministic_id=True,
        object_stream_mode=pikepdf.ObjectStreamMode.generate,
        compress_streams=True,
    )
    return out.getvalue()


def true_tags(pdf: Any) -> None:
    """Change the tags of a PDF so that they are true."""
    root = pdf.Root.get("/StructTreeRoot")
    if root is None:
        return
    kept: dict[Place, set[int]] = {}
    for document in root.K:
        _head_cells(document)
        _prune(document, kept)
        _boxes(pdf, document)
    parents = {int(key): row for key, row in _pairs(root.ParentTree.Nums)}
    for holder, content in _marked(pdf):
        mine = kept.get(holder.objgen, set())
        _turn_into_artifacts(content, mine)
        row = parents.get(int(holder.StructParents), ())
        for number in range(len(row)):
            if number not in mine:
                row[number] = None


def _prune(element: Any, kept: dict[Place, set[int]]) -> bool:
    """Take out what is empty, and pictures without words; note what marked content is left. Whether it may stay."""
    import pikepdf

    kind = str(element.get("/S"))
    if kind == "/Figure" and not str(element.get("/Alt", "")).strip():
        return False
    kids = []
    for kid in element.get("/K", ()):
        if isinstance(kid, int):
            kept.setdefault(element.Pg.objgen, set()).add(int(kid))
        elif kid.get("/Type") == pikepdf.Name.MCR:
            kept.setdefault(kid.get("/Stm", kid.get("/Pg")).objgen, set()).add(int(kid.MCID))
        elif kid.get("/Type") != pikepdf.Name.OBJR and not _prune(kid, kept):
            continue
        kids.append(kid)
    element["/K"] = pikepdf.Array(kids)
    return bool(kids) or kind in _CELLS


def _boxes(pdf: Any, document: Any) -> None:
    """Say where a picture stands on its page; the printing library counts pixels from the top of what it laid out."""
    import pikepdf

    heights = {page.obj.objgen: float(page.mediabox[3]) for page in pdf.pages}
    for figure in _below(document):
        if figure.get("/S") != "/Figure" or "/A" not in figure:
            continue
        top = heights[figure.Pg.objgen]
        x0, y0, x1, y1 = (float(value) * _PT_PER_PX for value in figure.A.BBox)
        figure.A.BBox = pikepdf.Array([round(value, 2) for value in (x0, top - y1, x1, top - y0)])


def _head_cells(element: Any) -> None:
    """Say of each heading of each table what it heads; make a table without headings plain divisions."""
    for inner in _below(element):
        if inner.get("/S") != "/Table":
            continue
        parts = [inner, *_below(inner)]
        if any(part.get("/S") == "/TH" for part in parts):
            _scope(inner)
        else:
            _plain_divisions(parts)


def _scope(table: Any) -> None:
    """A heading beside data heads its row, any other its column; so it needs no list of the cells' headings."""
    import pikepdf

    for row in _below(table):
        if row.get("/S") != "/TR":
            continue
        has_data = any(cell.get("/S") == "/TD" for cell in row.K)
        for cell in row.K:
            shape = cell.get("/A", pikepdf.Dictionary(O=pikepdf.Name.Table))
            for name in ("/Headers", "/ID"):
                for holder in (shape, cell):
                    if name in holder:
                        del holder[name]
            if cell.get("/S") == "/TH":
                shape["/Scope"] = pikepdf.Name.Row if has_data else pikepdf.Name.Column
            cell["/A"] = shape


def _plain_divisions(parts: Iterable[Any]) -> None:
    import pikepdf

    for part in parts:
        if str(part.get("/S")) in _OF_TABLES:
            part["/S"] = pikepdf.Name.Div
            if "/A" in part:
                del part["/A"]


def _below(element: Any) -> Iterator[Any]:
    """Every element below another, in the order of reading."""
    for kid in element.get("/K", ()):
        if not isinstance(kid, int) and "/S" in kid:
            yield kid
            yield from _below(kid)


def _pairs(nums: Any) -> Iterator[tuple[Any, Any]]:
    import pikepdf

    for at in range(0, len(nums), 2):
        if isinstance(nums[at + 1], pikepdf.Array):
            yield nums[at], nums[at + 1]


def _marked(pdf: Any) -> Iterator[tuple[Any, Any]]:
    """Whatever has marks: each page with its content, and each form, which is its own content."""
    import pikepdf

    seen: set[Place] = set()
    for page in pdf.pages:
        if "/StructParents" in page.obj:
            page.contents_coalesce()
            yield page.obj, page.obj.Contents
        for form in page.obj.Resources.get("/XObject", pikepdf.Dictionary()).values():
            if "/StructParents" in form and form.objgen not in seen:
                seen.add(form.objgen)
                yield form, form


def _turn_into_artifacts(content: Any, kept: set[int]) -> None:
    def turned(found: re.Match[bytes]) -> bytes:
        if int(found[2]) in kept:
            return found[0]
        return _ARTIFACT if found[1] == b"Figure" else PAGINATION

    before = content.read_bytes()
    after = MARK.sub(turned, before)
    if after != before:
        content.write(after)
