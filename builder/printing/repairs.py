"""How to mend what breaks a rule of print, and which published text the house rule is made after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Repair:
    """What to do, and the source of the rule; "restated" says that it was read as restated by others."""

    words: str
    source: str

    def hints(self, rule: str) -> tuple[str, str]:
        """What to do, then the rule with its source, as a diagnostic says them."""
        return self.words, f"{rule}, {self.source}"


_TOKENS = "raise the size in the theme's tokens.css"
REPAIRS: Mapping[str, Repair] = {
    "L01": Repair(_TOKENS, "house rule after CAP 676, issue 3, chapter 7 (restated)"),
    "L02": Repair(_TOKENS, "house rule after CAP 676, issue 3, chapter 7 (restated)"),
    "L03": Repair(_TOKENS, "house rule after Degani 1992, NASA CR-177605 (restated)"),
    "L04": Repair(f"{_TOKENS}, or read the card from nearer", "house rule after NUREG-0700 rev. 3, 11.4.1.5-1"),
    "L06": Repair("raise --safety-size in the theme's tokens.css", "house rule after ISO/IEC Guide 37:2012"),
    "L07": Repair(
        "raise --line in the theme's tokens.css", "house rule after Degani 1992, recommendation 9 (restated)"
    ),
    "L10": Repair("narrow the column, or set larger letters", "house rule after WCAG 2.x, 1.4.8"),
    "L11": Repair("take the declaration out of the stylesheet", "house rule after WCAG 2.x, 1.4.8 and failure F88"),
    "L12": Repair(
        "take the declaration out of the stylesheet", "house rule after Degani 1992, recommendations 4 and 5 (restated)"
    ),
    "L13": Repair("leave faces out of the theme", "house rule after Degani 1992, recommendations 1, 11, 12 (restated)"),
    "L17": Repair("darken the letters, or lighten what is under them", "house rule after WCAG 2.2, 1.4.3"),
    "L18": Repair("draw the frame in another style or width", "house rule after WCAG 2.2, 1.4.1, and ISO 3864"),
    "L19": Repair(
        "leave one accent; safety colours are for safety", "house rule after a published checklist for checklists"
    ),
    "L21": Repair("take a face of regular weight and width", "house rule after DOD-HDBK-791(AM), 6-5.3.2"),
    "L23": Repair("widen the margin of the page in the theme's card.css", "house rule; CAP 676 asks for such room"),
    "L24": Repair("raise the size in the theme's tokens.css", "house rule"),
    "L25": Repair(
        "write the name in letters that the theme has, or add a face to the theme",
        "house rule after ISO 14289-1, 7.21.8 (restated)",
    ),
    "H03": Repair(
        "keep a caution and its step in one block that does not break", "house rule after MIL-STD-38784 (from memory)"
    ),
    "N07": Repair("print the torque at its step and in the table from one value", "house rule"),
    "N09": Repair(
        "set label and value nearer, or draw a rule under the row", "house rule after Degani 1992, section 3.7"
    ),
    "S18": Repair(
        "put title, code and bicycle into the bands of the page", "house rule after S1000D's page identification"
    ),
}
