from __future__ import annotations

import pytest

from assistant.trade import ContactState, Development, DevelopmentError, name_contacts

DEVELOPMENT = Development({1: ((98.4, 100),), 5: ((0, 2.4),), 9: ((25, 40), (60, 100))})


@pytest.mark.parametrize(
    ("contact", "travel", "state"),
    [
        # Common practice, no source: 1 closes at the open end; 5 is closed only near the seat.
        (1, 0, ContactState.OPEN),
        (1, 98.3, ContactState.OPEN),
        (1, 100, ContactState.CLOSED),
        (5, 0, ContactState.CLOSED),
        (5, 2.5, ContactState.OPEN),
        (5, 100, ContactState.OPEN),
        # By the definition of a closed interval.
        (9, 50, ContactState.OPEN),
        (9, 25, ContactState.CLOSED),
        (9, 40, ContactState.CLOSED),
    ],
)
def test_state_is_what_the_line_shows(contact: int, travel: float, state: ContactState) -> None:
    assert DEVELOPMENT.state_at(contact, travel) is state


def test_only_edges_within_the_stroke_count() -> None:
    assert DEVELOPMENT.edges(1) == (98.4,)
    assert DEVELOPMENT.edges(5) == (2.4,)
    assert DEVELOPMENT.edges(9) == (25, 40, 60)
    assert Development({1: ((0, 100),), 2: ()}).edges(1) == ()


@pytest.mark.parametrize("travel", [-0.1, 100.1, float("nan"), float("inf")])
def test_travel_outside_the_stroke_is_refused(travel: float) -> None:
    with pytest.raises(DevelopmentError, match="outside the stroke"):
        DEVELOPMENT.state_at(1, travel)


def test_unknown_contact_is_refused_with_those_that_exist() -> None:
    with pytest.raises(DevelopmentError, match=r"Contact 7 has no line.*contacts 1, 5 and 9"):
        DEVELOPMENT.state_at(7, 50)
    with pytest.raises(DevelopmentError, match="no contact"):
        Development({}).edges(1)


def test_later_changes_of_the_source_do_not_reach_it() -> None:
    source = {1: ((50.0, 100.0),)}
    development = Development(source)
    source[2] = ((0.0, 50.0),)
    assert development.contacts == (1,)
    with pytest.raises(TypeError):
        development.closed[2] = ()  # type: ignore[index]


def test_equal_sheets_are_one_key() -> None:
    assert len({Development({1: ((50, 100),)}), Development({1: ((50, 100),)})}) == 1


@pytest.mark.parametrize(
    ("contacts", "words"),
    [([4], "contact 4"), ([1, 2], "contacts 1 and 2"), ([1, 2, 3], "contacts 1, 2 and 3")],
)
def test_contacts_are_named_in_words(contacts: list[int], words: str) -> None:
    assert name_contacts(contacts) == words
