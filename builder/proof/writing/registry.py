"""The rules of writing, by what they look at, and the table of them all for a page to list."""

from __future__ import annotations

import inspect
from typing import Any

from builder.model.catalogue import Caution, Consumable, Fastener
from builder.model.guide import Guide, Step
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import PassageRule, Rule, RuleModule
from builder.proof.writing.rules import (
    active_voice,
    alternatives,
    amounts,
    approved_verbs,
    articles,
    average_sentence,
    average_word,
    capitals,
    caution_length,
    caution_risk,
    caution_start,
    chunks,
    completion,
    compressed_air,
    condition_first,
    contractions,
    description_length,
    expected_state,
    few_cautions,
    final_test,
    helping_verbs,
    ing_form,
    instruction_length,
    italics,
    named_tools,
    no_compliance,
    note_informs,
    notice_sign,
    noun_cluster,
    obligation,
    one_caution_text,
    one_datum,
    one_instruction,
    one_term,
    paragraph_length,
    persons,
    phrasal_verbs,
    positive,
    ranges,
    references,
    repeated_step,
    reverse_order,
    safety_signs,
    semicolons,
    signal_word,
    timed_step,
    times,
    torque_deviation,
    torque_limits,
    torque_shown,
    typed_numbers,
    units,
    vague_words,
    verb_first,
    vertical_list,
    wanted_state,
)

ON_PASSAGE: tuple[PassageRule, ...] = (
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
    one_caution_text,
    caution_start,
    caution_risk,
    caution_length,
    compressed_air,
    units,
    one_datum,
    ranges,
    capitals,
    italics,
    no_compliance,
)
ON_STEP: tuple[RuleModule[Element[Step]], ...] = (
    named_tools,
    alternatives,
    timed_step,
    repeated_step,
    torque_shown,
    expected_state,
)
ON_GUIDE: tuple[RuleModule[Element[Guide]], ...] = (
    average_sentence,
    average_word,
    chunks,
    completion,
    final_test,
    times,
    persons,
    few_cautions,
)
ON_CAUTION: tuple[RuleModule[Element[Caution]], ...] = (signal_word, notice_sign, safety_signs)
ON_FASTENER: tuple[RuleModule[Element[Fastener]], ...] = (torque_limits, torque_deviation)
ON_CONSUMABLE: tuple[RuleModule[Element[Consumable]], ...] = (amounts,)


def _rule(module: RuleModule[Any]) -> Rule:
    title, _, words = inspect.cleandoc(module.__doc__ or "").partition("\n")
    return Rule(
        id=module.ID,
        title=title,
        words=words.strip(),
        gravity=module.GRAVITY,
        source=str(module.SOURCE),
        limit=module.LIMIT,
    )


_MODULES: tuple[RuleModule[Any], ...] = (
    *ON_PASSAGE,
    *ON_STEP,
    *ON_GUIDE,
    *ON_CAUTION,
    *ON_FASTENER,
    *ON_CONSUMABLE,
)
# Every rule that a program judges on the sources, by its group and number: W writing, S structure, H safety, N numbers,
# L legibility, D delivery.
RULES: tuple[Rule, ...] = tuple(
    sorted((_rule(module) for module in _MODULES), key=lambda rule: ("WSHNLD".index(rule.id[0]), rule.id))
)
