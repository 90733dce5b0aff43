"""What voids a rotor's proof, and what makes it count again. Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from assistant.journal.as_left import AsLeft
from assistant.journal.entry import opening
from assistant.journal.proofs import LockedBy, Proofs, locked_by
from assistant.procedure.load import load_program
from tests.journal.chained import chained
from tests.session.job import PROCEDURES
from tests.units import KF_07

OPENED = opening({}, {}, {}, {}, "0.1.0")
OPEN = KF_07.rotors[0]
"""The rotor of the open end."""

LEFT = {"contacts": {str(contact): "closed" for contact in OPEN.contacts}}


def recorded(name: str, written: Any, rotor: str = "open") -> dict[str, Any]:
    value = {"name": f"prove/{name}", "kind": "x", "value": "x", "rotor": rotor}
    return {"kind": "heard", "recorded": [value | {"written": written}]}


def proof(*, within: bool = True) -> dict[str, Any]:
    return recorded("as-left", {"percent": 98.4, "error": 0.0, "within": within})


SETTING = recorded("after-setting", LEFT)


def answered(step: str, outcome: str) -> dict[str, Any]:
    told = {step: {"choice": outcome}}
    return {"kind": "heard", "confirmed": told, "done": [{"step": step, "outcome": outcome}]}


FREE = answered("test/shafts", "free")


def advised(rotor: str, turn: str | None) -> dict[str, Any]:
    return {"kind": "heard", "advice": {"rotor": rotor, "verdict": "already", "turn": turn}}


ADVICE = advised("open", "clockwise")


def left(*bodies: dict[str, Any], locked: LockedBy | None = None) -> tuple[bool, bool]:
    """Whether the trip, and the contacts after setting, of the open rotor count."""
    seen = AsLeft(chained((OPENED, *bodies)), locked)
    return seen.trip(OPEN) is not None, seen.past_the_trip(OPEN, OPEN.contacts[0]) is not None


def test_a_proof_counts_until_a_shaft_is_found_free() -> None:
    assert left(SETTING, proof()) == (True, True)
    assert left(SETTING, proof(), FREE) == (False, False)
    (void,) = Proofs(chained((OPENED, SETTING, proof(), FREE))).free
    assert (void.line, void.why) == (4, "a shaft was found free")


def test_older_procedures_said_moved_for_free() -> None:
    assert left(SETTING, proof(), answered("test/shafts", "moved")) == (False, False)


def test_what_was_free_before_it_was_set_voids_nothing() -> None:
    assert left(FREE, SETTING, proof()) == (True, True)


def test_a_proof_made_anew_counts_and_so_does_what_was_set() -> None:
    assert left(SETTING, proof(), FREE, proof()) == (True, True)
    # Proved out of place is read, and shows nothing of the setting.
    assert left(SETTING, proof(), FREE, proof(within=False)) == (True, False)


def test_going_back_over_it_does_not_make_a_shaft_locked() -> None:
    back = {"kind": "heard", "went_back": "test/shafts"}
    assert left(SETTING, proof(), FREE, back, answered("test/shafts", "locked")) == (False, False)


@pytest.mark.parametrize("kind", ["shaft-free", "moved"])
def test_a_hold_for_a_free_shaft_or_for_what_moved_voids_it(kind: str) -> None:
    held = {"kind": "heard", "held": "So.", "hold_kind": kind}
    assert left(SETTING, proof(), held) == (False, False)
    assert left(SETTING, proof(), held | {"hold_kind": "said"}) == (True, True)


@pytest.mark.parametrize(
    "text",
    [
        "A shaft was found free. What was proved before may not hold any more.",
        "After a break the valve, the rod or a shaft did not stand as it had been left.",
    ],
)
def test_older_journals_tell_it_as_a_deviation_alone(text: str) -> None:
    said = {"kind": "heard", "held": "So.", "deviations": [text]}
    assert left(SETTING, proof(), said) == (False, False)


def test_a_shaft_that_is_turned_voids_the_proof_of_its_own_rotor() -> None:
    assert left(SETTING, proof(), ADVICE) == (False, False)
    assert left(SETTING, proof(), advised("closed", "clockwise")) == (True, True)
    assert left(SETTING, proof(), advised("open", None)) == (True, True)
    # A proof makes no contacts count that were read before the shaft was turned.
    assert left(SETTING, ADVICE, proof()) == (True, False)


def test_going_back_over_it_does_not_turn_a_shaft_back() -> None:
    told = ADVICE | {"confirmed": {"set/read": {"command": "yes"}}}
    back = {"kind": "heard", "went_back": "set/read"}
    assert left(SETTING, proof(), told, back) == (False, False)
    assert left(SETTING, proof(), told, back, proof()) == (True, False)


def test_every_proof_is_lost_by_a_free_shaft_only_where_there_was_one() -> None:
    def lost(*bodies: dict[str, Any]) -> int | None:
        void = Proofs(chained((OPENED, *bodies))).lost
        return None if void is None else void.line

    assert lost(FREE, SETTING, proof()) is None
    assert lost(SETTING, proof(), ADVICE) is None
    assert lost(SETTING, proof(), FREE, FREE, proof()) == 5


def test_by_the_procedure_any_answer_that_does_not_prove_them_locked_is_a_free_shaft() -> None:
    locked: LockedBy = {"test/shafts": frozenset({"fast"})}
    assert left(SETTING, proof(), answered("test/shafts", "moved"), locked=locked)[0] is False
    assert left(SETTING, proof(), answered("test/shafts", "fast"), locked=locked)[0] is True
    assert left(SETTING, proof(), answered("other", "free"), locked=locked)[0] is True


def test_the_steps_that_try_the_shafts_are_those_of_the_procedure() -> None:
    found = locked_by(load_program(PROCEDURES / "set-geared-limits.yaml"))
    assert set(found.values()) == {frozenset({"locked"})}
    assert {"rods/locked", "test/shafts", "shafts-again", "open-end/set/try-shafts"} <= set(found)


def test_a_rotor_left_as_found_is_read_by_its_sweep_until_a_shaft_is_free() -> None:
    swept = recorded("at-open-stop", LEFT, "")
    assert left(swept, proof()) == (True, True)
    assert left(swept, proof(), FREE) == (False, False)
