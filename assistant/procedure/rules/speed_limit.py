"""The speed limit before each turn of a shaft.

An intermediate shaft is never turned above 200 turns a minute, by hand or with a driver: the gears
would break (common practice). So on every way to a step that has a shaft turned, a caution with the
limit is spoken since the turn before: in the step that has it turned, or earlier.

``says`` are the phrases by which the limit is recognised in a warning or caution.

Passes::

    - step: watch
      say: Which way did the shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done

Fails::

    - step: watch
      say: Which way did the shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Go slowly.
      say: Turn the shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.speaking import say_number
from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Step
from assistant.procedure.program import Node
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import arrivals, told
from assistant.trade.pace import SHAFT_LIMIT_RPM

__all__ = ["RULE"]

_SAID = tuple(
    f"{limit} {unit}"
    for limit in (say_number(SHAFT_LIMIT_RPM), f"{SHAFT_LIMIT_RPM:g}")
    for unit in ("turns a minute", "revolutions a minute", "rpm")
)


def _check(subject: Subject, settings: Settings) -> Iterator[Finding]:
    phrases = settings.words("says")

    def left(node: Node, _outcome: str, said: bool) -> bool:
        return (said or _cautions(node.step, phrases)) and not _turns(node.step)

    told_of: set[str] = set()
    for arrival in arrivals(subject.program, False, left):
        step = arrival.node.step
        if not _turns(step) or arrival.state or _cautions(step, phrases):
            continue
        if arrival.node.name not in told_of:
            told_of.add(arrival.node.name)
            message = (
                f"a shaft is turned and the speed limit was not spoken: add 'caution:' with "
                f"'{phrases[0]}' to this step or to one before it on every way"
            )
            yield Finding(step.place, message, told(arrival))


def _turns(step: Step) -> bool:
    return any(act.kind is ActKind.TURN_SHAFT for act in step.acts)


def _cautions(step: Step, phrases: tuple[str, ...]) -> bool:
    spoken = [notice.text.plain.lower() for notice in step.notices]
    return any(phrase.lower() in text for text in spoken for phrase in phrases)


RULE = ProgramRule("speed-limit", Level.ERROR, _check, {"says": _SAID})
