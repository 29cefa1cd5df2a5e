"""The page of the house rules: every rule for guides and cards, and what holds it."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages import paths
from builder.pages.contents import Page, Site
from builder.pages.rendering import render
from builder.pages.theme import Theme
from builder.proof.writing import HELD, RULES

# Words, steps, adaptation, hazards, numbers, layout, documents.
_GROUPS = "WSAHNLD"


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseRule:
    """A rule, what holds it and where; `by` is empty for a rule that is judged on the sources."""

    id: str
    words: str
    by: str = ""
    where: str = ""


def house_rules() -> tuple[HouseRule, ...]:
    """Every rule, by its group and then by its number."""
    judged = (HouseRule(id=rule.id, words=" ".join(rule.title.split())) for rule in RULES)
    held = (HouseRule(id=rule.id, words=rule.words, by=rule.by.value, where=rule.where) for rule in HELD)
    return tuple(sorted((*judged, *held), key=lambda rule: (_GROUPS.index(rule.id[0]), rule.id)))


def rules_page(site: Site, theme: Theme) -> Page:
    """The page of the house rules."""
    return render(site, theme, paths.RULES, "rules.html", site.words.house_rules, rules=house_rules())
