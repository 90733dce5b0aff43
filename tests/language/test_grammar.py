"""The grammar machinery, on small grammars of its own."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.grammar import (
    Expression,
    Grammar,
    Many,
    Maybe,
    OneOf,
    Rule,
    Sequence,
    SomeOf,
    Tag,
    Term,
    words_of,
)
from assistant.language.meaning import Choice, Meaning

A, B, C = Term("ay", tag="a"), Term("bee", tag="b"), Term("sea", tag="c")
AND = Term("and")


def join(tags: tuple[Tag, ...]) -> Meaning | None:
    return Choice("".join(map(str, tags)))


def grammar_of(*expressions: Expression) -> Grammar:
    return Grammar(tuple(Rule("test", expression, join) for expression in expressions))


# By the meaning of each kind of expression, as its docstring gives it.
@pytest.mark.parametrize(
    ("expression", "sentences"),
    [
        (A, {"ay"}),
        (Sequence(A, B), {"ay bee"}),
        (OneOf(A, B), {"ay", "bee"}),
        (OneOf(A, OneOf(B, C)), {"ay", "bee", "sea"}),
        (Sequence(OneOf(A, B), C), {"ay sea", "bee sea"}),
        (OneOf(Sequence(OneOf(A, B), C), A), {"ay", "ay sea", "bee sea"}),
        (Maybe(A), {"", "ay"}),
        (Sequence(Maybe(A), B), {"bee", "ay bee"}),
        (Many(A, 1, 3), {"ay", "ay ay", "ay ay ay"}),
        (Many(A, 0, 1), {"", "ay"}),
        (Many(OneOf(A, B), 2, 2), {"ay ay", "ay bee", "bee ay", "bee bee"}),
        (SomeOf(A, B, between=AND), {"ay", "bee", "ay and bee"}),
        (
            SomeOf(A, B, C, between=Maybe(AND)),
            {"ay", "bee", "sea", "ay bee", "ay sea", "bee sea", "ay bee sea"}
            | {"ay and bee", "ay and sea", "bee and sea", "ay and bee and sea"}
            | {"ay and bee sea", "ay bee and sea"},
        ),
        (Sequence(Many(Maybe(A), 1, 2), B), {"bee", "ay bee", "ay ay bee"}),
    ],
)
def test_the_sentences_of_each_kind_of_expression(
    expression: Expression, sentences: set[str]
) -> None:
    grammar = grammar_of(expression)
    assert set(grammar.sentences()) == sentences
    for sentence in sentences:
        letters = [{"ay": "a", "bee": "b", "sea": "c"}.get(word, "") for word in sentence.split()]
        assert grammar.parse(sentence) == Choice("".join(letters))


def test_sentences_come_shortest_first_each_once_and_no_more_than_asked() -> None:
    grammar = grammar_of(Many(OneOf(A, B, A), 1, 4))
    sentences = list(grammar.sentences())
    lengths = [len(sentence.split()) for sentence in sentences]
    assert lengths == sorted(lengths)
    assert len(sentences) == len(set(sentences)) == 2 + 4 + 8 + 16
    assert list(grammar.sentences(most=5)) == sentences[:5]


def test_two_meanings_of_one_reply_are_no_meaning() -> None:
    grammar = grammar_of(Term("right", tag="correct"), Term("right", tag="clockwise"))
    assert grammar.parse("right") is None


def test_two_ways_to_one_meaning_are_one_meaning() -> None:
    assert grammar_of(A, OneOf(A, A)).parse("ay") == Choice("a")


def test_a_reply_that_its_rule_refuses_is_not_understood() -> None:
    grammar = Grammar((Rule("never", A, lambda _: None),))
    assert grammar.parse("ay") is None
    assert list(grammar.sentences()) == []


@pytest.mark.parametrize("text", ["", "bee", "ay ay", "ay bee", "a", "aybee", "ay.bee"])
def test_a_text_that_is_no_sentence_is_not_understood(text: str) -> None:
    assert grammar_of(A).parse(text) is None


def test_spellings_parse_like_the_term_and_are_not_enumerated() -> None:
    grammar = grammar_of(Term("twenty five", ("25", "twenty fife"), "25"))
    for text in ("Twenty-five.", "25", "twenty fife", "TWENTY FIVE"):
        assert grammar.parse(text) == Choice("25")
    assert list(grammar.sentences()) == ["twenty five"]
    assert grammar.vocabulary() == {"twenty", "five"}


def test_typed_characters_may_be_run_together() -> None:
    letters = OneOf(Term("kilo", tag="K", typed="k"), Term("zero", ("0",), "0", "0"))
    grammar = grammar_of(Many(letters, 1, 4))
    for text in ("K0", "k 0", "kilo 0", "kilo zero", "K-0"):
        assert grammar.parse(text) == Choice("K0")
    assert grammar.parse("kk-00") == Choice("KK00")
    for text in ("k0k00", "kx0", "kkkk 0", "kk", "kilo zero kk"):
        assert grammar.parse(text) is None


def test_what_can_only_be_typed_is_neither_said_nor_heard() -> None:
    figures = OneOf(*(Term("", (), figure, figure) for figure in "12"))
    grammar = grammar_of(A, Sequence(figures, figures))
    assert grammar.parse("21") == Choice("21")
    assert list(grammar.sentences()) == ["ay"]
    assert grammar.vocabulary() == {"ay"}
    assert [arc.term for arc in grammar.arcs(grammar.start)] == [A]


def test_alternatives_of_one_term_lead_to_one_node() -> None:
    grammar = grammar_of(Sequence(OneOf(A, OneOf(B, C)), AND))
    assert len({arc.target for arc in grammar.arcs(grammar.start)}) == 1


def test_a_known_word_is_never_taken_apart() -> None:
    letters = (Term("alfa", tag="A", typed="a"), Term("one", tag="1", typed="1"))
    grammar = grammar_of(Many(OneOf(Term("a1", tag="word"), *letters), 1, 2))
    assert grammar.parse("a1") == Choice("word")
    assert grammar.parse("1a") == Choice("1A")


@given(st.text())
def test_words_hold_no_space_and_come_again(text: str) -> None:
    words = words_of(text)
    assert all(word and not word.isspace() for word in words)
    assert words_of(" ".join(words)) == words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("KF-07", ("kf", "07")),
        ("1\N{EN DASH}4", ("1", "-", "4")),
        ("1 - 4", ("1", "-", "4")),
        ("-2", ("-", "2")),
        ("98.4%", ("98", "point", "4", "percent")),
        ("1½", ("1", "½")),
        ("3/4 of a turn.", ("¾", "of", "a", "turn")),
        ("11/2", ("11", "2")),
        ("x-ray", ("x", "ray")),
        ("don't", ("don't",)),
        ("...", ()),
    ],
)
def test_how_a_written_reply_splits_into_words(text: str, words: tuple[str, ...]) -> None:
    assert words_of(text) == words
