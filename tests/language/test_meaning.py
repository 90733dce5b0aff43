"""The JSON form of meanings, as the journal keeps it."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.meaning import (
    Choice,
    Command,
    ContactStates,
    Correction,
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
