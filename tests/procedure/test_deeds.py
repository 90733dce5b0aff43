"""Every act and every fact has its place in each table that speaks of them."""

from __future__ import annotations

from assistant.procedure.deeds import ACTS, AT_THE_END, AT_THE_GATE, ActKind, Fact
from assistant.rig.technician import DOES
from assistant.session.putting_back import NOTHING_TO_UNDO, PUT_BACK
from assistant.session.restoring import TO_BE_RESTORED


def test_every_act_has_its_rules_its_undoing_and_a_technician_who_does_it() -> None:
    assert set(ACTS) == set(ActKind)
    assert set(DOES) == set(ActKind)
    assert set(ActKind) == PUT_BACK | NOTHING_TO_UNDO
    assert not PUT_BACK & NOTHING_TO_UNDO


def test_every_fact_is_asked_for_alone_or_proved_at_the_gate() -> None:
    assert set(Fact) == TO_BE_RESTORED | AT_THE_GATE
    assert not TO_BE_RESTORED & AT_THE_GATE
    assert set(AT_THE_END.values()) <= TO_BE_RESTORED
