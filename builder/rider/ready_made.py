"""Byte code of Python that is written by Python, kept from when the program was compiled for browsers.

A dataclass has its methods compiled whenever its module is imported, and a template when it is first used, which took
more than half of the start in a browser. What is kept is found by the digest of the very text; a text that is not known
is compiled as ever.
"""

from __future__ import annotations

import builtins
import dataclasses
import hashlib
import marshal
from types import CodeType
from typing import Any

_MODULE: Any = dataclasses
# Byte code by the digest of its text.
Codes = dict[bytes, CodeType]


def keep() -> Codes:
    """From now on, keep what is compiled for dataclasses; what it returns grows with each."""
    codes: Codes = {}
    _have_run(codes)
    return codes


def as_bytes(codes: Codes) -> bytes:
    """What was kept, for the same version of the interpreter."""
    return marshal.dumps({name: _without_lines(code) for name, code in sorted(codes.items())})


def use(data: bytes) -> Codes:
    """From now on, use what was kept."""
    codes: Codes = marshal.loads(data)
    _have_run(codes)
    return codes


def compiled(text: str, codes: Codes, of: str = "<template>") -> CodeType:
    """The byte code of a text: that which was kept, where there is one, and else it is kept from now on."""
    name = hashlib.sha256(text.encode()).digest()
    if name not in codes:
        codes[name] = compile(text, of, "exec", dont_inherit=True)
    return codes[name]


def _have_run(codes: Codes) -> None:
    def run(text: str, *spaces: dict[str, Any]) -> None:
        builtins.exec(compiled(text, codes, "<dataclass>"), *spaces)

    _MODULE.exec = run  # found before the one of builtins


def _without_lines(code: CodeType) -> CodeType:
    """Without the table of lines, which serves tracebacks alone."""
    inner = tuple(_without_lines(one) if isinstance(one, CodeType) else one for one in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")
