"""Put the galleys of a card on its sides, in one tagged PDF.

    a PDF with a page a galley, then a page of bands a side ─► the sides, each galley a form on its side

Each galley becomes a form XObject, cut to its height. What the tags say of a page is carried over to its form, so that
the structure that was laid out stays true: content that is marked within a form is named by side and form. The bands
are artifacts.
"""

from __future__ import annotations

import io
from typing import Any

from builder.printing.galleys import Composed, bookmarks
from builder.printing.tagging import PAGINATION, true_tags, written

_PT_PER_MM = 72 / 25.4
_TAGGING = frozenset({"BDC", "BMC", "EMC"})


def imposed(data: bytes, card: Composed) -> bytes:
    """The PDF of the sides; `data` has the pages of `card.galleys` first and then those of its bands."""
    import pikepdf

    with pikepdf.open(io.BytesIO(data)) as pdf:
        count = len(card.galleys)
        galleys, sides = list(pdf.pages)[:count], list(pdf.pages)[count:]
        untagged = [_artifacts_only(side) for side in sides]
        forms: dict[tuple[int, int], tuple[Any, Any, int]] = {}
        streams: list[list[bytes]] = [[] for _ in sides]
        for number, (galley, place) in enumerate(zip(galleys, card.places, strict=True)):
            side = sides[place.side]
            form = _form(galley, place.height_mm)
            key = int(galley.obj.get("/StructParents", -1))
            if key >= 0:
                form["/StructParents"] = key
            height = float(galley.mediabox[3])
            left = card.leaf.margin_mm if place.spans else card.leaf.left_mm(place.column)
            x = left * _PT_PER_MM
            y = float(side.mediabox[3]) - (card.leaf.head_mm + place.top_mm) * _PT_PER_MM - height
            name = pikepdf.Name(f"/G{number}")
            side.obj.Resources.XObject[name] = form
            streams[place.side].append(b"q 1 0 0 1 %.3f %.3f cm %s Do Q" % (x, y, str(name).encode()))
            forms[galley.obj.objgen] = (side.obj, form, key)
        for side, bands, placed in zip(sides, untagged, streams, strict=True):
            side.obj.Contents = pdf.make_stream(b"\n".join((bands, *placed)))
            side.obj["/Tabs"] = pikepdf.Name.S
        _carry_tags(pdf, forms)
        del pdf.pages[:count]
        true_tags(pdf)
        _write_bookmarks(pdf, card)
        return written(pdf)


def _form(page: Any, height_mm: float) -> Any:
    """A page as a form, cut to the height of its block: what lies below is white."""
    form = page.as_form_xobject()
    width, height = float(page.mediabox[2]), float(page.mediabox[3])
    form["/BBox"] = [0, height - height_mm * _PT_PER_MM - 1, width, height]
    return form


def _artifacts_only(side: Any) -> bytes:
    """The content of a page of bands as one artifact, with resources of its own; its tags are taken from it."""
    import pikepdf

    kept = [
        instruction for instruction in pikepdf.parse_content_stream(side) if str(instruction.operator) not in _TAGGING
    ]
    resources = pikepdf.Dictionary(dict(side.obj.Resources.items()))
    shared = side.obj.Resources.get("/XObject")
    resources["/XObject"] = pikepdf.Dictionary({} if shared is None else dict(shared.items()))
    side.obj.Resources = resources
    if "/StructParents" in side.obj:
        del side.obj["/StructParents"]
    return PAGINATION + b" q\n" + pikepdf.unparse_content_stream(kept) + b"\nQ EMC"


def _carry_tags(pdf: Any, forms: dict[tuple[int, int], tuple[Any, Any, int]]) -> None:
    """Let every element of structure name the side and the form that its content now stands in."""
    root = pdf.Root.get("/StructTreeRoot")
    if root is None:
        return
    parents = _by_number(root.ParentTree.Nums)
    document = root.K[0]
    kept = [kid for kid in document.K if _carried(kid, forms)]
    document.K = pdf.make_indirect(_array(kept))
    keys = sorted(key for _, _, key in forms.values() if key >= 0)
    nums: list[Any] = []
    for key in keys:
        nums += [key, pdf.make_indirect(_array(parents[key]))]
    root.ParentTree.Nums = pdf.make_indirect(_array(nums))
    root["/ParentTreeNextKey"] = (keys[-1] + 1) if keys else 0


def _array(items: Any) -> Any:
    import pikepdf

    return pikepdf.Array(items)


def _by_number(nums: Any) -> dict[int, list[Any]]:
    return {int(nums[at]): list(nums[at + 1]) for at in range(0, len(nums), 2) if _is_array(nums[at + 1])}


def _is_array(thing: Any) -> bool:
    import pikepdf

    return isinstance(thing, pikepdf.Array)


def _carried(element: Any, forms: dict[tuple[int, int], tuple[Any, Any, int]]) -> bool:
    """Move an element and all below it to its side; whether that side holds it."""
    import pikepdf

    at = element.get("/Pg")
    if at is None or at.objgen not in forms:
        return False
    side, form, _ = forms[at.objgen]
    element["/Pg"] = side
    kept: list[Any] = []
    for kid in element.get("/K", []):
        if isinstance(kid, int):
            kept.append(pikepdf.Dictionary(Type=pikepdf.Name.MCR, Pg=side, Stm=form, MCID=int(kid)))
        elif _carried(kid, forms):
            kept.append(kid)
    element["/K"] = _array(kept)
    return True


def _write_bookmarks(pdf: Any, card: Composed) -> None:
    import pikepdf

    if "/Outlines" in pdf.Root:
        del pdf.Root["/Outlines"]
    found = list(bookmarks(card))
    if not found:
        return
    with pdf.open_outline() as outline:
        outline.root.extend(pikepdf.OutlineItem(title, side) for title, side in found)
