"""A caution in the record is bound to the question that was asked with it, and to nothing else.

Source: DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5 (silence confirms nothing); the rest is common practice,
no source: an answer to another question says nothing of a caution.
"""

from __future__ import annotations

from typing import Any

import pytest

from assistant.record.cautions import Caution, cautions_of
from assistant.record.words import Field
from tests.journal import rehearsed
from tests.record.test_record_evidence import entries
from tests.session.job import flagship, kf

SAID = ["Warning. It can start.", "Is everybody clear?"]
SPOKEN = {"kind": "heard", "step": "before", "said": SAID}


def at(step: str, **more: Any) -> dict[str, Any]:
    return {"kind": "heard", "step": step, **more}


def answer(step: str, meant: Any) -> dict[str, Any]:
    return at(step, meant=meant, confirmed={step: meant})


YES = answer("clear", {"command": "yes"})
UNHEARD = at("clear", said=["I did not understand. Is everybody clear?"])


def first_of(*bodies: dict[str, Any]) -> Caution:
    return cautions_of(entries(SPOKEN, *bodies))[0]


def test_a_caution_has_its_question_and_the_answer_to_that_question() -> None:
    caution = first_of(YES)
    assert (caution.text, caution.asked) == (SAID[0], SAID[1])
    assert (caution.answer, caution.answered) == (Field("clear", "yes"), 3)
    assert (caution.agreed, caution.asked_again, caution.unconfirmed) == (True, 0, "")


def test_an_answer_to_another_question_confirms_no_caution() -> None:
    caution = first_of(at("clear"), answer("other", {"command": "yes"}))
    assert caution.answer is None
    assert caution.unconfirmed == "the journal ends before an answer"


def test_a_read_back_is_no_second_asking_and_a_reply_that_was_none_is() -> None:
    read_back = at("clear", meant={"contacts": {"1": "open"}}, said=["I heard one open. Correct?"])
    assert first_of(read_back, YES).asked_again == 0
    silence = {"kind": "silence", "step": "clear"}
    again = at("clear", meant={"command": "say-again"})
    caution = first_of(UNHEARD, silence, again, YES)
    assert (caution.asked_again, caution.answered) == (3, 6)


@pytest.mark.parametrize(
    ("ends", "why"),
    [
        (at("clear", held="You said hold."), "hold at line 3: You said hold."),
        (at("clear", skipped={"step": "clear", "by": "technician"}), "skipped at line 3 by techni"),
        (at("clear", went_back="before"), "went back at line 3"),
        ({**at("clear"), "kind": "returned", "said": SAID}, "spoken again at line 3"),
    ],
)
def test_what_ends_the_question_without_an_answer_is_told(ends: dict[str, Any], why: str) -> None:
    caution = first_of(ends, YES)
    assert caution.answer is None
    assert caution.unconfirmed.startswith(why)


def test_after_a_hold_the_caution_is_spoken_again_and_that_one_is_confirmed() -> None:
    made = entries(SPOKEN, at("clear", held="You said hold."), at("clear", said=SAID), YES)
    assert [(one.seq, one.answered) for one in cautions_of(made)] == [(2, None), (4, 5)]


@pytest.mark.parametrize("given", [{"command": "no"}, {"role": "checker", "agrees": False}])
def test_a_no_is_an_answer_and_no_agreement(given: dict[str, Any]) -> None:
    caution = first_of(answer("clear", given))
    assert (caution.answered, caution.agreed) == (3, False)


def test_a_caution_with_a_hold_asks_nothing() -> None:
    (caution,) = cautions_of(entries({**SPOKEN, "held": "Damaged gears."}, YES))
    assert (caution.answer, caution.unconfirmed) == (None, "hold: Damaged gears.")


def test_in_a_whole_job_every_caution_is_confirmed_at_the_step_that_spoke_it() -> None:
    job = rehearsed.job(rehearsed.rig_of(kf("07")))
    cautions = cautions_of(job)
    assert len(cautions) > 8
    for caution in cautions:
        spoken = job[caution.seq - 1].body["begun"]
        assert caution.answer is not None
        assert caution.answer.name == spoken[-1]
        assert any(flagship().nodes[step].step.notices for step in spoken)
