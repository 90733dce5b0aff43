"""A phrase book is data: errors in it have a place, and another book works alike."""

from __future__ import annotations

import copy
import functools
from collections.abc import Callable
from importlib import resources
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.answers import (
    AskAgreement,
    AskContacts,
    AskNumber,
    AskRotation,
    AskSpelling,
    Question,
    grammar,
)
from assistant.language.english import english
from assistant.language.meaning import (
    Agreement,
    Called,
    ContactStates,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.phrase_book import PhraseBook, PhraseBookError
from assistant.language.speaking import say_meaning
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation


@functools.cache
def kept_data() -> dict[str, Any]:
    text = resources.files("assistant.language").joinpath("english.yaml").read_text("utf-8")
    data: dict[str, Any] = yaml.safe_load(text)
    return data


def english_data() -> dict[str, Any]:
    return copy.deepcopy(kept_data())


def put(*path: str | int, value: Any) -> Callable[[dict[str, Any]], None]:
    def change(data: Any) -> None:
        for at in path[:-1]:
            data = data[at]
        data[path[-1]] = value

    return change


def drop(*path: str | int) -> Callable[[dict[str, Any]], None]:
    def change(data: Any) -> None:
        for at in path[:-1]:
            data = data[at]
        del data[path[-1]]

    return change


WRONG = [
    (put("wurds", value={}), ("wurds",), "did you mean 'words'"),
    (put("colour", value="blue"), ("colour",), "unknown key: remove it"),
    (drop("words"), (), "'words' is missing"),
    (drop("words", "hold"), ("words",), "'hold' is missing"),
    (put("words", "energise", value=["energise"]), ("words", "energise"), "unknown key"),
    (put("words", True, value=["yes"]), ("words",), "put quotes round it"),
    (put("words", "yes", value=[True]), ("words", "yes", 0), "put quotes round it"),
    (put("words", "hold", value="hold"), ("words", "hold"), "must be a list"),
    (put("words", "hold", value=[]), ("words", "hold"), "must be a list"),
    (put("words", "hold", value=["Hold"]), ("words", "hold", 0), "'hold'"),
    (put("words", "hold", value=["hold  it"]), ("words", "hold", 0), "'hold it'"),
    (put("words", "hold", value=["..."]), ("words", "hold", 0), "holds no words"),
    (put("words", "hold", value=[{"say": "hold"}]), ("words", "hold", 0), "'written' is missing"),
    (
        put("words", "hold", value=[{"say": "hold", "written": "old"}]),
        ("words", "hold", 0, "written"),
        "must be a list of spellings",
    ),
    (put("words", "hold", value=["help"]), ("words", "hold"), "already has a meaning"),
    (put("states", "open", value=["closed"]), ("states", "closed"), "already has a meaning"),
    (put("letters", "A", value=["seven"]), ("letters", "A"), "already has a meaning"),
    (put("numbers", 3, value="thirteen"), ("numbers", 13), "already has a meaning"),
    (
        put("numbers", 3, value={"say": "three", "written": ["4"]}),
        ("numbers", 4),
        "already has a meaning",
    ),
    (drop("numbers", 0), ("numbers",), "0 to 99"),
    (put("other-numbers", "100", value=["century"]), ("other-numbers", "100"), "unknown key"),
    (put("other-digits", "10", value=["x"]), ("other-digits", "10"), "unknown key"),
    (put("correction", value=["sorry"]), ("correction", 0), "must also stand under words"),
    (put("fractions", "0.3", value={}), ("fractions", "0.3"), "unknown key"),
    (put("units", value={}), ("units",), "must be a list of units"),
    (put("units", 0, "names", value=[]), ("units", 0, "names"), "must be a list of names"),
    (put("units", 0, "parts", value="eighths"), ("units", 0, "parts"), "'decimals'"),
    (put("units", 1, "names", value=["turns"]), ("units", 1, "names"), "stands twice"),
    (drop("roles", "checker"), ("roles",), "'checker' is missing"),
    (put("roles", "witness", value=["witness"]), ("roles", "witness"), "unknown key"),
    (put("roles", "checker", value=["mark"]), ("roles", "checker"), "already has a meaning"),
    (drop("lamps", "dark"), ("lamps",), "'dark' is missing"),
    (put("lamps", "lit", value=["dark"]), ("lamps", "dark"), "already has a meaning"),
    (put("hundred", value=[]), ("hundred",), "must be a list"),
    (put("at", value=["and"]), ("at",), "already has a meaning"),
    (put("units", 0, "one", value=["bravo"]), ("letters", "B"), "already has a meaning"),
    (put("speaking", "no-lamp-lit", value="{lamps}"), ("speaking", "no-lamp-lit"), "no field"),
    (drop("letters", "Q"), ("letters",), "'Q' is missing"),
    (put("speaking", "reading", value="{contacts}"), ("speaking", "reading"), "{state}"),
    (put("speaking", "minus", value="minus {number"), ("speaking", "minus"), "{number}"),
    (put("speaking", "minus", value="{number:>9}"), ("speaking", "minus"), "{number}"),
    (put("speaking", "minus", value=None), ("speaking", "minus"), "{number}"),
]


@pytest.mark.parametrize(("change", "path", "message"), WRONG)
def test_what_is_wrong_is_said_with_its_place(
    change: Callable[[dict[str, Any]], None], path: tuple[str | int, ...], message: str
) -> None:
    data = english_data()
    change(data)
    with pytest.raises(PhraseBookError) as raised:
        PhraseBook.from_data(data)
    assert raised.value.path == path
    assert message in raised.value.message
    assert str(raised.value).endswith(raised.value.message)


def test_a_place_reads_like_a_path() -> None:
    assert str(PhraseBookError(("words", "hold", 1), "wrong")) == "words.hold[1]: wrong"
    assert str(PhraseBookError((), "wrong")) == "phrase book: wrong"


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text() | st.integers(), inner),
    max_leaves=4,
)


def places(data: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    entries = data.items() if isinstance(data, dict) else enumerate(data)
    found: list[tuple[str | int, ...]] = []
    for key, value in entries:
        found.append((*path, key))
        if isinstance(value, dict | list):
            found.extend(places(value, (*path, key)))
    return found


@given(st.sampled_from(places(kept_data())), JUNK)
def test_junk_anywhere_is_a_located_error_or_a_book(path: tuple[str | int, ...], junk: Any) -> None:
    data = english_data()
    put(*path, value=junk)(data)
    try:
        PhraseBook.from_data(data)
    except PhraseBookError as error:
        assert error.message


@given(JUNK)
def test_junk_alone_is_an_error(junk: Any) -> None:
    with pytest.raises(PhraseBookError):
        PhraseBook.from_data(junk)


def backwards(data: Any, key: str = "") -> Any:
    """Another language: every phrase of the English one with its letters reversed."""
    if key in ("speaking", "names", "parts"):
        return data
    if isinstance(data, dict):
        return {name: backwards(value, name) for name, value in data.items()}
    if isinstance(data, list):
        return [backwards(value, key) for value in data]
    return data[::-1] if isinstance(data, str) else data


# In that language every word of a sentence is turned round, so the expected text follows.
@pytest.mark.parametrize(
    ("question", "meaning", "said"),
    [
        (
            AskContacts((1, 2)),
            ContactStates.of({1: ContactState.CLOSED, 2: ContactState.OPEN}),
            "eno desolc, owt nepo",
        ),
        (AskRotation(), ShaftTurn(Rotation.CLOCKWISE), "esiwkcolc"),
        (AskNumber("turns"), Quantity(1.5, "turns"), "eno flah a dna snrut"),
        (AskNumber("%"), Quantity(2.4, "%"), "owt tniop ruof tnecrep"),
        (
            AskNumber("turns", called=("mark",)),
            Called("mark", Quantity(12, "turns")),
            "mark, evlewt snrut",
        ),
        (AskAgreement("checker"), Agreement("checker", agrees=True), "rekcehc, tcerroc"),
        (AskSpelling(), Spelling("KF07"), "olik tortxof orez neves"),
    ],
)
def test_another_language_is_other_data(question: Question, meaning: Meaning, said: str) -> None:
    book = PhraseBook.from_data(backwards(english_data()))
    assert say_meaning(meaning, book) == said
    assert grammar(question, book).parse(said) == meaning
    assert grammar(question, book).parse(say_meaning(meaning, english())) is None


def test_two_units_may_share_a_word_for_a_question_has_one_unit() -> None:
    data = english_data()
    put("units", 1, "many", value=["turns"])(data)
    book = PhraseBook.from_data(data)
    for unit in ("turns", data["units"][1]["names"][0]):
        assert grammar(AskNumber(unit), book).parse("two turns") == Quantity(2, unit)


def test_english_is_read_once_and_knows_every_word() -> None:
    assert english() is english()
    assert set(english().words) == set(Word)
    assert english().unit("%") is english().unit("percent")
    assert english().unit("furlongs") is None
