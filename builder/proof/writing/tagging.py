"""Give each word of a sentence its kind: noun, verb, command, determiner and so on.

A small tagger for workshop prose: word lists first, then what stands before and after. Where it can not tell, it says
OTHER or prefers the noun, since a rule that is silent costs less than one that finds what is not there.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from builder.model.verbs import CONDITION_WORDS
from builder.proof.writing import english
from builder.proof.writing.lexicon import Lexicon
from builder.proof.writing.prose import Kind, Sentence, Token


class Tag(StrEnum):
    """The kind of a word at its place in a sentence. COMMAND is a verb that tells the reader to act."""

    COMMAND = "command"
    VERB = "verb"
    VERB_S = "verb-s"
    PARTICIPLE = "participle"
    ING = "ing"
    NOUN = "noun"
    POSSESSIVE = "possessive"
    ADJECTIVE = "adjective"
    ADVERB = "adverb"
    DETERMINER = "determiner"
    PRONOUN = "pronoun"
    PREPOSITION = "preposition"
    INFINITIVE = "to"
    SUBORDINATOR = "subordinator"
    CONJUNCTION = "conjunction"
    MODAL = "modal"
    BE = "be"
    HAVE = "have"
    DO = "do"
    NUMBER = "number"
    UNIT = "unit"
    VALUE = "value"
    MARK = "mark"
    OTHER = "other"


_FINITE = frozenset({Tag.VERB, Tag.VERB_S, Tag.BE, Tag.HAVE, Tag.MODAL, Tag.DO, Tag.COMMAND})
_NOUN_AHEAD = frozenset({Tag.DETERMINER, Tag.ADJECTIVE, Tag.PREPOSITION, Tag.POSSESSIVE, Tag.NUMBER, Tag.NOUN})
# What may stand between the place where a command is looked for and the command.
_PASSED = frozenset({"then", "now", "again", "also", "first", "next", "please", "not", "do", "never", "always"})
_JOINTS = frozenset({"and", "or", "but", "then"})


@dataclass(frozen=True, slots=True)
class Tagged:
    """A sentence with the tag of each token.

    `commands` are the places of the verbs that tell the reader to act. `opener` says that the sentence begins with a
    condition, and `condition_end` is the place of the comma that closes it, None where no comma does.
    """

    sentence: Sentence
    tags: tuple[Tag, ...]
    opener: bool
    condition_end: int | None

    @property
    def tokens(self) -> tuple[Token, ...]:
        """The tokens of the sentence."""
        return self.sentence.tokens

    @property
    def lower(self) -> tuple[str, ...]:
        """The tokens in small letters."""
        return tuple(token.lower for token in self.sentence.tokens)

    @property
    def commands(self) -> tuple[int, ...]:
        """The places of the commands, in order."""
        return tuple(place for place, tag in enumerate(self.tags) if tag is Tag.COMMAND)


def tagged(sentence: Sentence, lexicon: Lexicon, *, instruction: bool) -> Tagged:
    """Tag a sentence. In an `instruction` a first word that can be a verb is taken for one.

    In an explanation only a first word with an object behind it is: "Grease the thread", not "Grease keeps it free".
    """
    return _Tagger(sentence, lexicon, instruction).run()


class _Tagger:
    """One pass over one sentence, from left to right."""

    def __init__(self, sentence: Sentence, lexicon: Lexicon, instruction: bool) -> None:
        self.sentence = sentence
        self.words = tuple(token.lower for token in sentence.tokens)
        self.kinds = tuple(token.kind for token in sentence.tokens)
        self.lexicon = lexicon
        self.instruction = instruction
        self.tags: list[Tag] = []
        self.opener = bool(self.words) and self.words[0] in CONDITION_WORDS
        self.condition_end = self._condition_end() if self.opener else None

    def run(self) -> Tagged:
        slot = not self.opener
        main_command = False
        in_clause = False
        wants_verb = self.opener
        for place, word in enumerate(self.words):
            if self.condition_end == place:
                slot, in_clause = True, False
            tag = self._command(place, strict=main_command) if slot else None
            if tag is Tag.COMMAND:
                main_command, in_clause, wants_verb = True, False, False
            if tag is None:
                tag = self._tag(place, wants_verb)
            self.tags.append(tag)
            if tag is Tag.SUBORDINATOR:
                in_clause = wants_verb = True
            elif tag is Tag.INFINITIVE:
                in_clause = True
            elif tag in _FINITE:
                wants_verb = False
            if word == ",":
                in_clause = False
            slot = self._slot_after(place, slot, tag, main_command, in_clause)
        return Tagged(self.sentence, tuple(self.tags), self.opener, self.condition_end)

    def _slot_after(self, place: int, slot: bool, tag: Tag, main_command: bool, in_clause: bool) -> bool:
        """Whether a command may stand right after `place`."""
        word = self.words[place]
        if self.condition_end is not None and place == self.condition_end:
            return True
        if not main_command:
            return slot and (word in _PASSED or tag is Tag.ADVERB)
        if slot and tag is not Tag.COMMAND and (word in _PASSED or tag is Tag.ADVERB):
            return True
        if word in ("then", ";") or (word == "," and not in_clause):
            return True
        return word in _JOINTS and not in_clause

    def _command(self, place: int, *, strict: bool) -> Tag | None:
        """COMMAND where a command stands at `place`; `strict` where it would be a second one."""
        word = self.words[place]
        if word == "do" and self._word(place + 1) != "not":
            return Tag.COMMAND if not strict or self._object_at(place + 1) else None
        if word in _PASSED:
            return None
        if not self._is_verb(place, strict=strict or not (self.instruction or self.opener)):
            return None
        return Tag.COMMAND

    def _is_verb(self, place: int, *, strict: bool) -> bool:
        word = self._word(place)
        if word not in self.lexicon.verbs or self._kind(place) is not Kind.WORD:
            return False
        after = self._word(place + 1)
        if word == "make" and after == "sure":
            return True
        doubtful = word in self.lexicon.nouns or word in self.lexicon.adjectives
        if after in english.BE or after in english.MODALS or after in english.HAVE:
            return False
        if not doubtful:
            return True
        if self._object_at(place + 1):
            return True
        return not strict and not self._verb_further_on(place + 1)

    def _verb_further_on(self, place: int) -> bool:
        """Whether a finite verb follows in the same clause, so that what stands before it is its subject."""
        for further in range(place, len(self.words)):
            word = self.words[further]
            if self.kinds[further] is Kind.MARK or word in english.SUBORDINATORS or word in english.CLAUSE_OR_PHRASE:
                return False
            if word in english.BE or word in english.MODALS or word in english.HAVE:
                return True
            if word in self.lexicon.verbs_s and word not in self.lexicon.nouns:
                return True
        return False

    def _object_at(self, place: int) -> bool:
        """Whether what a verb acts on, or how it acts, begins at `place`."""
        word = self._word(place)
        if self._kind(place) in (Kind.VALUE, Kind.NUMBER):
            return True
        if word in english.ARTICLES or word in english.PRONOUNS or word in ("one", "two", "three", "four", "half"):
            return True
        return word.endswith("ly") and word not in english.NOT_ADVERBS

    def _condition_end(self) -> int | None:
        """The comma that closes the leading condition: the first one with a command behind it."""
        commas = [place for place, word in enumerate(self.words) if word == ","]
        for strict in (True, False):
            for comma in commas:
                after = comma + 1
                while self._word(after) in _PASSED and not (
                    self._word(after) == "do" and self._word(after + 1) != "not"
                ):
                    after += 1
                if self._word(after) == "do" or self._is_verb(after, strict=strict):
                    return comma
        return None

    def _tag(self, place: int, wants_verb: bool) -> Tag:
        word, kind = self.words[place], self.kinds[place]
        match kind:
            case Kind.MARK:
                return Tag.MARK
            case Kind.NUMBER:
                return Tag.NUMBER
            case Kind.UNIT:
                return Tag.UNIT
            case Kind.VALUE:
                return Tag.VALUE
            case Kind.WORD:
                return self._closed(place, word) or self._open(place, word, wants_verb)

    def _closed(self, place: int, word: str) -> Tag | None:
        """The tag of a word of a closed class, or None."""
        if word.endswith(("'s", "s'")) and word not in ("it's", "that's", "let's", "there's", "what's"):
            return Tag.POSSESSIVE
        if word == "to":
            return Tag.INFINITIVE if self._infinitive(place + 1) else Tag.PREPOSITION
        if word == "that":
            before = self.tags[-1] if self.tags else None
            noun_next = self._word(place + 1) in self.lexicon.nouns
            return Tag.DETERMINER if noun_next and before in (Tag.PREPOSITION, Tag.COMMAND) else Tag.SUBORDINATOR
        if word in english.CLAUSE_OR_PHRASE:
            if word == "so":
                return Tag.SUBORDINATOR if self._word(place + 1) == "that" else Tag.ADVERB
            return Tag.SUBORDINATOR if self._clause_at(place + 1) else Tag.PREPOSITION
        if word in ("and", "or", "but", "nor"):
            return Tag.CONJUNCTION
        for words, tag in (
            (english.BE, Tag.BE),
            (english.HAVE, Tag.HAVE),
            (english.DO, Tag.DO),
            (english.MODALS, Tag.MODAL),
            (english.SUBORDINATORS, Tag.SUBORDINATOR),
            (english.PRONOUNS, Tag.PRONOUN),
            (english.DETERMINERS, Tag.DETERMINER),
            (english.PREPOSITIONS, Tag.PREPOSITION),
        ):
            if word in words and not (tag is Tag.MODAL and word in ("can", "will") and self._after_determiner()):
                return tag
        return None

    def _open(self, place: int, word: str, wants_verb: bool) -> Tag:
        """The tag of a noun, a verb, an adjective or an adverb."""
        before = self.tags[-1] if self.tags else None
        after = self._word(place + 1)
        noun = word in self.lexicon.nouns
        adjective = word in self.lexicon.adjectives
        if word in self.lexicon.verbs and self._verb_expected(before):
            return Tag.VERB
        if word in self.lexicon.participles and before in (Tag.BE, Tag.HAVE):
            return Tag.PARTICIPLE
        if word in self.lexicon.participles and before is Tag.ADVERB and Tag.BE in self.tags[-3:]:
            return Tag.PARTICIPLE
        if word in self.lexicon.verbs_s and (not noun or self._verb_s_here(before, after, wants_verb)):
            return Tag.VERB_S
        if word.endswith("ing") and word not in english.ING_NOUNS and not noun:
            return Tag.ING
        if adjective and (not noun or self._nominal(place + 1) or before is Tag.BE):
            return Tag.ADJECTIVE
        if word in self.lexicon.verbs and wants_verb and before is Tag.NOUN and self._plural_before(place):
            return Tag.VERB
        if noun:
            return Tag.NOUN
        if word in english.ADVERBS or (word.endswith("ly") and word not in english.NOT_ADVERBS):
            return Tag.ADVERB
        if word in self.lexicon.participles:
            reduced = before is Tag.NOUN and not self._nominal(place + 1)
            return Tag.PARTICIPLE if reduced else Tag.ADJECTIVE
        if word in self.lexicon.verbs:
            return Tag.NOUN if before in (Tag.DETERMINER, Tag.ADJECTIVE) else Tag.VERB
        if word.endswith(("ed", "able", "ible", "ful", "less", "ous", "ic", "al", "ive")):
            return Tag.ADJECTIVE
        if word.endswith(("tion", "sion", "ness", "ment", "ity", "ance", "ence", "ture", "ship")):
            return Tag.NOUN
        return Tag.OTHER

    def _verb_expected(self, before: Tag | None) -> bool:
        if before in (Tag.MODAL, Tag.INFINITIVE, Tag.DO):
            return True
        if before is Tag.ADVERB and len(self.tags) > 1 and self.tags[-2] in (Tag.MODAL, Tag.DO):
            return True
        return before is Tag.PRONOUN and self.words[len(self.tags) - 1] in ("you", "we", "they", "i")

    def _verb_s_here(self, before: Tag | None, after: str, wants_verb: bool) -> bool:
        """Whether a word that can be a plural noun or a verb is the verb of its clause."""
        if before is Tag.SUBORDINATOR or (before is Tag.PRONOUN and self.words[len(self.tags) - 1] == "it"):
            return self.words[len(self.tags) - 1] not in ("when", "if", "where")
        if before not in (Tag.NOUN, Tag.OTHER, Tag.ADVERB) or after in english.BE or after in english.MODALS:
            return False
        has_verb = any(tag in _FINITE for tag in self.tags)
        if wants_verb or (not has_verb and not self.instruction):
            return True
        return after in english.ARTICLES and not has_verb

    def _plural_before(self, place: int) -> bool:
        return self.words[place - 1] in self.lexicon.plurals

    def _after_determiner(self) -> bool:
        return bool(self.tags) and self.tags[-1] in (Tag.DETERMINER, Tag.ADJECTIVE)

    def _infinitive(self, place: int) -> bool:
        word = self._word(place)
        if word in english.BE or word == "have":
            return True
        if word not in self.lexicon.verbs:
            return False
        doubtful = word in self.lexicon.nouns or word in self.lexicon.adjectives
        return not doubtful or self._object_at(place + 1)

    def _clause_at(self, place: int) -> bool:
        """Whether a clause with a subject and a verb begins at `place`, as against a mere noun."""
        if self._word(place) in english.PRONOUNS:
            return True
        for further in range(place, min(place + 8, len(self.words))):
            word = self._word(further)
            if self._kind(further) is Kind.MARK:
                return False
            if word in english.BE or word in english.MODALS or word in english.HAVE or word in english.DO:
                return True
            verb_s = word in self.lexicon.verbs_s and word not in self.lexicon.nouns
            if further > place and (verb_s or (word in self.lexicon.verbs_s and self._object_at(further + 1))):
                return True
            if further > place + 1 and word in self.lexicon.verbs_s and self._ends(further + 1):
                return True
        return False

    def _ends(self, place: int) -> bool:
        return place >= len(self.words) or self._kind(place) is Kind.MARK

    def _nominal(self, place: int) -> bool:
        """Whether a noun phrase goes on at `place`."""
        word = self._word(place)
        if self._kind(place) in (Kind.VALUE,):
            return True
        if word in self.lexicon.nouns or word in self.lexicon.adjectives:
            return True
        return word in self.lexicon.participles and word not in english.BE

    def _word(self, place: int) -> str:
        return self.words[place] if 0 <= place < len(self.words) else ""

    def _kind(self, place: int) -> Kind | None:
        return self.kinds[place] if 0 <= place < len(self.kinds) else None
