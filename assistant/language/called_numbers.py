"""A number with a word before it, "mark, four and a half turns", or a word in its place, "none"."""

from __future__ import annotations

from assistant.language.choices import choice_terms
from assistant.language.grammar import Expression, Grammar, Maybe, OneOf, Rule, Sequence, Tag, Term
from assistant.language.meaning import Called, Choice, Meaning
from assistant.language.numbers import quantity_of
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.language.questions import AskNumber
from assistant.language.speaking import say_choice

__all__ = ["called_number"]


def called_number(question: AskNumber, bare: Rule, book: PhraseBook) -> Rule:
    """A number that one of the words comes before, or one of the other words alone.

    Args:
        question: the unit of the number, the words of which one comes before it (without any it
            stands alone), and those of which one alone answers.
        bare: the number on its own.
        book: the phrase book.

    Raises:
        ValueError: if a word has the words of another one, of a command or of a number.
    """
    unit, called, instead = question.unit, question.called, question.instead
    words = choice_terms((*called, *instead), book, "word")
    _refuse_numbers(words, bare)
    before, alone = words[: len(called)], words[len(called) :]
    return Rule(
        name="called number",
        expression=OneOf(_counted(before, bare.expression, book), *alone),
        interpret=lambda tags: _meaning(tags, unit, called, instead),
        examples=(*_examples(bare, called, book), *(say_choice(name, book) for name in instead)),
    )


def _counted(before: tuple[Term, ...], bare: Expression, book: PhraseBook) -> Expression:
    return Sequence(OneOf(*before), Maybe(any_of(book.at)), bare) if before else bare


def _refuse_numbers(words: tuple[Term, ...], bare: Rule) -> None:
    numbers = Grammar((bare,))
    for word in words:
        if numbers.parse(word.spoken) is not None:
            raise ValueError(f"the word '{word.tag}' sounds like a number: rename it")


def _meaning(
    tags: tuple[Tag, ...], unit: str | None, called: tuple[str, ...], instead: tuple[str, ...]
) -> Meaning | None:
    match tags:
        case (str(name),) if name in instead:
            return Choice(name)
        case (str(name), *rest) if name in called:
            counted = quantity_of(tuple(rest), unit)
            return None if counted is None else Called(name, counted)
    return quantity_of(tags, unit)


def _examples(bare: Rule, called: tuple[str, ...], book: PhraseBook) -> tuple[str, ...]:
    counted = bare.examples[0]
    return tuple(f"{say_choice(name, book)} {counted}" for name in called) or (counted,)
