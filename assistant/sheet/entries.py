"""What stands on the sheet, step by step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.language.speaking import say_choice
from assistant.procedure.deeds import ACTS, ActKind, Fact
from assistant.procedure.fit import needs_unit, reached_on
from assistant.procedure.model import (
    Ask,
    Compute,
    End,
    Hold,
    NoticeKind,
    Procedure,
    Repeat,
    Template,
)
from assistant.procedure.program import Node, Program
from assistant.session import wording
from assistant.session.restoring import TO_BE_RESTORED, prompt_for
from assistant.sheet.answers import Answer, answer_of
from assistant.sheet.by_hand import ByHand, Case, by_hand
from assistant.sheet.loops import times_of
from assistant.sheet.supply import may_be_energised
from assistant.sheet.texts import Paper, Text
from assistant.sheet.ways import Way, ways_of
from assistant.trade.unit import Unit

__all__ = ["Entry", "Sheet", "lay_out"]


@dataclass(frozen=True, slots=True)
class Entry:
    """A step on the sheet.

    Args:
        number: in the whole program.
        name: in the whole program.
        place: where the step stands, as the voice tells it.
        depth: in how many parts it is.
        part: the part that it calls; None for any other step.
        is_gate: whether the job comes back here when something of the gate is missing.
        may_skip: whether it may be passed over for a reason.
        needs: facts without which it is forbidden.
        notices: warnings and cautions.
        deviation: what is written down as a deviation; empty for nothing.
        says: what is spoken.
        holds: why the job is held here; empty where it is not.
        pace: ticks a minute; None for none.
        answer: blanks for the answer; None where nothing is asked.
        reckoning: what is worked out by hand; None where nothing is.
        boxes: how often it may be repeated.
        ways: where it goes on.
        records: what goes into the record.
        times: how often it may come in its loop.
        is_end: whether the job is done here.
    """

    number: int
    name: str
    place: str
    depth: int
    part: Procedure | None
    is_gate: bool
    may_skip: bool
    needs: tuple[str, ...]
    notices: tuple[tuple[NoticeKind, Text], ...]
    deviation: Text
    says: Text
    holds: Text
    pace: float | None
    answer: Answer | None
    reckoning: ByHand | None
    boxes: int
    ways: tuple[Way, ...]
    records: tuple[str, ...]
    times: int
    is_end: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """A procedure on paper.

    Args:
        procedure: its head.
        unit: the unit sheet; None for a sheet that serves any unit.
        steps: how many steps the whole program has.
        entries: the steps that are printed, in the order of speech.
        restored: what the voice asks for before a step, where it is missing.
        gate: the step at which what is needed before the motor runs is proved; None for none.
        needs_unit: whether the job is on a unit.
        handles_valve: whether somebody is to do something to a valve.
    """

    procedure: Procedure
    unit: Unit | None
    steps: int
    entries: tuple[Entry, ...]
    restored: tuple[tuple[str, str], ...]
    gate: Entry | None
    needs_unit: bool
    handles_valve: bool


def lay_out(program: Program, unit: Unit | None) -> Sheet:
    """Put a program on paper.

    Args:
        program: the checked procedure; with a unit, one that fits it.
        unit: the unit sheet; None for a sheet with blanks, that serves any unit.
    """
    nodes = tuple(reached_on(program, unit))
    paper = Paper(program, unit, nodes)
    times, energised = times_of(nodes), may_be_energised(nodes)
    entries = tuple(_entry(node, paper, times[node.name], node.name in energised) for node in nodes)
    needed = {fact for node in nodes for fact in _needs(node)}
    return Sheet(
        procedure=program.procedure,
        unit=unit,
        steps=len(program.nodes),
        entries=entries,
        restored=tuple(
            (_words(fact), prompt_for(fact, ())) for fact in Fact if fact in needed & TO_BE_RESTORED
        ),
        gate=next((entry for entry in entries if entry.is_gate), None),
        needs_unit=needs_unit(program),
        handles_valve=program.handles_valve,
    )


def _entry(node: Node, paper: Paper, times: int, energised: bool) -> Entry:
    step, action = node.step, node.step.action
    return Entry(
        number=paper.numbers[node.name],
        name=node.name,
        place=wording.place_of(node.name),
        depth=node.scope.prefix.count("/"),
        part=node.part,
        is_gate=step.is_gate,
        may_skip=step.may_skip,
        needs=tuple(map(_words, _needs(node))),
        notices=tuple(_notices(node, paper)),
        deviation=_maybe(node, step.deviation, paper),
        says=_maybe(node, step.say, paper),
        holds=_holds(node, paper, energised),
        pace=step.tick,
        answer=answer_of(node, action, paper) if isinstance(action, Ask) else None,
        reckoning=by_hand(Case(node, action, paper)) if isinstance(action, Compute) else None,
        boxes=action.at_most if isinstance(action, Repeat) else 0,
        ways=ways_of(node, paper),
        records=tuple(say_choice(record.name) for record in step.records),
        times=times,
        is_end=isinstance(action, End),
    )


def _maybe(node: Node, template: Template | None, paper: Paper) -> Text:
    return paper.text(node, template) if template else ()


def _notices(node: Node, paper: Paper) -> Iterator[tuple[NoticeKind, Text]]:
    for notice in node.step.notices:
        first = wording.notice(notice.kind, "")
        yield notice.kind, (first, *paper.text(node, notice.text))


def _holds(node: Node, paper: Paper, energised: bool) -> Text:
    if not isinstance(node.step.action, Hold):
        return ()
    stop = (f" {wording.STOPPED_ENERGISED}",) if energised else ()
    return (*paper.text(node, node.step.action.reason), *stop, f" {wording.ON_HOLD}")


def _needs(node: Node) -> tuple[Fact, ...]:
    """The facts that its acts need, but for those that an act of the same step makes."""
    needed: set[Fact] = set()
    made: set[Fact] = set()
    for act in node.step.acts:
        needed |= ACTS[act.kind].needs - made
        made |= ACTS[ActKind(act.kind)].makes
    return tuple(fact for fact in Fact if fact in needed)


def _words(fact: Fact) -> str:
    return fact.value.replace("-", " ")
