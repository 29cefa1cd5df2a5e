"""Byte code of the methods that `dataclasses` writes as text, kept from when the program was compiled for browsers.

A dataclass has its methods compiled whenever its module is imported, which took half of the start in a browser. What is
kept is found by the digest of the very text; a text that is not known is compiled as ever.
"""

from __future__ import annotations

import builtins
import dataclasses
import hashlib
import marshal
from collections.abc import Mapping
from types import CodeType
from typing import Any

_MODULE: Any = dataclasses


def keep() -> Mapping[bytes, CodeType]:
    """From now on, keep what is compiled for dataclasses; what it returns grows with each."""
    kept: dict[bytes, CodeType] = {}
    _have_run({}, kept)
    return kept


def as_bytes(kept: Mapping[bytes, CodeType]) -> bytes:
    """What was kept, for the same version of the interpreter."""
    return marshal.dumps({name: _without_lines(code) for name, code in sorted(kept.items())})


def use(data: bytes) -> None:
    """From now on, use what was kept."""
    _have_run(marshal.loads(data), {})


def _have_run(known: Mapping[bytes, CodeType], kept: dict[bytes, CodeType]) -> None:
    def run(text: str, *spaces: dict[str, Any]) -> None:
        name = hashlib.sha256(text.encode()).digest()
        code = known.get(name) or compile(text, "<dataclass>", "exec", dont_inherit=True)
        kept[name] = code
        builtins.exec(code, *spaces)

    _MODULE.exec = run  # found before the one of builtins


def _without_lines(code: CodeType) -> CodeType:
    """Without the table of lines, which serves tracebacks alone."""
    inner = tuple(_without_lines(one) if isinstance(one, CodeType) else one for one in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")
