from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.answers import (
    AskContacts,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    grammar,
)
from assistant.language.english import english
from assistant.language.grammar import Grammar, Rule, Sequence, Term
from assistant.language.meaning import Quantity, Spelling
from assistant.speech.moonshine.pieces import Pieces
from assistant.speech.moonshine.token_graph import TokenGraph

LETTERS = Pieces(
    map(str.encode, ["<unk>", "<s>", "</s>", "▁", *string.ascii_letters, *string.digits, *",.-%'"])
)
"""Pieces of one character each, so that a graph can be asked about any text."""

BOOK = english()
CONTACTS = grammar(AskContacts((1, 2, 3, 4)), BOOK)
SPELLING = grammar(AskSpelling(), BOOK)
PERCENT = grammar(AskNumber("%"), BOOK)
TURNS = grammar(AskNumber("turns"), BOOK)
# With hundreds the graph also writes "a hundred zero", to which the interpreter gives no meaning.
COUNTS = grammar(AskNumber("turns", most=99), BOOK)


def accepts(of: Grammar, text: str) -> bool:
    graph = TokenGraph(of, LETTERS)
    state = graph.start
    for token in LETTERS.segment(text):
        following = graph.follow(state)
        if token not in following:
            return False
        state = following[token]
    return graph.is_end(state)


@pytest.mark.parametrize(
    ("of", "text"),
    [
        (CONTACTS, "one and two closed"),
        (CONTACTS, "One and two closed."),
        (CONTACTS, "1 and 2 closed"),
        (CONTACTS, "One closed, two closed."),
        (CONTACTS, "One, two closed. Three and four are open."),
        (CONTACTS, "Say again."),
        (SPELLING, "Kilo foxtrot 07."),
        (SPELLING, "Kilo foxtrot 0 7"),
        (SPELLING, "X-ray zero"),
        (PERCENT, "2.4%"),
        (PERCENT, "2.4 percent"),
        (PERCENT, "Two point four percent."),
        (TURNS, "Twenty-five turns."),
        (TURNS, "25 turns"),
        (TURNS, "One and a half turns."),
        (grammar(AskRotation(), BOOK), "Counter-clockwise."),
    ],
)
def test_ways_to_write_a_sentence(of: Grammar, text: str) -> None:
    assert accepts(of, text)
    assert of.parse(text) is not None


@pytest.mark.parametrize(
    ("of", "text"),
    [
        (CONTACTS, "one and two"),
        (CONTACTS, "one and five closed"),
        (CONTACTS, "one and two closed,"),
        (CONTACTS, "one,, two closed"),
        (CONTACTS, "one. two closed"),
        (CONTACTS, ". one closed"),
        (CONTACTS, "onetwo closed"),
        (SPELLING, "kilofoxtrot"),
        (PERCENT, "2.%"),
        (CONTACTS, ""),
    ],
)
def test_what_is_no_sentence(of: Grammar, text: str) -> None:
    assert not accepts(of, text)


def test_figures_written_together_mean_single_digits() -> None:
    assert SPELLING.parse("Kilo foxtrot 07.") == Spelling("KF07")
    assert PERCENT.parse("2.4%") == Quantity(2.4, "%")


@given(st.sampled_from([*CONTACTS.sentences(400), *SPELLING.sentences(60), *TURNS.sentences(200)]))
def test_every_sentence_is_accepted_as_it_is_spoken_and_as_it_is_written(sentence: str) -> None:
    of = next(one for one in (CONTACTS, SPELLING, TURNS) if one.parse(sentence) is not None)
    assert accepts(of, sentence)
    assert accepts(of, sentence[0].upper() + sentence[1:] + ".")


@given(st.data())
def test_whatever_the_graph_writes_ends_in_the_grammar(data: st.DataObject) -> None:
    of = data.draw(st.sampled_from([SPELLING, COUNTS, grammar(AskYesNo(), BOOK)]))
    graph = TokenGraph(of, LETTERS)
    state, tokens = graph.start, []
    while not graph.is_end(state) or data.draw(st.booleans()):
        following = graph.follow(state)
        if not following:
            break
        tokens.append(data.draw(st.sampled_from(sorted(following))))
        state = following[tokens[-1]]
    assert graph.is_end(state)
    assert of.parse(LETTERS.text(tokens)) is not None


def test_a_form_of_several_words_may_carry_hyphens() -> None:
    rule = Rule("r", Sequence(Term("and a half"), Term("turn")), lambda _: Quantity(0.5, None))
    assert accepts(Grammar((rule,)), "And-a-half turn.")


def test_states_are_shared() -> None:
    graph = TokenGraph(CONTACTS, LETTERS)
    first = graph.follow(graph.start)
    assert graph.follow(graph.start) is first
