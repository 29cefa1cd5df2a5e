"""Which cautions go ahead of a step, and how grave each is: worked out by rule, so that none can be forgotten.

The signal word follows the definitions of ISO 3864-2 and ANSI Z535.6 (as restated in open documents): who is harmed,
how badly, and whether the harm will or could follow. A caution attaches to a verb and a thing; leaving one out takes
a waiver with a reason.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.model.catalogue import Caution, Fastener, Harm, Likelihood, Severity, SignalWord
from builder.model.deciding import decided
from builder.model.guide import Step, Waiver
from builder.model.library import Library
from builder.model.verbs import acts_of, sentences, things_named

CAUTION_WAIVER = "caution:"
_GRAVEST_FIRST = tuple(SignalWord)


@dataclass(frozen=True, slots=True)
class Handling:
    """An act and a thing that it is done to, both by id; `verb` is '' where the sentence begins with no known verb."""

    verb: str
    thing: str


def signal_word(caution: Caution) -> SignalWord:
    """The word of a caution: harm to things alone is a NOTICE, whatever is written about its severity."""
    if caution.harm is Harm.THINGS:
        return SignalWord.NOTICE
    match caution.severity:
        case Severity.DAMAGE:
            return SignalWord.NOTICE
        case Severity.MINOR_OR_MODERATE:
            return SignalWord.CAUTION
        case Severity.DEATH_OR_SERIOUS:
            return SignalWord.DANGER if caution.likelihood is Likelihood.WILL else SignalWord.WARNING


def caution_text(caution: Caution) -> str:
    """The words of a caution at a step."""
    return caution.short or caution.text


def gravest_first(cautions: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Cautions by their signal word, those of the same word in the order given."""
    return tuple(sorted(cautions, key=lambda caution: _GRAVEST_FIRST.index(signal_word(caution))))


def fastener_things(fastener: Fastener, library: Library) -> tuple[str, ...]:
    """What is handled with a fastener: the things that its name names, what it belongs to, and its own `things`."""
    named = things_named(tuple(fastener.name.lower().split()), library.glossary)
    owner = (fastener.role.value,) if fastener.role is not None and fastener.role.value in library.glossary else ()
    return tuple(dict.fromkeys((*named, *owner, *fastener.things)))


def handlings(step: Step, library: Library) -> tuple[Handling, ...]:
    """Every act of a step with every thing that it is done to.

    The acts are those of each sentence of `do` and of each choice, without those that say "do not"; the things are
    those that it `handles`, those of its fasteners, and those that the sentence itself names as what the act is done
    to; a sentence of several acts is read act by act. A step that loosens or tightens a fastener does so, however its
    sentence begins.
    """
    found: dict[Handling, None] = {}
    loosened = _things_of(step.loosens, library)
    tightened = _things_of(step.tightens, library)
    for text in (step.do, *(choice.do for choice in step.choose)):
        for sentence in sentences(text):
            done = [act for act in acts_of(sentence, library.verbs) if not act.negated]
            named = [things_named(act.phrase, library.glossary) for act in done]
            for act, own in zip(done, named, strict=True):
                # What the sentence says of one act is not done by another of its acts.
                others = {thing for things in named for thing in things} - {*own}
                handled = tuple(thing for thing in step.handles if thing not in others)
                for thing in (*handled, *loosened, *tightened, *own):
                    found[Handling(act.verb, thing)] = None
    for thing in loosened:
        found[Handling("loosen", thing)] = None
    for thing in tightened:
        found[Handling("tighten", thing)] = None
    return tuple(found)


def _things_of(fastener: str | None, library: Library) -> tuple[str, ...]:
    if fastener is None or fastener not in library.fasteners:
        return ()
    return fastener_things(library.fasteners[fastener], library)


def attached(step: Step, library: Library) -> tuple[Caution, ...]:
    """The cautions that attach to a step by rule, for any bike and before waivers, in the catalogue's order."""
    handled = handlings(step, library)
    return tuple(
        caution
        for caution in library.cautions.values()
        if any(handling.verb in caution.verbs and handling.thing in caution.things for handling in handled)
    )


def waived(step: Step) -> tuple[Waiver, ...]:
    """The waivers of a step that set a caution aside. One without a reason sets nothing aside."""
    return tuple(waiver for waiver in step.waivers if waiver.rule.startswith(CAUTION_WAIVER) and waiver.reason.strip())


def cautions_for(step: Step, library: Library, cases: Mapping[str, str]) -> tuple[Caution, ...]:
    """The cautions that go ahead of a step, gravest first: those written and those attached by rule, less those waived.

    A caution whose `when` is known not to hold for `cases` is left out; one that is still open is shown, so that a
    guide for no certain bike shows them all.
    """
    aside = {waiver.rule.removeprefix(CAUTION_WAIVER) for waiver in waived(step)}
    written = tuple(library.cautions[name] for name in step.cautions if name in library.cautions)
    every = dict.fromkeys((*(caution.id for caution in written), *(caution.id for caution in attached(step, library))))
    shown = (library.cautions[name] for name in every if name not in aside)
    return gravest_first(tuple(caution for caution in shown if decided(caution.when, cases) is not False))
