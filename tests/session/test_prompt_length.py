"""Nothing that is said in one prompt takes longer than twelve seconds.

The session knows no voice: here the words are counted, which `tests/bench/prompts.py` measures as
they sound. Common practice, no source.
"""

from __future__ import annotations

import re

import pytest

from assistant.language.speaking import say_number
from assistant.rehearsal.covering import cover, reach
from assistant.rehearsal.playing import play
from assistant.session.effects import Say
from assistant.session.prompt_length import MOST_WORDS, in_prompts
from assistant.session.wording import ON_HOLD
from tests.session.everything_said import bench_of, said_in
from tests.session.job import Job
from tests.session.whole_job import at

TWENTY = "Contacts 3 and 4 do not go with contacts 1 and 2: they may be wired the wrong way round."


def words(text: str) -> int:
    """How many are spoken, figures written out."""
    return len(re.sub(r"\d+(\.\d+)?", lambda found: say_number(float(found[0])), text).split())


def too_long(said: set[str]) -> list[str]:
    return sorted(text for text in said if words(text) > MOST_WORDS)


def texts(job: Job) -> list[str]:
    return [effect.text for effect in job.effects if isinstance(effect, Say)]


@pytest.mark.parametrize("name", ["graft-scion", "second-check", "stroke-time-check"])
def test_on_every_way_through_a_procedure_whatever_is_said(name: str) -> None:
    said = said_in(played for _job, played in cover(bench_of(name)).jobs)
    assert any(text.startswith("If it is not done yet: ") for text in said)
    assert too_long(said) == []


@pytest.mark.parametrize("unit", ["07", "12"])
def test_at_every_step_of_the_main_job_whatever_is_said(unit: str) -> None:
    played = play(bench_of("set-geared-limits", unit), ())
    assert played.finished
    assert too_long(said_in([played])) == []


def test_and_in_the_hold_that_names_what_no_setting_explains() -> None:
    job = reach(bench_of("set-geared-limits"), "find/unexplained")
    assert job is not None
    assert too_long(said_in([play(job.bench, job.departures)])) == []


def test_work_before_the_question_is_a_prompt_of_its_own() -> None:
    job = at("prove-bypass/unseat").say("say again")
    assert texts(job) == [
        "If it is not done yet: Now the bypass of the torque switch. Crank to the closed stop.",
        "Crank slowly toward open, counting. Say mark and the turns where you feel the disk leave "
        "its seat. Or none, at the open stop.",
    ]


@pytest.mark.parametrize(
    ("said", "lead"),
    [
        ("where am i", "Set the geared limit switches. At find, crank on."),
        ("repeat contacts", "Last confirmed: "),
        ("", "I am listening."),
    ],
)
def test_what_comes_before_a_question_is_a_prompt_of_its_own(said: str, lead: str) -> None:
    job = at("find/crank-on")
    job = job.say(said) if said else job.silence()
    first, asked = texts(job)
    assert first.startswith(lead)
    assert asked.startswith("If it is not done yet: Crank slowly toward open")


def test_what_ends_a_hold_is_a_prompt_of_its_own() -> None:
    assert texts(Job().say("hold")) == ["You said hold.", ON_HOLD]


def test_a_text_of_several_findings_is_cut_between_its_sentences() -> None:
    """Two findings of twenty words are more than 33; with three words more, one is not."""
    assert words(TWENTY) == 20
    assert in_prompts(f"{TWENTY} {TWENTY} Find out why.") == (TWENTY, f"{TWENTY} Find out why.")


def test_a_point_in_a_number_ends_no_sentence_and_a_long_one_stays_whole() -> None:
    long = f"{'on and ' * MOST_WORDS}77.75 turns."
    assert in_prompts(long) == (long,)
    assert in_prompts("") == ("",)
