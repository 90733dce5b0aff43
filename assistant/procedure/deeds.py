"""What a technician does to the valve, what is known of it, and what must never be done.

A procedure marks its steps with a small fixed set of acts (``does:``) and of facts that an answer
proves (``proves:``). From these alone follows what is forbidden: cranking with the setting rod
out, energising before the gate, stroking before the rotation is known to be right. The session
asks for a missing fact before it lets a step be done, whatever the procedure says; a check of the
whole graph can walk the same table.

Source of the rules: common practice for the rod, the shafts and the order of the electrical test;
29 CFR 1910.147(d) for isolation before hands go in.
"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assistant.procedure.values import Kind

__all__ = [
    "ACTS",
    "AT_THE_END",
    "AT_THE_GATE",
    "ActKind",
    "Deed",
    "Fact",
    "after",
    "missing",
    "proved",
]


class ActKind(enum.StrEnum):
    """What a step has the technician do to the valve."""

    CRANK_TO_STOP = "crank-to-stop"
    CRANK = "crank"
    CRANK_SLOWLY = "crank-slowly"
    CRANK_TO_MIDDLE = "crank-to-middle"
    UNSEAT = "unseat"
    DISENGAGE = "disengage"
    ENGAGE = "engage"
    TRY_SHAFTS = "try-shafts"
    TURN_SHAFT = "turn-shaft"
    ENERGISE = "energise"
    JOG = "jog"
    STROKE = "stroke"
    LOCK_OFF = "lock-off"
    RESTORE_SUPPLIES = "restore-supplies"


class Fact(enum.StrEnum):
    """Something that is known of the valve, or of the people at it, in the order of asking."""

    ISOLATED = "isolated"
    RODS_ENGAGED = "rods-engaged"
    ROD_OUT = "rod-out"
    MID_TRAVEL = "mid-travel"
    PEOPLE_CLEAR = "people-clear"
    PERMITTED = "permitted"
    ENERGISED = "energised"
    ROTATION_RIGHT = "rotation-right"


@dataclass(frozen=True, slots=True)
class Deed:
    """An act: what it must be told, and its part in the rules.

    Args:
        arguments: names and kinds of what it must be told.
        needs: facts without which it is forbidden.
        ends: facts that no longer hold once it was asked for.
        makes: facts that hold once it was asked for.
    """

    arguments: Mapping[str, Kind]
    needs: frozenset[Fact] = frozenset()
    ends: frozenset[Fact] = frozenset()
    makes: frozenset[Fact] = frozenset()


AT_THE_GATE = frozenset(
    {
        Fact.MID_TRAVEL,
        Fact.PEOPLE_CLEAR,
        Fact.PERMITTED,
        Fact.ENERGISED,
        Fact.ROTATION_RIGHT,
    }
)
"""Facts that are proved one after the other before the motor may run, and fall together.

Nobody says yes to one of them alone: once one is missing, the job goes back to where they are
proved from the first on.
"""

_TOWARD = {"toward": Kind.TRAVEL}
_BY_HAND = frozenset({Fact.ISOLATED, Fact.RODS_ENGAGED})
_MOVED = frozenset({Fact.MID_TRAVEL})

ACTS: Mapping[ActKind, Deed] = {
    ActKind.CRANK_TO_STOP: Deed(_TOWARD, _BY_HAND, _MOVED),
    ActKind.CRANK: Deed({"turns": Kind.NUMBER, **_TOWARD}, _BY_HAND, _MOVED),
    ActKind.CRANK_SLOWLY: Deed(
        {"contacts": Kind.CONTACTS, "most": Kind.NUMBER, **_TOWARD}, _BY_HAND, _MOVED
    ),
    ActKind.UNSEAT: Deed(_TOWARD, _BY_HAND, _MOVED),
    ActKind.CRANK_TO_MIDDLE: Deed({}, _BY_HAND, makes=_MOVED),
    ActKind.DISENGAGE: Deed(
        {},
        frozenset({Fact.ISOLATED}),
        ends=frozenset({Fact.RODS_ENGAGED}),
        makes=frozenset({Fact.ROD_OUT}),
    ),
    # Not before the shafts were tried is the rod known to be engaged.
    ActKind.ENGAGE: Deed(
        {}, frozenset({Fact.ISOLATED}), ends=frozenset({Fact.RODS_ENGAGED, Fact.ROD_OUT})
    ),
    # From the moment when they are tried they are in doubt, until they were felt to be locked.
    ActKind.TRY_SHAFTS: Deed({}, frozenset({Fact.ISOLATED}), ends=frozenset({Fact.RODS_ENGAGED})),
    ActKind.TURN_SHAFT: Deed(
        {"rotor": Kind.ROTOR, "way": Kind.ROTATION}, frozenset({Fact.ISOLATED, Fact.ROD_OUT})
    ),
    ActKind.ENERGISE: Deed(
        {},
        frozenset({Fact.RODS_ENGAGED, Fact.PEOPLE_CLEAR, Fact.PERMITTED, Fact.MID_TRAVEL}),
        ends=frozenset({Fact.ISOLATED, Fact.ROTATION_RIGHT}),
        makes=frozenset({Fact.ENERGISED}),
    ),
    ActKind.JOG: Deed(_TOWARD, frozenset({Fact.ENERGISED, Fact.MID_TRAVEL})),
    ActKind.STROKE: Deed(
        _TOWARD, frozenset({Fact.ENERGISED, Fact.ROTATION_RIGHT, Fact.RODS_ENGAGED}), _MOVED
    ),
    ActKind.LOCK_OFF: Deed({}, ends=AT_THE_GATE),
    ActKind.RESTORE_SUPPLIES: Deed({}, ends=frozenset({Fact.ISOLATED})),
}
"""Every act."""

AT_THE_END: Mapping[Fact, Fact] = {
    Fact.ENERGISED: Fact.ISOLATED,
    Fact.ROD_OUT: Fact.RODS_ENGAGED,
}
"""What must not be so when a job ends, and what has to be proved instead."""

_EXCLUDES: Mapping[Fact, frozenset[Fact]] = {
    Fact.RODS_ENGAGED: frozenset({Fact.ROD_OUT}),
    Fact.ISOLATED: frozenset({Fact.ENERGISED}),
}
"""What is no longer so once a fact is proved."""


def missing(act: ActKind, known: frozenset[Fact]) -> tuple[Fact, ...]:
    """The facts without which the act is forbidden and that are not known, in a fixed order."""
    return tuple(fact for fact in Fact if fact in ACTS[act].needs - known)


def after(act: ActKind, known: frozenset[Fact]) -> frozenset[Fact]:
    """What is known once the act was asked for.

    An act counts as begun when it is asked for: after a break nobody knows how far it went.
    """
    return (known - ACTS[act].ends) | ACTS[act].makes


def proved(facts: Iterable[Fact], known: frozenset[Fact]) -> frozenset[Fact]:
    """What is known once these facts were proved."""
    for fact in facts:
        known = (known - _EXCLUDES.get(fact, frozenset())) | {fact}
    return known
