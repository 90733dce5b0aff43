"""The three-part exchange: what was heard counts only after it was confirmed.

Source of the rules: DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5 (say, repeat back, confirm; on an error
the sender says so and says it again; silence confirms nothing).
"""

from __future__ import annotations

import pytest

from assistant.language.meaning import ContactStates, ShaftTurn, Spelling
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation
from tests.session.job import TO_READING, Job
from tests.session.whole_job import at

CLOSED, OPEN = ContactState.CLOSED, ContactState.OPEN
DRAWN_PAST = ContactStates.of({1: CLOSED, 2: CLOSED, 3: OPEN, 4: OPEN})


@pytest.fixture
def at_reading() -> Job:
    return Job().say(*TO_READING)


def test_a_reading_is_read_back_and_counts_only_after_correct(at_reading: Job) -> None:
    at_reading.say("one and two closed three and four open")
    assert at_reading.said == "I heard one and two closed, three and four open. Correct?"
    assert at_reading.confirmed == []
    at_reading.say("correct")
    assert [effect.answer for effect in at_reading.confirmed] == [DRAWN_PAST]


def test_yes_confirms_like_correct(at_reading: Job) -> None:
    at_reading.say("one and two closed three and four open", "yes")
    assert [effect.answer for effect in at_reading.confirmed] == [DRAWN_PAST]


def test_wrong_asks_again_and_forgets(at_reading: Job) -> None:
    at_reading.say("one and two open three and four closed", "wrong")
    assert at_reading.confirmed == []
    assert "Read contacts one, two, three and four" in at_reading.said
    at_reading.say("one and two closed three and four open", "correct")
    assert [effect.answer for effect in at_reading.confirmed] == [DRAWN_PAST]


def test_a_correction_in_one_breath_is_read_back_in_turn(at_reading: Job) -> None:
    at_reading.say("one closed two open three and four open", "wrong, two closed")
    assert at_reading.said == "I heard one and two closed, three and four open. Correct?"
    assert at_reading.confirmed == []
    at_reading.say("correct")
    assert [effect.answer for effect in at_reading.confirmed] == [DRAWN_PAST]


def test_contacts_that_were_not_mentioned_are_asked_for(at_reading: Job) -> None:
    at_reading.say("one and two closed")
    assert at_reading.said == "And three and four?"
    at_reading.say("both open")
    assert at_reading.said == "I heard one and two closed, three and four open. Correct?"


def test_silence_at_a_read_back_confirms_nothing_and_ends_on_hold(at_reading: Job) -> None:
    at_reading.say("one and two closed three and four open")
    for _ in range(2):
        at_reading.silence()
        assert at_reading.confirmed == []
        assert not at_reading.session.held
        assert "I heard one and two closed, three and four open" in at_reading.said
    at_reading.silence()
    assert at_reading.held
    at_reading.silence(5)
    assert at_reading.session.held
    # After the hold the question is asked anew: the unconfirmed reading is gone.
    at_reading.say("carry on")
    assert at_reading.listen.read_back is None
    assert at_reading.confirmed == []


def test_what_was_not_understood_is_asked_again_then_bit_by_bit_then_held(at_reading: Job) -> None:
    at_reading.say("blue banana")
    assert "Read contacts" in at_reading.said
    at_reading.say("blue banana")
    assert at_reading.said == "One at a time. Is contact one closed, yes or no?"
    at_reading.say("blue banana")
    assert at_reading.held
    assert at_reading.session.step == "open-end/read"


@pytest.mark.parametrize(("confidence", "counts"), [(0.50, True), (0.49, False)])
def test_below_the_confidence_level_nothing_was_understood(
    at_reading: Job, confidence: float, counts: bool
) -> None:
    # Source: VoiceXML 2.0, property confidencelevel, default 0.5; below it is nomatch.
    at_reading.say("one and two closed three and four open", confidence=confidence)
    assert (at_reading.listen.read_back == DRAWN_PAST) is counts


def test_a_rotation_is_read_back() -> None:
    job = Job().say(*TO_READING[:-1])
    assert job.listen.read_back == ShaftTurn(Rotation.CLOCKWISE)
    job.say("wrong, counterclockwise")
    assert job.listen.read_back == ShaftTurn(Rotation.COUNTERCLOCKWISE)


def test_the_tag_is_compared_with_the_sheet_and_a_second_mismatch_holds() -> None:
    job = Job().say(*TO_READING[:8])
    for attempt in range(2):
        job.say("kilo foxtrot one two")
        assert job.listen.read_back == Spelling("KF12")
        job.say("correct")
        assert job.session.held is (attempt == 1)
    job.say(
        *("carry on", "the tag was painted over", "yes", "technician"),
        *("kilo foxtrot zero seven", "correct"),
    )
    assert job.session.step == "identity/revision"


def test_the_prompt_does_not_tell_what_the_tag_should_be() -> None:
    # Source: a verifier who is told the answer repeats it (Degani & Wiener, NASA CR-177549).
    assert "kilo" not in Job().say(*TO_READING[:8]).said


def test_what_was_called_wrong_is_not_offered_again() -> None:
    """Five was misheard for fifty, which cannot be: neither is left to be confirmed."""
    job = at("prove-open/on").say("mark five turns", "wrong mark fifty turns")
    assert "Fifty turns cannot be" in job.said
    assert "five turns" not in job.said.replace("Fifty turns", "")
    assert job.say("correct").confirmed == []
    assert job.say("mark one turn", "correct").confirmed != []


@pytest.mark.parametrize(
    ("step", "patience"),
    [
        ("isolation/dead", 600.0),  # the tester proved, the valve, and the tester again
        ("isolation/cover/cover", 600.0),
        ("open-end/set/disengage", 600.0),  # "done" is said when something was done
        ("isolation/dead-checked", 20.0),
    ],
)
def test_what_has_to_be_done_first_is_waited_for(step: str, patience: float) -> None:
    assert at(step).listen.patience == patience
