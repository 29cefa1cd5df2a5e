"""Rules for workshop cards that no check of a text holds: what holds them instead, or that nothing does.

With `registry.RULES` this is the whole list of rules that the project set itself, so that a page can show it all.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class HeldBy(StrEnum):
    """What holds a rule that is not judged on the sources."""

    CONSTRUCTION = "construction"
    READING = "the reading of the sources"
    PROOF = "the proof"
    PRINT = "a check of the printed side"
    STYLESHEET = "a check of the stylesheet"
    BUILD = "the checks of the build"
    TEST = "a test"
    PERSON = "a person"
    NOTHING = "nothing yet"


@dataclass(frozen=True, slots=True)
class HeldRule:
    """A rule, what holds it, and where."""

    id: str
    words: str
    by: HeldBy
    where: str = ""


HELD: tuple[HeldRule, ...] = (
    HeldRule("S01", "The blocks of a card stand in one order.", HeldBy.CONSTRUCTION, "the card's template"),
    HeldRule("S02", "An empty block of a card says “none”.", HeldBy.CONSTRUCTION, "the card's template"),
    HeldRule("S06", "A caution has no number.", HeldBy.CONSTRUCTION, "cautions are no steps in the model"),
    HeldRule("S07", "At most nine items between two pauses.", HeldBy.CONSTRUCTION, "tailoring puts the pauses in"),
    HeldRule("S10", "In a list of checks the gravest come first.", HeldBy.CONSTRUCTION, "builder.pages.guide_view"),
    HeldRule("S11", "A card says that it is done as it is read.", HeldBy.CONSTRUCTION, "the card's template"),
    HeldRule("S18", "Every side says which card it is.", HeldBy.PRINT, "builder.printing.legibility"),
    # No change bars: a card is replaced as a whole, and its code tells it from the one before.
    HeldRule("S21", "A change gives its reason.", HeldBy.READING, "'reason' of each revision"),
    HeldRule("S22", "A card says how far it was tried.", HeldBy.CONSTRUCTION, "builder.proof.revisions"),
    HeldRule("S23", "A changed step takes the status back.", HeldBy.CONSTRUCTION, "builder.proof.revisions"),
    HeldRule("A01", "Conditions use declared attributes and cases.", HeldBy.READING, "builder.sources.references"),
    HeldRule("A02", "Facts of a bike and of a plan are apart.", HeldBy.PERSON, "'stage' of each attribute"),
    HeldRule("A03", "A case that is not known is asked for.", HeldBy.CONSTRUCTION, "UnknownCase in builder.model"),
    HeldRule("A04", "Every bike has one whole path.", HeldBy.PROOF, "builder.proof.walk"),
    HeldRule("A05", "“All” is a value: a step without 'when' is for all.", HeldBy.CONSTRUCTION, "ALWAYS"),
    HeldRule("A06", "What is built does not depend on the order.", HeldBy.BUILD, "stages are functions of values"),
    HeldRule("A07", "A caution goes with its step.", HeldBy.CONSTRUCTION, "builder.tailoring.hazards"),
    HeldRule("H01", "A caution stands before its act.", HeldBy.CONSTRUCTION, "builder.tailoring.hazards"),
    HeldRule("H02", "The gravest caution comes first.", HeldBy.CONSTRUCTION, "builder.tailoring.hazards"),
    HeldRule("H03", "Caution and step stand on one side.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule(
        "H06", "Each caution has one signal word.", HeldBy.CONSTRUCTION, "signal_word in builder.tailoring.hazards"
    ),
    HeldRule("H09", "Several cautions show the gravest word first.", HeldBy.CONSTRUCTION, "gravest_first"),
    HeldRule("H12", "A caution stands in the summary and at its step.", HeldBy.CONSTRUCTION, "tailoring"),
    HeldRule("H15", "The maker's instructions go first.", HeldBy.CONSTRUCTION, "the card's template"),
    HeldRule("H17", "No pressure above the least limit.", HeldBy.BUILD, "builder.checks.tyre_pressure"),
    HeldRule("N04", "A torque lies in the range of a wrench.", HeldBy.PROOF, "builder.proof.wrenches"),
    HeldRule("N06", "A wrench shows when it was checked.", HeldBy.PROOF, "builder.proof.wrenches"),
    HeldRule("N09", "Label and value stand together.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L01", "Steps in 12 pt, nothing under 10 pt.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L02", "Headings in 12 pt or more.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L03", "Small letters 2.54 mm high.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L04", "Letters high enough for the distance.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L05", "Print in 12 pt, 14 pt for more readers.", HeldBy.PRINT, "as L01"),
    HeldRule("L06", "Safety text in 12 pt or more.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L07", "A quarter of the size between lines.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L08", "Lines 1.5 apart on the screen.", HeldBy.TEST, "tests/writing/test_screen_rules.py"),
    HeldRule("L09", "The site bears the reader's own spacing.", HeldBy.TEST, "tests/writing/test_screen_rules.py"),
    HeldRule("L10", "At most 80 letters a line.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L11", "Left aligned, no hyphenation.", HeldBy.STYLESHEET, "builder.printing.stylesheet"),
    HeldRule("L14", "A face with clear letters.", HeldBy.PERSON, "the theme's face"),
    HeldRule("L15", "Black on white.", HeldBy.PRINT, "as L17"),
    HeldRule("L16", "No black on dark colours.", HeldBy.PRINT, "as L17"),
    HeldRule("L17", "Contrast of 4.5:1 or more.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L18", "Colour alone says nothing.", HeldBy.STYLESHEET, "builder.printing.stylesheet"),
    HeldRule("L19", "One accent colour at most.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L20", "Matt lamination.", HeldBy.PERSON, "the workshop"),
    HeldRule("L21", "No light or narrow faces.", HeldBy.STYLESHEET, "builder.printing.stylesheet"),
    HeldRule("L22", "A card is parted at a pause.", HeldBy.CONSTRUCTION, "the layout of sides"),
    HeldRule("L23", "Margins for thumb and binding.", HeldBy.PRINT, "builder.printing.legibility"),
    HeldRule("L24", "Boxes and lines for a marker.", HeldBy.PRINT, "and builder.printing.stylesheet"),
    HeldRule("L25", "Every letter has a glyph.", HeldBy.PRINT, "builder.printing.lost"),
    HeldRule("D01", "The PDF is tagged.", HeldBy.CONSTRUCTION, "builder.printing.pdf"),
    HeldRule("D02", "The page carries HowTo data.", HeldBy.CONSTRUCTION, "builder.pages"),
    HeldRule("D03", "The numbers in a figure and its legend agree.", HeldBy.TEST, "tests/drawings/test_drawings.py"),
    HeldRule("D04", "Fixed words come from one table.", HeldBy.CONSTRUCTION, "builder.pages.strings"),
    HeldRule("D05", "A mistake names place, rule and repair.", HeldBy.CONSTRUCTION, "Diagnostic"),
)
