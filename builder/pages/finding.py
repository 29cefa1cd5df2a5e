"""What can be found on the site, worked out once when it is built: one record a thing, with the page that shows it.

    library, tailored guides ─► records ─► script files that hold them as data

The records travel as scripts and not as JSON, so that a site that is opened from a folder can read them too. Those of
a large fleet's single bikes are parted by how the bike's own words begin; a part is fetched when such a word is typed.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from unicodedata import combining, normalize

from builder.checks.registry import CHECKS
from builder.model.catalogue import Term
from builder.model.deciding import decided
from builder.pages import amounts, paths
from builder.pages.contents import Site
from builder.pages.kind import Kind
from builder.pages.printed_page import key_of
from builder.planning.attributes import cases_of
from builder.proof.since_print import PrintKind
from builder.tailoring.tailored import Tailored

# Emphasis and code of the sources, which a line of plain text does without.
_EMPHASIS = re.compile(r"[*_`]+")
# A demo fleet has a tenth of it.
_MOST_SINGLE = 5000
# So many records may have a word of their own in common whatever the number of all.
_FEW = 400
_ENDING = r"(?:s|es|ed|ing)?"


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One thing that can be found: what its line says, what else it is called, and where it stands.

    `share` is that of the workshop's bikes which it may be about: what more of them have is sooner meant. `own` are the
    words that tell a bike or a printed card from others; without them it is about no single one.
    """

    kind: Kind
    title: str
    text: str
    path: str
    also: str = ""
    share: float = 1.0
    own: str = ""


def records_of(site: Site) -> tuple[Record, ...]:
    """Everything that can be found, in the order of the kinds."""
    terms = tuple(site.library.glossary.values())
    names = site.memory.of("everyday names", (), (*terms, site.words), lambda: _Names(terms, site))
    shares = _shares(site)
    return (
        *_guides(site, names, shares),
        *_faults(site, names, shares),
        *_bikes(site),
        *_cards(site),
        *_things(site, names),
        *_parts(site),
        *_terms(terms),
        *(
            Record(kind=Kind.CHECK, title=check.title, text=site.words.check, path=paths.check(name))
            for name, check in CHECKS.items()
        ),
        *_steps(site.generic),
    )


def index_scripts(site: Site) -> dict[str, str]:
    """The records as scripts that hand them to the theme's own, by path; in one file where they are few.

    A record is kind, title, text, page, other names, share.
    """
    records = records_of(site)
    single = [one for one in records if one.own]
    if len(single) <= _MOST_SINGLE:
        return {paths.FIND_INDEX: f"self.spannerleafIndex={_rows(records)};\n"}
    parts = _by_beginning(single)
    shared = _rows(one for one in records if not one.own)
    keys = json.dumps(sorted(parts), separators=(",", ":"))
    return {
        paths.FIND_INDEX: f"self.spannerleafIndex={shared};\nself.spannerleafParts={keys};\n",
        **{
            paths.find_part(key): f'(self.spannerleafMore??={{}})["{key}"]={_rows(some)};\n'
            for key, some in sorted(parts.items())
        },
    }


def _rows(records: Iterable[Record]) -> str:
    rows = [[one.kind.value, one.title, one.text, one.path, one.also, one.share] for one in records]
    return json.dumps(rows, ensure_ascii=False, separators=(",", ":"))


def _by_beginning(records: Sequence[Record]) -> dict[str, list[Record]]:
    """Records by how their own words begin; words that many have in common don't lead to any, if others do."""
    words = [tuple(dict.fromkeys(_words(one.own))) for one in records]
    counts = Counter(word for some in words for word in some)
    most = max(_FEW, len(records) // 50)
    found: dict[str, list[Record]] = {}
    for record, some in zip(records, words, strict=True):
        rare = [word for word in some if counts[word] <= most] or sorted(some, key=lambda word: counts[word])[:1]
        for key in dict.fromkeys(map(_beginning, rare)):
            found.setdefault(key, []).append(record)
    return found


def _words(text: str) -> Iterator[str]:
    """The words of a text as the theme's script compares them: small letters without accents."""
    plain = "".join(one for one in normalize("NFKD", text) if not combining(one)).lower()
    return (word for word in re.findall(r"[^\W_]+", plain))


def _beginning(word: str) -> str:
    """The first two letters of a word by their numbers, which any host takes in the name of a file."""
    return "-".join(f"{ord(letter):x}" for letter in word[:2])


class _Names:
    """What people say for the words of the trade, by what finds these in a text."""

    def __init__(self, terms: Iterable[Term], site: Site) -> None:
        self._names = (
            *((_named(term.name, term.plural), " ".join((*term.others, *term.avoid))) for term in terms),
            *((_named(word), said) for word, said in site.words.everyday.items()),
        )
        self._memory = site.memory

    def also(self, text: str) -> str:
        """The everyday names of what `text` speaks of."""
        return self._memory.of("also", text, (self,), lambda: self._found(text))

    def _found(self, text: str) -> str:
        return " ".join(dict.fromkeys(others for pattern, others in self._names if others and pattern.search(text)))


def _named(*forms: str) -> re.Pattern[str]:
    """What finds a word in a text, in its plain forms."""
    names = "|".join(re.escape(name) for name in dict.fromkeys(forms) if name)
    return re.compile(rf"\b(?:{names}){_ENDING}\b", re.IGNORECASE)


def _plain(text: str) -> str:
    return _EMPHASIS.sub("", text)


def _shares(site: Site) -> Mapping[str, float]:
    """The share of the bikes that each guide suits, as they stand; all where there are no bikes."""
    cases = tuple(cases_of(site.library, bike, None) for bike in site.library.bikes.values())
    suited = {item.guide.id: sum(decided(item.guide.suits, one) is not False for one in cases) for item in site.generic}
    return {name: round(count / len(cases), 2) if cases else 1.0 for name, count in suited.items()}


def _guides(site: Site, names: _Names, shares: Mapping[str, float]) -> Iterator[Record]:
    for tailored in site.generic:
        guide = tailored.guide
        text = _plain(tailored.purpose)
        also = " ".join((guide.family, tailored.code, names.also(f"{guide.title} {text}")))
        path, share = paths.of_tailored(tailored), shares[guide.id]
        yield Record(kind=Kind.GUIDE, title=guide.title, text=text, path=path, also=also, share=share)


def _faults(site: Site, names: _Names, shares: Mapping[str, float]) -> Iterator[Record]:
    for tailored in site.generic:
        for number, fault in enumerate(tailored.faults, 1):
            symptom = _plain(fault.symptom)
            text = f"{tailored.guide.title}: {_plain(fault.cause)} {_plain(fault.remedy)}"
            path = f"{paths.of_tailored(tailored)}#fault-{number}"
            also, share = names.also(symptom), shares[tailored.guide.id]
            yield Record(kind=Kind.FAULT, title=symptom, text=text, path=path, also=also, share=share)


def _bikes(site: Site) -> Iterator[Record]:
    for bike in site.library.bikes.values():
        title = f"{bike.name} {bike.tag}".strip()
        text = _plain(bike.description)
        own = f"{title} {text}"
        yield Record(kind=Kind.BIKE, title=title, text=text, path=paths.bike(bike.id), own=own)


def _cards(site: Site) -> Iterator[Record]:
    for tailored in site.tailored:
        if tailored.bike is not None:
            own = f"{tailored.bike.name} {tailored.bike.tag} {tailored.code}"
            path = paths.of_tailored(tailored)
            yield Record(kind=Kind.CARD, title=_whose(tailored), text=tailored.code, path=path, own=own)
    # What stands behind the code tells one printing from another: it leads to what is to be said of that one.
    now = ((site.revisions.get(key_of(one), ""), _whose(one)) for one in (*site.generic, *site.tailored))
    then = (
        (one.card.revision, f"{one.printed.guide} {one.printed.bike}: {one.standing.kind.value}")
        for one in site.printed
        if one.standing.kind is not PrintKind.CURRENT
    )
    for revision, text in (*now, *then):
        if revision:
            title = site.words.printed_card.format(code=revision)
            yield Record(kind=Kind.CARD, title=title, text=text, path=paths.printed(revision), own=revision)


def _whose(tailored: Tailored) -> str:
    return tailored.guide.title if tailored.bike is None else f"{tailored.guide.title}: {tailored.bike.name}"


def _things(site: Site, names: _Names) -> Iterator[Record]:
    for tool in site.library.tools.values():
        if tool.id != "by-hand":
            yield Record(
                kind=Kind.TOOL,
                title=tool.name,
                text=_plain(tool.use),
                path=f"{paths.TOOLS}#{tool.id}",
                also=names.also(tool.name),
            )
    for fastener in site.library.fasteners.values():
        text = fastener.thread if fastener.torque_nm is None else amounts.torque(fastener.torque_nm)
        path = f"{paths.TORQUES}#{fastener.id}"
        yield Record(kind=Kind.FASTENER, title=fastener.name, text=text, path=path, also=names.also(fastener.name))


def _parts(site: Site) -> Iterator[Record]:
    """Parts that a page shows: those on a bike."""
    for bike in site.library.bikes.values():
        for role, part in bike.parts.items():
            text = f"{role.value.replace('-', ' ')}, {bike.name}"
            own = f"{bike.name} {bike.tag}"
            yield Record(kind=Kind.PART, title=part.name, text=text, path=f"{paths.bike(bike.id)}#parts", own=own)


def _terms(terms: Iterable[Term]) -> Iterator[Record]:
    for term in terms:
        also = " ".join((*term.others, *term.avoid))
        path = f"{paths.GLOSSARY}#{term.id}"
        yield Record(kind=Kind.TERM, title=term.name, text=_plain(term.meaning), path=path, also=also)


def _steps(generic: Iterable[Tailored]) -> Iterator[Record]:
    """Each text of a step once, at the first guide that has it."""
    seen: set[str] = set()
    for tailored in generic:
        for step in tailored.steps:
            text = _plain(step.do)
            if text not in seen:
                seen.add(text)
                path = f"{paths.of_tailored(tailored)}#step-{step.number}"
                yield Record(kind=Kind.STEP, title=text, text=tailored.guide.title, path=path)
