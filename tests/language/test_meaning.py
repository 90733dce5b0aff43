"""The JSON form of meanings, as the journal keeps it."""

from __future__ import annotations

import json
from typing import Any

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
