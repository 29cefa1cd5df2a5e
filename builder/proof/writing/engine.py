"""Hold every text of the library against the rules of writing, and take out what a waiver sets aside.

The engine knows nothing of any rule: `RULES` lists the modules, each of which says what it looks at and what it finds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from types import ModuleType

from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.guide import Guide, Waiver
from builder.model.library import Library
from builder.proof.writing import passages
from builder.proof.writing.context import Context, context_of
from builder.proof.writing.passages import Element, Passage
from builder.proof.writing.rule import Finding, Rule
from builder.proof.writing.rules import (
    active_voice,
    approved_verbs,
    articles,
    capitals,
    condition_first,
    contractions,
    description_length,
    helping_verbs,
    ing_form,
    instruction_length,
    italics,
    no_compliance,
    note_informs,
    noun_cluster,
    obligation,
    one_instruction,
    one_term,
    paragraph_length,
    phrasal_verbs,
    positive,
    references,
    reverse_order,
    semicolons,
    typed_numbers,
    vague_words,
    verb_first,
    vertical_list,
    wanted_state,
)

MODULES: tuple[ModuleType, ...] = (
    instruction_length,
    description_length,
    paragraph_length,
    one_instruction,
    verb_first,
    condition_first,
    ing_form,
    active_voice,
    helping_verbs,
    contractions,
    semicolons,
    noun_cluster,
    articles,
    one_term,
    approved_verbs,
    phrasal_verbs,
    note_informs,
    vertical_list,
    vague_words,
    positive,
    obligation,
    wanted_state,
    typed_numbers,
    references,
    reverse_order,
    capitals,
    italics,
    no_compliance,
)
_CAUTION_WAIVER = "caution:"


def rules() -> tuple[Rule, ...]:
    """Every rule for a page that lists them."""
    return tuple(
        Rule(
            id=module.ID,
            title=(module.__doc__ or "").strip().splitlines()[0],
            words=(module.__doc__ or "").strip(),
            gravity=module.GRAVITY,
            source=str(module.SOURCE),
            limit=module.LIMIT,
        )
        for module in MODULES
    )


def findings(module: ModuleType, passage: Passage, context: Context) -> Iterator[Finding]:
    """What one rule finds in one text; nothing where the text is of a kind that the rule does not look at."""
    if passage.kind in module.KINDS:
        yield from module.check(passage, context)


def check_writing(library: Library) -> tuple[Diagnostic, ...]:
    """Every text of the library that breaks a rule without a waiver, and every waiver that sets nothing aside."""
    context = context_of(library)
    found: list[Diagnostic] = []
    for element in _elements(library, context):
        found.extend(check_element(element, context))
    return ordered(found)


def check_guide(guide: Guide, library: Library) -> tuple[Diagnostic, ...]:
    """The same for the texts that are written in one guide."""
    context = context_of(library)
    elements = (passages.guide_element(guide, context), *passages.guide_steps(guide, context))
    return ordered(found for element in elements for found in check_element(element, context))


def waivers(library: Library) -> tuple[tuple[str, Waiver], ...]:
    """Every waiver of a rule of writing, with the name of its element."""
    context = context_of(library)
    return tuple(
        (element.name, waiver)
        for element in _elements(library, context)
        for waiver in element.waivers
        if not waiver.rule.startswith(_CAUTION_WAIVER)
    )


def _elements(library: Library, context: Context) -> Iterator[Element[object]]:
    for guide in library.guides.values():
        yield passages.guide_element(guide, context)
        yield from passages.guide_steps(guide, context)
    for procedure in library.procedures.values():
        yield from passages.procedure_elements(procedure, context)
    for caution in library.cautions.values():
        yield passages.caution_element(caution, context)
    for fastener in library.fasteners.values():
        yield passages.fastener_element(fastener, context)
    for consumable in library.consumables.values():
        yield passages.consumable_element(consumable, context)
    yield from passages.catalogue_elements(library, context)


def check_element(element: Element[object], context: Context) -> Iterator[Diagnostic]:
    """What the rules find at one element, less what its waivers set aside; then the waivers that are of no use."""
    own = [waiver for waiver in element.waivers if not waiver.rule.startswith(_CAUTION_WAIVER)]
    aside = {waiver.rule for waiver in own if waiver.reason.strip()}
    used: set[str] = set()
    for passage in element.passages:
        for module in MODULES:
            for finding in findings(module, passage, context):
                used.add(module.ID)
                if module.ID not in aside:
                    yield _diagnostic(module, element, passage, finding)
    yield from _idle(own, used)


def _diagnostic(module: ModuleType, element: Element[object], passage: Passage, finding: Finding) -> Diagnostic:
    return Diagnostic(
        rule=module.ID,
        message=f"{element.name}: {finding.found}",
        at=finding.at or passage.at,
        gravity=module.GRAVITY,
        label=f"allowed: {module.LIMIT}",
        hints=(finding.repair, f"{module.ID}: {module.SOURCE}"),
    )


def _idle(own: Iterable[Waiver], used: set[str]) -> Iterator[Diagnostic]:
    for waiver in own:
        if not waiver.reason.strip():
            message, hint = f"the waiver of {waiver.rule} gives no reason", "say why the rule is set aside here"
        elif waiver.rule not in used:
            message, hint = f"the waiver of {waiver.rule} sets nothing aside", "take the waiver away"
        else:
            continue
        yield Diagnostic(rule="waiver", message=message, at=waiver.places.at, gravity=Gravity.WARNING, hints=(hint,))
