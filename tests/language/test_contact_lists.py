"""What people say of contacts, and what it means."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.answers import AskContacts, grammar
from assistant.language.english import english
from assistant.language.meaning import ContactStates, Meaning
from assistant.trade.contacts import ContactState

OPEN, CLOSED = ContactState.OPEN, ContactState.CLOSED
SPOKEN = [
    *("one", "two", "three", "four", "five", "six", "seven", "eight"),
    *("nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen"),
]
NUMBERS = dict(enumerate(SPOKEN, start=1))


def understood(contacts: tuple[int, ...], text: str) -> Meaning | None:
    return grammar(AskContacts(contacts), english()).parse(text)


# The phrases of the job, with the plain sense of the English; no source.
@pytest.mark.parametrize(
    ("contacts", "text", "closed", "open_"),
    [
        ((1, 2), "one and two closed", (1, 2), ()),
        ((1, 2), "one two closed", (1, 2), ()),
        ((1, 2), "one closed two closed", (1, 2), ()),
        ((1, 2), "one closed two open", (1,), (2,)),
        ((1, 2), "One closed, two closed.", (1, 2), ()),
        ((1, 2), "two open, one closed", (1,), (2,)),
        ((1, 2, 3, 4), "one through four open", (), (1, 2, 3, 4)),
        ((1, 2, 3, 4), "1-4 open", (), (1, 2, 3, 4)),
        ((1, 2, 3, 4), "one thru three closed four open", (1, 2, 3), (4,)),
        ((5, 6, 7, 8), "five and six are open", (), (5, 6)),
        ((5, 6, 7, 8), "five to eight open", (), (5, 6, 7, 8)),
        ((5, 6), "both closed", (5, 6), ()),
        ((5, 6), "Both are open.", (), (5, 6)),
        ((5, 6), "both contacts are open", (), (5, 6)),
        ((5, 6), "all closed", (5, 6), ()),
        ((1, 2, 3, 4), "all closed", (1, 2, 3, 4), ()),
        ((1, 2, 3, 4), "all four closed", (1, 2, 3, 4), ()),
        ((1, 2, 3, 4), "all 4 contacts are closed", (1, 2, 3, 4), ()),
        ((5, 6, 7, 8), "contact five is closed", (5,), ()),
        ((5, 6, 7, 8), "contact fife is closed", (5,), ()),
        ((9, 10), "niner closed ten open", (9,), (10,)),
        ((1, 2, 3, 4), "contacts one and two are closed", (1, 2), ()),
        ((1, 2, 3, 4), "one and two closed three and four open", (1, 2), (3, 4)),
        ((1, 2, 3, 4), "one and two closed and three and four open", (1, 2), (3, 4)),
        ((1, 2, 3, 4), "one, two, and four closed; three open", (1, 2, 4), (3,)),
        ((1, 2, 3, 4), "1 and 2 closed, 3 open", (1, 2), (3,)),
        ((1, 2, 3, 4), "One closed to open.", (1,), (2,)),
        ((1, 2, 3, 4), "too open for closed", (4,), (2,)),
        ((1, 2, 3, 4), "contact one and contact two closed", (1, 2), ()),
        ((1, 2, 3, 4), "three and four closed the others open", (3, 4), (1, 2)),
        ((1, 2, 3, 4), "one open and the rest are closed", (2, 3, 4), (1,)),
        ((4,), "open", (), (4,)),
        ((4,), "closed", (4,), ()),
        ((4,), "four closed", (4,), ()),
        ((15, 16), "fifteen closed 16 open", (15,), (16,)),
    ],
)
def test_phrases(
    contacts: tuple[int, ...], text: str, closed: tuple[int, ...], open_: tuple[int, ...]
) -> None:
    expected = ContactStates.of(dict.fromkeys(closed, CLOSED) | dict.fromkeys(open_, OPEN))
    assert understood(contacts, text) == expected


@pytest.mark.parametrize(
    ("contacts", "text"),
    [
        ((1, 2, 3, 4), "one closed one closed"),  # named twice, even if it agrees
        ((1, 2, 3, 4), "one closed one open"),
        ((1, 2, 3, 4), "one one closed"),
        ((1, 2, 3, 4), "one through three closed two open"),
        ((1, 2, 3, 4), "two and one closed"),  # descending within a group
        ((1, 2, 3, 4), "four through one closed"),
        ((1, 2, 3, 4), "one through two through four closed"),
        ((1, 2, 5, 6), "one through five closed"),  # three and four were not asked
        ((1, 2, 3, 4), "five closed"),
        ((1, 2, 3, 4), "twelve closed"),
        ((1, 2, 3, 4), "12 closed"),  # not one and two: somebody wrote twelve
        ((1, 2, 3, 4), "both closed"),  # four were asked
        ((1,), "both closed"),
        ((1,), "all closed"),
        ((1, 2), "all four closed"),
        ((1, 2), "all two closed"),
        ((1, 2, 3, 4), "all three closed"),
        ((1, 2, 3, 4), "all eight closed"),
        ((1, 2, 3, 4), "closed"),  # which?
        ((1, 2), "open"),
        ((1, 2, 3, 4), "one and two"),  # no state
        ((1, 2, 3, 4), "and two closed"),  # the beginning was lost
        ((1, 2, 3, 4), "through four closed"),
        ((1, 2, 3, 4), "one and two closed three"),
        ((1, 2, 3, 4), "everything open"),
        ((1, 2, 3, 4), "one not closed"),
        ((1, 2, 3, 4), "one made"),
        ((1, 2, 3, 4), "all closed one open"),
        ((1, 2, 3, 4), "one to four open"),  # or one, two, four: they sound alike
        ((1, 2, 3, 4), "yes"),
        ((1, 2, 3, 4), "done"),
        ((1, 2, 3, 4), ""),
    ],
)
def test_what_is_not_understood(contacts: tuple[int, ...], text: str) -> None:
    assert understood(contacts, text) is None


@st.composite
def reports(draw: st.DrawFn) -> tuple[tuple[int, ...], dict[int, ContactState], str]:
    """Contacts that are asked, the states of some of them, and a sentence that tells these."""
    asked = draw(st.sets(st.integers(1, 16), min_size=1))
    told = draw(st.sets(st.sampled_from(sorted(asked)), min_size=1))
    left = draw(st.permutations(sorted(told)))
    states: dict[int, ContactState] = {}
    words: list[str] = []
    while left:
        size = draw(st.integers(1, len(left)))
        group, left = sorted(left[:size]), left[size:]
        state = draw(st.sampled_from(ContactState))
        states.update(dict.fromkeys(group, state))
        if states.keys() - group:
            words.append(draw(st.sampled_from(["", ",", "and"])))
        words.append(draw(st.sampled_from(["", "contact", "contacts"])))
        for number in group:
            words.append(draw(st.sampled_from(["", "and", ","])) if number != group[0] else "")
            words.append(draw(st.sampled_from([NUMBERS[number], str(number)])))
        words.append(draw(st.sampled_from(["", "is", "are"])))
        words.append(state.value)
    return tuple(asked), states, " ".join(words).replace(" ,", ",")


@given(reports())
def test_every_wording_of_a_report_means_the_report(
    report: tuple[tuple[int, ...], dict[int, ContactState], str],
) -> None:
    asked, states, sentence = report
    assert understood(asked, sentence) == ContactStates.of(states)


WORDS = st.sampled_from([*SPOKEN, "and", "through", "to", "closed", "open", "all", "both", "12"])


@given(
    st.sets(st.integers(1, 16), min_size=1, max_size=4),
    st.lists(WORDS, min_size=2, max_size=6).map(" ".join),
)
def test_no_reply_tells_of_a_contact_or_a_state_that_was_not_asked_or_said(
    asked: set[int], text: str
) -> None:
    meaning = understood(tuple(asked), text)
    if meaning is not None:
        assert isinstance(meaning, ContactStates)
        assert meaning.mapping().keys() <= asked
        assert {state.value for state in meaning.mapping().values()} <= set(text.split())


@pytest.mark.parametrize("contacts", [(), (0,), (17,), (1, 1)])
def test_questions_for_impossible_contacts_are_refused(contacts: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="contacts"):
        AskContacts(contacts)


def test_the_order_in_which_contacts_are_asked_does_not_matter() -> None:
    assert AskContacts((4, 1)) == AskContacts((1, 4))
