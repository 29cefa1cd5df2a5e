"""Turn a text of the library into sentences of words, as the reader sees them, and count them as the rules do.

    Markdown with {{ values }} ─► plain text with values as single marks ─► sentences ─► words

Counting follows ASD-STE100, rules 8.5 to 8.7, as restated by others: a number, a unit, an identifier, a quoted title, a
hyphenated word and all that stands in one pair of parentheses each count as one word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from builder.model.named_values import with_values

# Stands for a value in the text: one mark that no author types.
VALUE_OPEN, VALUE_CLOSE = "⟦", "⟧"
_MARKDOWN = (
    (re.compile(r"!?\[([^\]]*)\]\([^)]*\)"), r"\1"),
    (re.compile(r"`([^`]*)`"), r"\1"),
    (re.compile(r"(\*\*|__)(?=\S)(.+?)(?<=\S)\1"), r"\2"),
    (re.compile(r"(?<!\w)([*_])(?=\S)(.+?)(?<=\S)\1(?!\w)"), r"\2"),
    (re.compile(r"^#{1,6}\s+", re.MULTILINE), ""),
)
_ITEM = re.compile(r"^\s*(?:[-*+]|\d+[.)])\s+")
UNITS = (
    "N·m",
    "Nm",
    "in·lbf",
    "ft·lbf",
    "mm",
    "cm",
    "km",
    "km/h",
    "m",
    "bar",
    "kPa",
    "MPa",
    "psi",
    "kg",
    "g",
    "ml",
    "l",
    "N",
    "W",
    "rev/min",
    "min",
    "s",
    "h",
    "in",
    "pt",
    "%",
    "°",
    "°C",
)
_UNIT = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
_TOKEN = re.compile(
    rf"""
    (?P<value>{VALUE_OPEN}[^{VALUE_CLOSE}]*{VALUE_CLOSE})
  | (?P<unit>(?<=[\d{VALUE_CLOSE}])[ \u00a0\u202f]?(?:{_UNIT})(?![\w·/]))
  | (?P<number>[−-]?\d+(?:[.,/:×x–-]\d+)*(?![\w-]))
  | (?P<word>\w[\w·°]*(?:['’]\w+|[-/]\w+)*)
  | (?P<mark>[^\w\s])
    """,
    re.VERBOSE,
)
_ABBREVIATIONS = frozenset({"e.g", "i.e", "approx", "no", "max", "min", "fig", "vs", "incl", "dia"})
_ABBREVIATED = re.compile(r"\b(e\.g|i\.e)\.(?=\s|,)", re.IGNORECASE)
_VOWELS = re.compile(r"[aeiouy]+")
# Vowels that stand side by side and are spoken apart: material, radio, idea, usual, titanium, carrier, trying.
_APART = re.compile(r"i[au]|(?<![tsc])io|ea$|eo$|[uy]a[lt]|[^aeiou]ier$|[aeiouy]ing$|reat(?=[ei])")
_SUFFIXES = ("less", "ment", "ness", "ful", "ty", "ly")


class Kind(StrEnum):
    """What a token is."""

    WORD = "word"
    NUMBER = "number"
    UNIT = "unit"
    VALUE = "value"
    MARK = "mark"


@dataclass(frozen=True, slots=True)
class Token:
    """A word, a number, a unit, a value or a mark of a sentence."""

    text: str
    kind: Kind

    @property
    def lower(self) -> str:
        """The token in small letters, with plain apostrophes."""
        return self.text.lower().replace("’", "'")

    def is_mark(self, *marks: str) -> bool:
        """Whether it is one of these punctuation marks."""
        return self.kind is Kind.MARK and self.text in marks


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence, or one item of a vertical list (`item`)."""

    text: str
    tokens: tuple[Token, ...]
    item: bool = False

    @property
    def words(self) -> tuple[Token, ...]:
        """The tokens that are words, in order."""
        return tuple(token for token in self.tokens if token.kind is Kind.WORD)


def plain(text: str) -> str:
    """The text without its Markdown marks; values `{{ name }}` become one mark each that counts as a word."""
    text = with_values(text, lambda name: f"{VALUE_OPEN}{name}{VALUE_CLOSE}")
    for pattern, replacement in _MARKDOWN:
        text = pattern.sub(replacement, text)
    return text


def spelled_out(text: str, unknown: Mapping[str, str]) -> str:
    """The text with each value replaced by its words for a bike where it is not known."""
    return with_values(text, lambda name: unknown.get(name) or f"{{{{ {name} }}}}")


@lru_cache(maxsize=1 << 14)
def tokens(text: str) -> tuple[Token, ...]:
    """The tokens of plain text."""
    found: list[Token] = []
    for match in _TOKEN.finditer(text):
        kind = Kind(match.lastgroup or "mark")
        found.append(Token(match[0].strip(), kind))
    return tuple(found)


def paragraphs(text: str) -> tuple[str, ...]:
    """The paragraphs of a text: what stands between blank lines."""
    return tuple(part.strip() for part in re.split(r"\n\s*\n", text) if part.strip())


def sentences(text: str) -> tuple[Sentence, ...]:
    """The sentences of a Markdown text; each item of a vertical list counts as a sentence of its own."""
    found: list[Sentence] = []
    for line, is_item in _lines(plain(text)):
        for part in _split(line):
            found.append(Sentence(part, tokens(part), is_item))
    return tuple(found)


def _lines(text: str) -> Iterable[tuple[str, bool]]:
    """Runs of text between list items and blank lines, with the mark of each item taken off."""
    run: list[str] = []
    in_item = False
    for line in (*text.splitlines(), ""):
        item = _ITEM.match(line)
        if item or not line.strip():
            if run:
                yield " ".join(run), in_item
            run, in_item = [], item is not None
            line = line[item.end() :] if item else ""
        if line.strip():
            run.append(line.strip())
    if run:
        yield " ".join(run), in_item


def _split(text: str) -> Iterable[str]:
    """Cut a run of text after full stops, question marks and exclamation marks that end a sentence."""
    start = 0
    for stop in re.finditer(r"[.!?]+[\"”’')]*(?=\s+|$)", text):
        before = re.search(r"([\w.]+)$", text[start : stop.start()])
        rest = text[stop.end() :].lstrip()
        if rest and not (rest[0].isupper() or rest[0].isdigit() or rest[0] in f"{VALUE_OPEN}“\"'("):
            continue
        if rest and before and before[1].lower() in _ABBREVIATIONS and not before[1].isdigit():
            continue
        if part := text[start : stop.end()].strip():
            yield part
        start = stop.end()
    if part := text[start:].strip():
        yield part


def word_count(text: str) -> int:
    """How many words plain text counts; what stands in parentheses or in quotation marks counts as one."""
    text = _ABBREVIATED.sub(lambda found: found[1].replace(".", ""), text)
    text = re.sub(r"\([^()]*\)", " parenthesis ", text)
    text = re.sub(r"“[^”]*”|\"[^\"]*\"", " quotation ", text)
    return sum(token.kind is not Kind.MARK for token in tokens(text))


@lru_cache(maxsize=1 << 13)
def syllables(word: str) -> int:
    """About how many syllables an English word has: its groups of vowels, less a silent e.

    Right for most workshop words (see the tests); the rule looks at the average over a whole guide.
    """
    parts = [re.sub(r"[^a-z]", "", part) for part in re.split(r"[-/'’]", word.lower())]
    return max(sum(_syllables(part) for part in parts if part), 1)


def _syllables(letters: str) -> int:
    for suffix in _SUFFIXES:
        stem = letters.removesuffix(suffix)
        if stem != letters and len(stem) > 2 and stem.endswith("e"):
            return _syllables(stem) + len(_VOWELS.findall(suffix))
    count = len(_VOWELS.findall(letters)) + len(_APART.findall(letters))
    if _silent_ending(letters):
        count -= 1
    return max(count, 1)


def _silent_ending(letters: str) -> bool:
    """Whether the e of a last -e, -es or -ed is not spoken."""
    if re.search(r"[^aeiouy]l(?:e|es|ed)$", letters):
        return False
    if re.search(r"(?:[^aeiouy]|[qg]u)e$", letters):
        return True
    if re.search(r"[^aeiouy]es$", letters):
        return re.search(r"(?:[sxzcg]|ch|sh)es$", letters) is None
    return re.search(r"[^aeiouytd]ed$", letters) is not None
