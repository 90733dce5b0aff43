"""Half a minute at most until somebody may answer.

Steps that only tell something are spoken together with the next question, one prompt after the
other, and nothing is heard meanwhile, not even "hold". So on every way the notices, what is told
and the question that follows are measured together, as `spoken-length` measures each. Source:
common practice, no source. Finds something only with ``gloveside lint --render``. What the program
adds by itself (a read-back, a question asked again) is not counted.

``most`` is the longest that may be spoken in one breath, in seconds.

Passes::

    - step: stop
      say: Crank to the open stop. Say done.
      ask: done

Fails::

    - step: one
      say: The contacts of this rotor are wired to the lamps of the control room.
    - step: two
      say: Its shaft stands on the left of the housing, behind the heater.
    - step: three
      say: The handwheel of this valve turns the other way round than that of the valve beside it.
    - step: four
      say: The lamps of the control room are bound to the first and to the second rotor alone.
    - step: five
      say: The pump on the other side of the wall starts by itself and is then heard in here.
    - step: six
      say: The cover that stands behind you belongs to the valve beside this one and does not fit.
    - step: seven
      say: Crank to the open stop. Say done.
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.procedure.model import Ask, End, Hold
from assistant.procedure.names import kinds_of
from assistant.procedure.problems import Place
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.prompts import prompts_at
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Seconds, Subject

__all__ = ["RULE"]


@dataclass(frozen=True, slots=True)
class _Breath:
    """What is spoken from a step on to the next one that waits.

    Args:
        seconds: how long it takes.
        steps: the names of the steps that speak.
    """

    seconds: float = 0.0
    steps: tuple[str, ...] = ()


def _check(subject: Subject, settings: Settings) -> Iterator[Finding]:
    if subject.means.seconds is None:
        return
    most = settings.number("most")
    took = _seconds_each(subject, subject.means.seconds)
    breaths = _breaths(subject.program, took)
    told: set[Place] = set()
    for name in _beginnings(subject.program):
        breath = breaths[name]
        place = _place(breath, subject.program)
        if breath.seconds > most and place is not None and place not in told:
            told.add(place)
            message = (
                f"here {breath.seconds:.0f} s are spoken until somebody may answer, more than "
                f"{most:g}: shorten them, or ask something between"
            )
            yield Finding(place, message, breath.steps)


def _place(breath: _Breath, program: Program) -> Place | None:
    """The first step that speaks and is written in a file."""
    places = (program.nodes[name].step.place for name in breath.steps)
    return next((place for place in places if place.file), None)


def _seconds_each(subject: Subject, seconds: Seconds) -> dict[str, float]:
    """How long it takes to say what each step says."""
    program = subject.program
    kinds = kinds_of(program)
    return {
        name: sum(
            seconds(prompt.text)
            for prompt in prompts_at(node, program, kinds, subject.means.after_hold)
        )
        for name, node in program.nodes.items()
    }


def _waits(node: Node) -> bool:
    return isinstance(node.step.action, Ask | Hold | End)


def _beginnings(program: Program) -> Iterator[str]:
    """Where somebody has just answered."""
    yield program.start
    for node in program.nodes.values():
        if _waits(node):
            yield from node.targets.values()


def _breaths(program: Program, took: Mapping[str, float]) -> Mapping[str, _Breath]:
    """The longest that is spoken from each step on; no step is counted twice on a way."""
    breaths: dict[str, _Breath] = {}
    begun: set[str] = set()
    for name in program.nodes:
        waiting = [name] if name not in breaths else []
        while waiting:
            here = waiting[-1]
            begun.add(here)
            node = program.nodes[here]
            following = () if _waits(node) else tuple(dict.fromkeys(node.targets.values()))
            first = [target for target in following if target not in begun]
            if first:
                waiting += first[:1]
                continue
            rest = max(
                (breaths[target] for target in following if target in breaths),
                key=lambda breath: breath.seconds,
                default=_Breath(),
            )
            speaks = (here,) if took[here] else ()
            breaths[here] = _Breath(took[here] + rest.seconds, (*speaks, *rest.steps))
            waiting.pop()
    return breaths


RULE = ProgramRule("one-breath", Level.WARNING, _check, {"most": 30.0})
