"""The JSON form of meanings, as the journal keeps it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Correction,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
    from_json,
    to_json,
)
from assistant.language.speaking import say_meaning
from assistant.procedure.values import of_meaning, say
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

CONTENTS: st.SearchStrategy[Meaning] = st.one_of(
    st.dictionaries(st.integers(1, 16), st.sampled_from(ContactState), min_size=1).map(
        ContactStates.of
    ),
    st.sampled_from(Rotation).map(ShaftTurn),
    st.builds(Quantity, st.floats(allow_nan=False, allow_infinity=False), st.none() | st.text()),
    st.builds(
        Called,
        st.text(),
        st.builds(
            Quantity, st.floats(allow_nan=False, allow_infinity=False), st.none() | st.text()
        ),
    ),
    st.lists(st.text()).map(tuple).map(Lit),
    st.builds(Agreement, st.text(), st.booleans()),
    st.text().map(Choice),
    st.text().map(Spelling),
)
MEANINGS = CONTENTS | st.sampled_from(Word).map(Command) | CONTENTS.map(Correction)


SAMPLES: Mapping[type[Meaning], Meaning] = {
    Command: Command(Word.HOLD),
    ContactStates: ContactStates.of({1: ContactState.OPEN}),
    ShaftTurn: ShaftTurn(Rotation.CLOCKWISE),
    Quantity: Quantity(2.5, "turns"),
    Called: Called("mark", Quantity(12.0, "turns")),
    Lit: Lit(("open lamp",)),
    Agreement: Agreement("checker", agrees=True),
    Choice: Choice("torque"),
    Spelling: Spelling("KF07"),
    Correction: Correction(ShaftTurn(Rotation.CLOCKWISE)),
}


@pytest.mark.parametrize("kind", get_args(Meaning))
def test_every_kind_of_meaning_can_be_kept_read_again_and_said(kind: type[Meaning]) -> None:
    """A journal that holds one of which that is not so could never be opened again."""
    meaning = SAMPLES[kind]
    assert from_json(json.loads(json.dumps(to_json(meaning)))) == meaning
    assert say_meaning(meaning)
    if not isinstance(meaning, Command | Correction):  # these are no values
        assert say(of_meaning(meaning))


@given(MEANINGS)
def test_a_meaning_survives_the_journal(meaning: Meaning) -> None:
    assert from_json(json.loads(json.dumps(to_json(meaning)))) == meaning


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"command": "energise"},
        {"contacts": {}},
        {"contacts": {"1": "made"}},
        {"contacts": {"one": "open"}},
        {"rotation": "left"},
        {"number": "2", "unit": None},
        {"number": 2, "unit": None, "called": 3},
        {"called": "mark"},
        {"lit": "open lamp"},
        {"lit": ["open lamp", 3]},
        {"role": "checker"},
        {"role": "checker", "agrees": "yes"},
        {"correction": {}},
    ],
)
def test_what_is_no_meaning_is_refused(data: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"."):
        from_json(data)


def test_contacts_are_kept_once_each_in_ascending_order() -> None:
    closed = ContactState.CLOSED
    with pytest.raises(ValueError, match="ascending"):
        ContactStates(((2, closed), (1, closed)))
    with pytest.raises(ValueError, match="ascending"):
        ContactStates(((1, closed), (1, closed)))
