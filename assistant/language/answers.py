"""The grammar of every kind of answer.

The global commands are in every grammar. The words that answer ("done", "yes", "no", "mark") are
only in those of the questions that they answer, so that one misheard word cannot answer another
question. Grammars are kept: the same question and book give the same object, under which a
recogniser may keep what it derives from it.
"""

from __future__ import annotations

import functools

from assistant.language.agreements import agreement
from assistant.language.called_numbers import called_number
from assistant.language.choices import choice
from assistant.language.commands import global_commands, word_rule
from assistant.language.contact_lists import contact_states, none_of_them
from assistant.language.either import either
from assistant.language.grammar import Grammar, Rule, Sequence, Tag
from assistant.language.lamps import lamps_lit
from assistant.language.meaning import Correction, Meaning, Word
from assistant.language.numbers import digit_by_digit, number
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDigits,
    AskDone,
    AskEither,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskWhether,
    AskYesNo,
    Question,
)
from assistant.language.rotations import shaft_rotation
from assistant.language.spelling import spelled
from assistant.language.whether import whether

__all__ = [
    "AskAgreement",
    "AskChoice",
    "AskContacts",
    "AskDigits",
    "AskDone",
    "AskEither",
    "AskLamps",
    "AskMark",
    "AskNumber",
    "AskRotation",
    "AskSpelling",
    "AskWhether",
    "AskYesNo",
    "Question",
    "commands_only",
    "confirming",
    "grammar",
    "hold_only",
]

_MOST_KEPT = 512


@functools.lru_cache(_MOST_KEPT)
def grammar(question: Question, book: PhraseBook) -> Grammar:
    """What may be said to a question.

    Raises:
        ValueError: if the book has no words for the unit of a number or for a role; or what a
            question names (choices, lamps, words that go with a number) has no words, or the words
            of another one, of a command, or of what else may be said there.
    """
    return Grammar((_answer(question, book), global_commands(book)))


@functools.lru_cache(_MOST_KEPT)
def confirming(question: Question, book: PhraseBook) -> Grammar:
    """What may be said when the answer to a question is read back.

    Yes or no; and where the answer has a content, no with the right answer in the same breath.
    """
    rules = [word_rule("yes or no", (Word.YES, Word.NO), book)]
    if not isinstance(question, AskDone | AskYesNo | AskMark | AskAgreement):
        rules.append(_correction(_answer(question, book), book))
    if isinstance(question, AskContacts):
        rules.append(none_of_them(question.contacts, book))
    return Grammar((*rules, global_commands(book)))


@functools.lru_cache(_MOST_KEPT)
def commands_only(book: PhraseBook) -> Grammar:
    """What may be said when nothing is asked."""
    return Grammar((global_commands(book),))


@functools.lru_cache(_MOST_KEPT)
def hold_only(book: PhraseBook) -> Grammar:
    """What may be said while the program speaks."""
    return Grammar((word_rule("hold", (Word.HOLD,), book),))


def _answer(question: Question, book: PhraseBook) -> Rule:
    match question:
        case AskDone() | AskYesNo() | AskMark():
            return _fixed_word(question, book)
        case AskContacts(contacts):
            return contact_states(contacts, book)
        case AskRotation():
            return shaft_rotation(book)
        case AskNumber(unit, most=most):
            return _number(question, number(unit, book, most), book)
        case AskLamps(lamps):
            return lamps_lit(lamps, book)
        case AskAgreement(role):
            return agreement(role, book)
        case AskChoice(choices):
            return choice(choices, book)
        case AskSpelling():
            return spelled(book)
        case AskEither() | AskWhether() | AskDigits():
            return _in_doubt(question, book)


def _in_doubt(question: AskEither | AskWhether | AskDigits, book: PhraseBook) -> Rule:
    match question:
        case AskEither():
            return either(question, book)
        case AskWhether():
            return whether(question, book)
        case AskDigits(asked):
            return _number(asked, digit_by_digit(asked.unit, book), book)


def _number(question: AskNumber, bare: Rule, book: PhraseBook) -> Rule:
    """The number as it is, or with the words that go with it."""
    worded = question.called or question.instead
    return called_number(question, bare, book) if worded else bare


def _fixed_word(question: AskDone | AskYesNo | AskMark, book: PhraseBook) -> Rule:
    match question:
        case AskDone():
            return word_rule("done", (Word.DONE,), book)
        case AskYesNo():
            return word_rule("yes or no", (Word.YES, Word.NO), book)
        case AskMark():
            return word_rule("mark", (Word.MARK,), book)


def _correction(answer: Rule, book: PhraseBook) -> Rule:
    def corrected(tags: tuple[Tag, ...]) -> Meaning | None:
        meaning = answer.interpret(tags[1:])  # without the "no"
        return None if meaning is None else Correction(meaning)

    return Rule(
        name="correction",
        expression=Sequence(any_of(book.correction, Word.NO), answer.expression),
        interpret=corrected,
        examples=tuple(
            book.templates["correction"].format(wrong=book.correction[0].spoken, answer=example)
            for example in answer.examples
        ),
    )
