"""The whole job on the simulated actuator: what is set is measured, and what goes wrong is caught.

That the advice ends at the drawn trip in the drawn sense is common practice, no source; it is
measured here on a mechanism that knows nothing of the advice.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.language.answers import AskChoice, grammar
from assistant.language.english import english
from assistant.language.meaning import Choice
from assistant.procedure.values import Kind, Value
from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.motor import Motor
from assistant.rig.soundless_job import BEGUN, in_meanings, play, play_out
from assistant.rig.technician import Slip, Technician, plate_of
from assistant.session.core import Session
from assistant.session.effects import Deviated, Effect, Held, Listen
from assistant.session.events import Heard, Opened
from assistant.trade.motion import Rotation, Travel
from assistant.trade.trip import Sense
from assistant.trade.unit import Unit
from tests.session.job import flagship, kf

PROGRAM = flagship()
UNITS = {number: kf(number) for number in ("07", "12")}
PAPERS = {
    "technician": Value(Kind.LETTERS, "RV"),
    "checker": Value(Kind.LETTERS, "JT"),
    "work-order": Value(Kind.LETTERS, "W417"),
    "tester": Value(Kind.LETTERS, "T12"),
    "tester-due": Value(Kind.DATE, date(2031, 12, 31)),
}


@st.composite
def rigs(draw: st.DrawFn) -> Actuator:
    """Any setting in which no rotor trips inverted in the stroke: that is held, rightly."""
    unit = UNITS[draw(st.sampled_from(sorted(UNITS)))]
    gearings = {}
    for rotor in unit.rotors:
        stroke = draw(st.floats(5, 50))
        gears = Gearing(
            revolutions_per_stroke=stroke,
            rotation_while_opening=draw(st.sampled_from(Rotation)),
            cycle=stroke * draw(st.floats(1.05, 1.1)),
        )
        percent = draw(st.none() | st.floats(3, 97))
        gearings[rotor.name] = (
            gears.standing_past(draw(st.sampled_from(Travel)))
            if percent is None
            else gears.tripping_at(percent)
        )
    return Actuator(unit, gearings, draw(st.floats(0, 100)))


def technician(rig: Actuator, *slips: Slip, mistake: Mistake | None = None) -> Technician:
    return Technician(rig, plate_of(rig.unit), Motor(rig, seconds=60.0), slips, mistake)


def session(unit: Unit) -> Session:
    return Session(PROGRAM, unit, english(), PAPERS)


def all_as_drawn(rig: Actuator) -> bool:
    found = {rotor: rig.measure(rotor.name) for rotor in rig.unit.rotors}
    return all(
        [at.sense for at in change_overs] == [Sense.DRAWN]
        and abs(change_overs[0].percent - rig.unit.trip(rotor)) <= rig.unit.tolerance.value
        for rotor, change_overs in found.items()
    )


def wrong(number: str) -> Actuator:
    """Both ends far out of setting."""
    unit = UNITS[number]
    gears = Gearing(38.0, Rotation.CLOCKWISE, 55.0)
    return Actuator(
        unit, {rotor.name: gears.standing_past(rotor.set_while.opposite) for rotor in unit.rotors}
    )


def effects_of(rig: Actuator, mistake: Mistake) -> Iterator[Effect]:
    job = session(rig.unit)
    for _event, effects in play(job, technician(rig, mistake=mistake), in_meanings):
        yield from effects
    assert job.finished


@settings(max_examples=40, deadline=None)
@given(rigs())
def test_every_rotor_ends_at_its_drawn_trip_in_the_drawn_sense(rig: Actuator) -> None:
    job = session(rig.unit)
    play_out(job, technician(rig))
    assert job.finished
    assert all_as_drawn(rig)


@settings(max_examples=40, deadline=None)
@given(
    rigs(),
    st.sampled_from(["open-end/set/read", "closed-end/set/read", "prove-open/before"]),
    st.integers(0, 3),
)
def test_one_misread_contact_does_not_end_in_a_wrong_setting(
    rig: Actuator, step: str, which: int
) -> None:
    job = session(rig.unit)
    mistake = Mistake(MistakeKind.MISREAD, step, which)
    play_out(job, technician(rig, mistake=mistake))
    assert job.finished
    assert all_as_drawn(rig)


def test_a_shaft_turned_the_wrong_way_is_found_at_the_proof_and_set_again() -> None:
    # Common practice, no source: the wrong way ends at the inverted change-over.
    rig = wrong("07")
    effects = list(effects_of(rig, Mistake(MistakeKind.WRONG_WAY, "open-end/set/turn")))
    told = [effect.text for effect in effects if isinstance(effect, Deviated)]
    assert any("inverted by turning the shaft the wrong way" in text for text in told)
    assert all_as_drawn(rig)


@pytest.mark.parametrize("off", [-1.0, -0.5, 0.5, 1.0])
def test_a_miscounted_back_off_is_found_at_the_proof(off: float) -> None:
    rig = wrong("07")
    mistake = Mistake(MistakeKind.MISCOUNT, "closed-end/set/end-back-off", off)
    told = [effect.text for effect in effects_of(rig, mistake) if isinstance(effect, Deviated)]
    assert any("At the proof of the closed rotor" in text for text in told)
    assert all_as_drawn(rig)


def test_a_shaft_turned_above_two_hundred_a_minute_is_said_and_recorded() -> None:
    # Common practice, no source: never above 200 rpm.
    rig = wrong("07")
    mistake = Mistake(MistakeKind.TOO_FAST, "open-end/set/turn")
    told = [effect.text for effect in effects_of(rig, mistake) if isinstance(effect, Deviated)]
    assert any("too fast" in text for text in told)


def test_a_revision_that_differs_holds_the_job_before_anything_is_cranked() -> None:
    rig = wrong("07")
    job = session(rig.unit)
    fitter = Technician(rig, {**plate_of(rig.unit), "unit.revision": "B"})
    for _event, effects in play(job, fitter, in_meanings):
        if any(isinstance(effect, Held) for effect in effects):
            break
    assert job.step == "identity/wrong-drawing"
    assert rig.position == 0.0


@pytest.mark.parametrize("off", ["open", "closed", "third", "fourth", None])
def test_whoever_found_out_why_the_lamps_differ_names_the_rotor(off: str | None) -> None:
    unit = UNITS["12"]
    gears = Gearing(38.0, Rotation.CLOCKWISE, 55.0)
    gearings = {rotor.name: gears.tripping_at(unit.trip(rotor)) for rotor in unit.rotors}
    if off:
        gearings[off] = gears.standing_past(Travel.OPENING)
    fitter = technician(Actuator(unit, gearings))
    question = AskChoice(("open", "closed", "third", "fourth", "none"))
    listen = Listen(grammar(question, english()), "test/which-of-four", question, None, 60.0)
    fitter.watch(Opened(BEGUN.isoformat()), (listen,))
    assert fitter.answer() == Choice(off or "none")


def test_a_word_said_wrongly_at_the_test_sets_no_rotor_anew() -> None:
    job = session(UNITS["07"])
    said = [
        event.recognition.meaning
        for event, _ in play(
            job,
            technician(wrong("07"), mistake=Mistake(MistakeKind.WRONG_WORD, "test/order")),
            in_meanings,
        )
        if isinstance(event, Heard)
    ]
    assert job.finished
    assert Choice("stopped-first") in said
    assert Choice("none") in said
