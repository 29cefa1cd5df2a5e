"""How a PDF is written as text, for the modules that write parts of one."""

from __future__ import annotations

import zlib

PT_PER_MM = 72 / 25.4


def packed_stream(content: bytes) -> bytes:
    """The rest of a dictionary whose stream is `content`, made small: ISO 32000-1, 7.3.8 and 7.4.4."""
    data = zlib.compress(content)
    return b"/Filter/FlateDecode/Length %d>>stream\n%s\nendstream" % (len(data), data)


def text_string(text: str) -> bytes:
    """A text string: ISO 32000-1, 7.9.2.2."""
    return b"<feff%s>" % text.encode("utf-16-be").hex().encode()
