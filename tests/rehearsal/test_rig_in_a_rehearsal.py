"""What the rig shows in a rehearsal, and what comes of it: facts of the trade."""

from __future__ import annotations

import pytest

from assistant.rehearsal.handling import HandlingError, read_handling
from assistant.rehearsal.mishaps import MISHAPS, read_mishap, step_of
from assistant.rehearsal.picture import looked, picture
from assistant.rehearsal.rehearsal import Rehearsal
from assistant.rig.actuator import Actuator, Drive
from assistant.rig.as_found import Found, Setting
from assistant.rig.mistakes import MistakeKind
from assistant.session.effects import Advised, Confirmed, Deviated
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation
from assistant.trade.shaft import Verdict
from assistant.trade.trip import Sense
from tests.rehearsal.jobs import bench, play_on
from tests.session.job import kf

CLOCKWISE, COUNTER = Rotation.CLOCKWISE, Rotation.COUNTERCLOCKWISE
ALREADY, NOT_YET = Setting.ALREADY, Setting.NOT_YET


def rig_of(rehearsal: Rehearsal) -> Actuator:
    assert rehearsal.technician.rig is not None
    return rehearsal.technician.rig


# Common practice, no source: the contacts made at the end are closed where the rotor has changed
# over already; then the shaft is turned against the way it turned in the rotor's own direction.
@pytest.mark.parametrize(
    ("rotor", "closed", "seen", "verdict", "turn"),
    [
        ("open", False, COUNTER, Verdict.NOT_YET, COUNTER),
        ("open", False, CLOCKWISE, Verdict.NOT_YET, CLOCKWISE),
        ("open", True, COUNTER, Verdict.ALREADY, CLOCKWISE),
        ("open", True, CLOCKWISE, Verdict.ALREADY, COUNTER),
        ("closed", False, CLOCKWISE, Verdict.NOT_YET, CLOCKWISE),
        ("closed", False, COUNTER, Verdict.NOT_YET, COUNTER),
        ("closed", True, CLOCKWISE, Verdict.ALREADY, COUNTER),
        ("closed", True, COUNTER, Verdict.ALREADY, CLOCKWISE),
    ],
)
def test_paging_through_shows_every_row_of_the_direction_table(
    rotor: str, closed: bool, seen: Rotation, verdict: Verdict, turn: Rotation
) -> None:
    contacts = (1, 2) if rotor == "open" else (5, 6)
    opening = seen if rotor == "open" else seen.opposite
    found = {rotor: Found(ALREADY if closed else NOT_YET, opening)}
    effects = play_on(Rehearsal(bench(found)))
    read = next(
        effect.answer
        for effect in effects
        if isinstance(effect, Confirmed) and effect.step == f"{rotor}-end/read"
    )
    states = read.mapping()  # type: ignore[union-attr]
    assert {states[n] for n in contacts} == {ContactState.CLOSED if closed else ContactState.OPEN}
    advised = next(e for e in effects if isinstance(e, Advised) and e.rotor == rotor)
    assert (advised.advice.verdict, advised.advice.turn) == (verdict, turn)


def test_who_pages_through_leaves_every_rotor_as_drawn() -> None:
    rehearsal = Rehearsal(bench())
    play_on(rehearsal)
    assert rehearsal.session.finished
    for rotor in rig_of(rehearsal).unit.rotors:
        (found,) = rig_of(rehearsal).measure(rotor.name)
        assert found.sense is Sense.DRAWN
        assert found.percent == pytest.approx(kf("07").trip(rotor), abs=0.5)


def test_the_rig_does_not_move_before_the_answer() -> None:
    rehearsal = Rehearsal(bench())
    while rehearsal.session.step != "open-end/end-stop":
        rehearsal.answer()
    assert rig_of(rehearsal).position == pytest.approx(40.0)
    rehearsal.true_answer()
    assert rig_of(rehearsal).position == 100.0


def test_a_shaft_turned_the_wrong_way_ends_inverted() -> None:
    # Common practice, no source: the wrong way also ends at a change-over, the inverted one.
    rehearsal = Rehearsal(bench({"open": Found(NOT_YET, CLOCKWISE)}))
    while rehearsal.session.step != "open-end/turn":
        rehearsal.answer()
    mistake = step_of(read_mishap(["wrong-way"], rehearsal.session.step), rehearsal.technician)
    rehearsal.err(mistake)
    play_on(rehearsal)
    # This short job has no proof; what is read at the place is as drawn all the same.
    assert [at.sense for at in rig_of(rehearsal).measure("open")] == [Sense.INVERTED]


def test_a_misread_contact_is_a_contradiction_and_gives_no_direction() -> None:
    # Common practice, no source: readings of one rotor that disagree give no direction.
    rehearsal = Rehearsal(bench())
    while rehearsal.session.step != "open-end/read":
        rehearsal.answer()
    rehearsal.err(read_mishap(["misread", "2"], "open-end/read"))
    rehearsal.answer()
    rehearsal.answer()
    assert rehearsal.session.step == "open-end/read-once-more"
    (advised,) = [e for e in rehearsal.last.effects if isinstance(e, Advised)]
    assert advised.advice.turn is None


def test_a_half_engaged_rod_moves_when_it_is_tried() -> None:
    # Common practice, no source: if a shaft moves it is not engaged.
    rehearsal = Rehearsal(bench())
    while not rehearsal.technician.to_do or rehearsal.session.step != "open-end/try-shafts":
        rehearsal.answer()
    rehearsal.handle(read_handling(["engage", "half"], kf("07")))
    assert rig_of(rehearsal).drive is Drive.HALF_ENGAGED
    rehearsal.answer()
    assert rehearsal.session.step == "open-end/check-left"


def test_a_rotor_is_drawn_within_the_stroke_and_the_picture_tells_what_changed() -> None:
    # Common practice, no source: contact 5 is closed only near the closed seat.
    rig = Rehearsal(bench({"closed": Found(Setting.AS_DRAWN, CLOCKWISE)})).technician.rig
    assert rig is not None
    before = looked(rig)
    rig.crank_to_stop(rig.unit.rotor("closed").set_while)
    lines = list(picture(looked(rig), rig.unit, before))
    assert "valve 0.0 % open, 0.00 turns from the closed stop" in lines[0]
    (five,) = [line for line in lines if line.startswith("5 and 6")]
    assert "closed" in five.split("[")[0]
    assert five.endswith("CHANGED, was open")
    assert "[|" in five
    (three,) = [line for line in lines if line.startswith("3 and 4")]
    assert "CHANGED" not in three


def test_a_picture_names_what_is_not_as_drawn() -> None:
    rig = Rehearsal(bench({"open": Found(Setting.ALREADY, CLOCKWISE)})).technician.rig
    assert rig is not None
    rig.crank(0.95 * 62 - rig.position_turns, rig.unit.rotor("open").set_while)
    one = next(line for line in picture(looked(rig), rig.unit) if line.startswith("1 and 2"))
    assert one.endswith("drawn open here")


@pytest.mark.parametrize(
    ("words", "essence"),
    [
        ("crunk 3 opening", "did you mean 'crank'?"),
        ("crank three opening", "no number of turns"),
        ("crank nan opening", "no number of turns"),
        ("crank -1 opening", "no number of turns"),
        ("crank 3", "/crank TURNS opening|closing"),
        ("crank 3 up", "opening or closing"),
        ("turn-shaft opn clockwise", "did you mean 'open'?"),
        ("turn-shaft open left", "clockwise or counterclockwise"),
        ("turn-shaft open clockwise 1e9", "no number of turns"),
        ("crank-slowly opening 99", "no contact '99'"),
        ("engage quarter", "/engage [half]"),
    ],
)
def test_what_cannot_be_done_is_told_with_the_remedy(words: str, essence: str) -> None:
    with pytest.raises(HandlingError) as refused:
        read_handling(words.split(), kf("07"))
    assert essence in str(refused.value)


@pytest.mark.parametrize("words", ["misreed", "misread one", "misread 1 2", "miscount inf"])
def test_an_error_that_is_none_is_told(words: str) -> None:
    with pytest.raises(HandlingError):
        read_mishap(words.split(), "read")


def test_every_error_of_a_step_has_a_name() -> None:
    assert set(MISHAPS.values()) >= {MistakeKind.MISREAD, MistakeKind.WRONG_WAY}
    assert len(set(MISHAPS)) == len(MISHAPS)


def test_too_fast_by_mistake_is_a_deviation() -> None:
    # Common practice, no source: never above 200 turns a minute.
    rehearsal = Rehearsal(bench({"open": Found(ALREADY, CLOCKWISE)}))
    while rehearsal.session.step != "open-end/turn":
        rehearsal.answer()
    rehearsal.err(read_mishap(["too-fast"], "open-end/turn"))
    effects = play_on(rehearsal)
    assert any(isinstance(e, Deviated) and "too fast" in e.text for e in effects)
