"""Photographs of one's own: read, made small, freed from everything but the picture, or refused.

A picture comes from anybody's telephone: it holds the place where it was taken, it may be huge, and it may be no
picture at all. What goes out is a new JPEG of the pixels alone.
"""

from __future__ import annotations

import hashlib
import os
import stat
import warnings
from collections.abc import Iterable, Iterator
from functools import lru_cache
from io import BytesIO
from pathlib import Path

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.guide import Photo, Step
from builder.model.library import Library, TakenPhoto
from builder.model.steps import written_steps
from builder.sources.hints import choices

FOLDER = "images"
_FORMATS = ("JPEG", "PNG", "WEBP")
_SUFFIXES = (".jpg", ".jpeg", ".png", ".webp")
# Cameras of telephones take up to some 50 megapixels and 20 MB; what is larger is a mistake or an attack.
_MOST_BYTES = 25_000_000
_MOST_PIXELS = 60_000_000
_LEAST_PX = 200
# 90 mm at 300 dots an inch, and sharp on a wide page.
_WIDEST_PX = 1_100
_QUALITY = 80
_MOST_CALL_OUTS = 9
_KEPT = 64


class _Refused(Exception):
    """A picture that is not taken; the message says why, the second argument how to mend it."""


def photos_of(library: Library, folders: Iterable[Path]) -> tuple[tuple[TakenPhoto, ...], tuple[Diagnostic, ...]]:
    """The photographs that steps show, each once, from the last of `folders` that has it; and what is wrong."""
    layers = tuple(folders)
    taken: dict[str, TakenPhoto] = {}
    found: list[Diagnostic] = []
    for _, step in written_steps(library):
        photo = step.photo
        if photo is None:
            continue
        found.extend(_wrong(step, photo))
        if photo.file in taken:
            continue
        try:
            data, width, height = _prepared(_file(photo.file, layers))
        except _Refused as refusal:
            message, hint = refusal.args
            found.append(Diagnostic(rule="photo", message=message, at=photo.places.of("file"), hints=(hint,)))
        else:
            name = f"{hashlib.sha256(data).hexdigest()[:16]}.jpg"
            taken[photo.file] = TakenPhoto(file=photo.file, name=name, width_px=width, height_px=height)
    return tuple(taken.values()), tuple(found)


def photo_files(library: Library, folders: Iterable[Path]) -> dict[str, bytes]:
    """The pictures that go beside the pages, by their names there."""
    layers = tuple(folders)
    return {photo.name: _prepared(_file(photo.file, layers))[0] for photo in library.photos}


def _wrong(step: Step, photo: Photo) -> Iterator[Diagnostic]:
    """What is wrong with what is said of a photograph."""
    if step.figure:
        message = f"step '{step.id}' shows a drawing and a photograph"
        yield Diagnostic(rule="photo", message=message, at=photo.places.at, hints=("keep the one that shows more",))
    if photo.alt.strip().lower().rstrip(".") in ("photo", "photograph", "picture", "image", photo.file.lower()):
        yield Diagnostic(
            rule="photo",
            message="these words do not tell what the photograph shows",
            at=photo.places.of("alt"),
            hints=("say what is seen, for who can't see it: 'The hanger from behind, its bolt half out.'",),
        )
    if len(photo.call_outs) > _MOST_CALL_OUTS:
        yield Diagnostic(
            rule="photo",
            message=f"{len(photo.call_outs)} call-outs on one photograph; at most {_MOST_CALL_OUTS} can be told apart",
            at=photo.places.of("call-outs"),
            hints=("show two photographs at two steps",),
        )


def _file(name: str, layers: tuple[Path, ...]) -> Path:
    """The file of a photograph.

    Raises:
        _Refused: it is not there, or lies elsewhere.
    """
    if Path(name).suffix.lower() not in _SUFFIXES:
        raise _Refused(f"'{name}' is no photograph that can be shown", "save it as JPEG, PNG or WebP")
    for layer in reversed(layers):
        inside = layer / FOLDER
        path = inside / name
        real, root = os.path.realpath(path), os.path.realpath(inside)
        if not real.startswith(root.rstrip(os.sep) + os.sep):
            raise _Refused(f"'{name}' lies outside the folder '{FOLDER}'", f"copy the photograph into {FOLDER}/")
        if path.is_file():
            return path
    known = sorted(
        path.relative_to(layer / FOLDER).as_posix()
        for layer in layers
        for path in (layer / FOLDER).rglob("*")
        if path.suffix.lower() in _SUFFIXES
    )
    hint = choices(name, known[:20], "there are") if known else f"put the photograph into {FOLDER}/"
    raise _Refused(f"there is no photograph '{name}'", hint)


def _prepared(path: Path) -> tuple[bytes, int, int]:
    """The new picture of a file with its size in pixels.

    Raises:
        _Refused: it can't be read, or is not taken.
    """
    try:
        status = path.stat()
    except OSError as error:
        raise _Refused(f"the photograph can not be read: {error.strerror}", "look at the file's rights") from None
    if not stat.S_ISREG(status.st_mode):
        raise _Refused(f"'{path.name}' is no plain file", "copy the photograph itself there")
    if status.st_size > _MOST_BYTES:
        raise _Refused(
            f"'{path.name}' has {status.st_size // 1_000_000} MB", f"make it smaller than {_MOST_BYTES // 1_000_000} MB"
        )
    return _made(path, status.st_size, status.st_mtime_ns)


def _refuse_cut_off_pictures() -> None:
    """The printing library lets the picture library fill up what is cut off, for the whole process."""
    from PIL import ImageFile

    ImageFile.LOAD_TRUNCATED_IMAGES = False


@lru_cache(maxsize=_KEPT)
def _made(path: Path, _size: int, _stamp: int) -> tuple[bytes, int, int]:
    from PIL import Image, ImageOps

    unreadable = f"'{path.name}' is no photograph that can be read", "open it and save it anew as JPEG"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # its size is held below
            picture = Image.open(path, formats=_FORMATS)
    except Image.DecompressionBombError:
        raise _Refused(*_too_many(path)) from None
    except Exception:  # whatever a hostile file makes the reader raise
        raise _Refused(*unreadable) from None
    with picture:
        width, height = picture.size
        if width * height > _MOST_PIXELS:
            raise _Refused(*_too_many(path))
        if min(width, height) < _LEAST_PX:
            raise _Refused(
                f"'{path.name}' has {width} × {height} pixels, too few to see anything on",
                f"take one of {_WIDEST_PX} pixels and more; {_LEAST_PX} is the least",
            )
        if getattr(picture, "n_frames", 1) != 1:
            raise _Refused(f"'{path.name}' moves", "save one picture of it")
        try:
            _refuse_cut_off_pictures()
            picture.draft("RGB", (2 * _WIDEST_PX, 2 * _WIDEST_PX))  # a large JPEG is read at a smaller size
            upright = ImageOps.exif_transpose(picture)
            upright.thumbnail((_WIDEST_PX, _WIDEST_PX), Image.Resampling.LANCZOS)
            # Only the pixels go on: what a camera writes beside them, as the place, stays behind.
            plain = Image.new("RGB", upright.size, "white")
            if upright.has_transparency_data:
                seen = upright.convert("RGBA")
                plain.paste(seen, mask=seen.getchannel("A"))
            else:
                plain.paste(upright.convert("RGB"))
            out = BytesIO()
            plain.save(out, "JPEG", quality=_QUALITY, optimize=True, progressive=True)
        except Exception:
            raise _Refused(*unreadable) from None
    return out.getvalue(), *plain.size


def _too_many(path: Path) -> tuple[str, str]:
    message = f"'{path.name}' has more than {_MOST_PIXELS // 1_000_000} million pixels"
    return message, f"make it about {_WIDEST_PX} pixels wide"
