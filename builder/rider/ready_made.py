"""Byte code of Python that is written by Python, kept from when the program was compiled for browsers.

A dataclass has its methods compiled whenever its module is imported, a template when it is first used, and what a check
asks for, which stands in its annotations, when it is first asked: more than half of the start in a browser. What is
kept is found by the digest of the very text; a text that is not known is compiled as ever.
"""

from __future__ import annotations

import builtins
import dataclasses
import hashlib
import inspect
import marshal
import sys
from types import CodeType
from typing import Any

_DATACLASSES: Any = dataclasses
# Where annotations are evaluated.
_ANNOTATIONS: Any = sys.modules[inspect.get_annotations.__module__]
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


def compiled(text: str, codes: Codes, of: str = "<template>", how: str = "exec") -> CodeType:
    """The byte code of a text: that which was kept, where there is one, and else it is kept from now on."""
    name = hashlib.sha256(f"{how} {text}".encode()).digest()
    if name not in codes:
        codes[name] = compile(text, of, how, dont_inherit=True)
    return codes[name]


def _have_run(codes: Codes) -> None:
    def run(text: str, *spaces: dict[str, Any]) -> None:
        builtins.exec(compiled(text, codes, "<dataclass>"), *spaces)

    def value(said: str | CodeType, *spaces: Any, **named: Any) -> Any:
        code = compiled(said, codes, "<annotation>", "eval") if isinstance(said, str) else said
        return builtins.eval(code, *spaces, **named)

    _DATACLASSES.exec = run  # found before the one of builtins
    _ANNOTATIONS.eval = value


def _without_lines(code: CodeType) -> CodeType:
    """Without the table of lines, which serves tracebacks alone."""
    inner = tuple(_without_lines(one) if isinstance(one, CodeType) else one for one in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")
