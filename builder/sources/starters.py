"""Files to start from: what a new workshop, guide, bike or part looks like, with a word on every line to fill in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from builder.model.catalogue import Standard
from builder.model.facts import Role, StandardSet
from builder.model.parts import KINDS, Part
from builder.sources.descriptions import example, of_field, of_record
from builder.sources.hints import words_of_set
from builder.sources.shapes import Field, Keyed, Many, Number, OneOf, Quantity, Shape, StandardOf, Text, fields_of
from builder.sources.traps import trap_of

# Text that means the same with quotes and without.
_PLAIN = re.compile(r"[^\W_](?:[\w .,/+()±–·°%×€-]*[\w.)%°€·])?")
_WIDTH = 118
_NONE: Mapping[str, Standard] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeFacts:
    """What is known of a bike: its parts, each by its facts, its id or `none`, and what was measured on it.

    `climbs` are gradients by the hill's name, `wear` the entries of the wear book by their day.
    """

    name: str
    tag: str = ""
    parts: Mapping[Role, str | Mapping[str, str | tuple[str, ...]]] = field(default_factory=dict)
    measured: Mapping[str, str] = field(default_factory=dict)
    rider: Mapping[str, str] = field(default_factory=dict)
    climbs: Mapping[str, str] = field(default_factory=dict)
    wear: Mapping[str, Mapping[str, str | tuple[str, ...]]] = field(default_factory=dict)


def written(text: str) -> str:
    """A single value as YAML: in quotes where it would be read as anything else than this text."""
    line = " ".join(text.split())
    if _PLAIN.fullmatch(line) and trap_of(line) is None and ", " not in line:
        return line
    return "'" + line.replace("'", "''") + "'"


def workshop_start(name: str) -> str:
    """A workspace's `workshop.yaml`."""
    return f"""\
# The workshop that prints the cards. 'spannerleaf check' says whether all is well with it.
name: {written(name)}

# The invented bikes that come with Spannerleaf stay away from your pages; 'true' shows them beside your own.
demo-fleet: false

# The tools that you own, so that a card can say which torque wrench reaches its values. The tools' ids stand in the
# catalogue; 'spannerleaf new tool' adds one of your own. Take the '# ' away to fill it in.
# tools: [work-stand, tape-measure, torque-wrench-small]

# The parts on your shelf, from which a plan chooses. 'spannerleaf new part' starts the file of a part.
# stock:
#   - part: my-chain
#     count: 2

# Where readers can tell you what did not work.
# feedback: Put a note into the box at the door.
"""


def theme_start(base: str) -> str:
    """A workspace's `theme/theme.yaml`: one colour changed, and everything else that may be said in its comments."""
    return f"""\
# How your pages and cards look. 'spannerleaf check' tells what is wrong with it, 'spannerleaf preview' shows it.
based-on: {base}

# Your mark, a file in this folder: SVG or PNG.
# mark: mark.svg

# Sizes, distances and colours in place of those in the shipped tokens.css; 'dark' on a dark screen.
tokens:
  accent: '#7a1f3d'
dark:
  accent: '#f0a3bd'

# Your typeface, from files in fonts/: WOFF2, WOFF, OTF or TTF, a file for each weight (400, 500 and 700 are used).
# fonts:
#   - {{family: Our Face, file: fonts/our-face-400.woff2}}
#   - {{family: Our Face, file: fonts/our-face-700.woff2, weight: 700}}

# A site.css, card.css, blocks.css or large.css here comes after the shipped one; named below it stands alone.
# A file in templates/ takes the place of the shipped one of the same name.
# replaces: [site.css]
"""


def guide_start(title: str) -> str:
    """A guide of one step, with the keys that most guides need shown in its comments."""
    return f"""\
# A guide is a job, as the reader meets it. Change what stands here; take the '# ' away where a line is wanted.
title: {written(title)}
family: whole bike
purpose: Say in one sentence what the rider gains by this job.
done-when: The saddle is as high as it was.     # say what is seen, felt or measured when the job is done
# not-when:
#   - Say when this job is not the right one.
level: first-time          # or practised, skilled
prepare-time: 5 min
work-time: 15 min
# touches: [brakes]        # what a ride depends on: brakes, steering, wheel-retention, clamp, drive, battery
# suits: {{rear-axle: quick-release}}     # the bikes that it is for; without it, all
before:
  - The bike stands where it can not roll away, and an electric system is off.
work:
  - title: Do the work
    end: Say what is so at the end of this section.
    steps:
      # - use: bike-into-stand           # the steps of a procedure, placed here
      - id: first-step
        do: Measure the height of the saddle.
        why: Say why, where a reader may wonder.
        prove: The height stands on the card.
        handles: [saddle]                  # what is worked on; cautions attach by it
        tools: [tape-measure]
        # when: {{rear-brake: disc}}       # only for some bikes
        # needs: {{rear-wheel: in}}        # what must be so before
        # leaves: {{rear-wheel: out}}      # what is so after
        # tightens: rear-skewer          # brings its torque, its tool and its turning direction
        # consumables: [cloth]
        # cautions: [brake-clean]
# finish:
#   - use: bike-out-of-stand
test:
  - id: last-look                        # what proves the work
    do: Inspect the saddle.
    handles: [saddle]
    prove: The saddle stands straight.
# faults:
#   - symptom: What is seen.
#     cause: What is likely behind it.
#     remedy: What to do.
#     step: first-step                   # where to go back to
"""


def part_start(kind: str, part: str, name: str, standards: Mapping[str, Standard] = _NONE) -> str:
    """The file of a part: its name, and every other key of its kind in a comment; `standards` are a workshop's own."""
    record: type = KINDS[kind]
    shared = {one.key for one in fields_of(Part)}
    lines = [*_comment(of_record(record)), *_comment(_PART_HELP), f"{part}:", f"  name: {written(name)}"]
    for one in fields_of(record):
        if one.key == "name":
            continue
        told = of_field(record, one)
        # What every part has is told once, above.
        if told and one.key not in shared:
            lines.extend(_comment(told, indent="  "))
        lines.append(f"  # {one.key}: {_blank(one, standards)}")
    return "\n".join(lines) + "\n"


def fastener_start(fastener: str, name: str, thread: str, head: str) -> str:
    """A fastener, with the figures to be looked up in comments."""
    return f"""\
{fastener}:
  name: {written(name)}
  # role: stem                 # the place on the bike that it belongs to, where it has one
  thread: {written(thread)}                 # a metric size such as M5 or M8x1, or words for any other thread
  property-class: "8.8"        # as stamped on the bolt's head; the torque is held against what it bears
  head: {head}
  preparation: greased         # or dry, threadlocked, assembly-paste, anti-seize, oiled
  # torque: 4–6 N·m            # a typical range; the component maker's figure goes first
  feel: Tighten it until it holds. Ask the maker of the part for the torque.
  source: common-practice      # the id of a source in the catalogue
  # spread: What makers print, in words.
  # critical: true             # where a rider falls if it comes loose
"""


def tool_start(tool: str, name: str) -> str:
    """A tool, with what a torque wrench and a driver have shown in comments."""
    return f"""\
{tool}:
  name: {written(name)}
  # use: Say what it does, as a sentence.
  # fits: [hex-5]              # the heads that it drives or holds
  # driven: true               # where a torque wrench or a spanner turns it
  # torque: 2–20 N·m           # of a torque wrench: its marked range
  # drive: 1/4 in
  # home: true                 # where a rider's own kit usually holds it
"""


def standard_start(standard: str, name: str, of: str, like: str) -> str:
    """A standard of a workshop's own, with what it is like in a comment where that is not told."""
    likeness = f"like: {like}" if like else f"# like: {StandardSet(of).words[0]}"
    return f"""\
{standard}:
  name: {written(name)}
  of: {of}          # {" or ".join(one.value for one in StandardSet if one.value != of)}
  {likeness}          # the known one whose steps do for it too; without it, a guide that asks is refused
"""


_PART_HELP = (
    "Write what you know; what is not known is asked for on the card. Take the '# ' away and put the fact in place of "
    "the '?'. Where the maker prints a torque, write it under torques: it goes before the typical value."
)


def bike_start(facts: BikeFacts) -> str:
    """The file of a bike with what is known of it, and the rest shown in comments."""
    lines = [
        "# One bike. What is not known may be left out: the card then asks for it.",
        f"name: {written(facts.name)}",
        f"tag: {written(facts.tag)}" if facts.tag else "# tag: M-01        # the number that hangs on it",
    ]
    if facts.parts:
        lines += [
            "",
            "# A part is its facts, or the id of a part from parts/, or none where the bike has no such part.",
        ]
        lines.append("parts:")
        for role in Role:
            if role in facts.parts:
                lines += _part_lines(role, facts.parts[role])
    else:
        lines += [
            "# parts:",
            "#   rear-hub: {axle: quick-release}",
            "#   cassette: {sprockets: [11, 13, 15, 17, 19, 21, 24, 28, 32]}",
            "#   front-derailleur: none",
        ]
    lines += ["", *_block("measured", facts.measured, "  chain-links: 114       # the joining link counts as one")]
    lines += ["", *_block("rider", facts.rider, "  mass: 75 kg")]
    for name, gradient in facts.climbs.items():
        lines += ["", "climbs:"] if "climbs:" not in lines else []
        lines += [f"  - name: {written(name)}", f"    gradient: {written(gradient)}"]
    for date, entry in facts.wear.items():
        lines += ["", "wear:"] if "wear:" not in lines else []
        lines += [f"  - date: {date}", *(f"    {key}: {_fact(value)}" for key, value in entry.items())]
    lines += [
        "",
        "# The jobs to build cards for, with the parts wanted.",
        "# jobs:",
        "#   - guide: wider-range-cassette",
        "#     parts: [my-cassette]",
    ]
    return "\n".join(lines) + "\n"


def _part_lines(role: Role, part: str | Mapping[str, str | tuple[str, ...]]) -> list[str]:
    if isinstance(part, str):
        return [f"  {role.value}: {written(part)}"]
    facts = [f"    {key}: {_fact(value)}" for key, value in part.items()]
    return [f"  {role.value}:" if facts else f"  {role.value}: {{}}", *facts]


def _fact(value: str | tuple[str, ...]) -> str:
    return written(value) if isinstance(value, str) else f"[{', '.join(written(one) for one in value)}]"


def _block(key: str, facts: Mapping[str, str], shown: str) -> list[str]:
    if not facts:
        return [f"# {key}:", f"# {shown}"]
    return [f"{key}:", *(f"  {name}: {written(value)}" for name, value in facts.items())]


def _blank(one: Field, standards: Mapping[str, Standard]) -> str:
    """A value to be filled in."""
    match one.shape:
        case OneOf(closed):
            return _any_of(tuple(str(choice.value) for choice in closed))
        case StandardOf(of):
            return _any_of(words_of_set(of, standards))
        case shape:
            return _gap(shape)


def _any_of(words: tuple[str, ...]) -> str:
    first, *others = words
    return first + (f"   # or {', '.join(others)}" if others else "")


def _gap(shape: Shape) -> str:
    match shape:
        case Quantity(unit=unit):
            return f"? {unit.value}"
        case Number():
            return "?"
        case Text():
            return "..."
        case Many(item):
            return f"[{_gap(item)}]"
        case Keyed(collection, value):
            return f"{{{collection.removesuffix('s') or 'name'}: {_gap(value)}}}"
        case _:
            return example(shape)


def _comment(text: str, indent: str = "") -> list[str]:
    lines = [f"{indent}#"]
    for word in text.split():
        if len(lines[-1]) + 1 + len(word) > _WIDTH:
            lines.append(f"{indent}#")
        lines[-1] += f" {word}"
    return lines
