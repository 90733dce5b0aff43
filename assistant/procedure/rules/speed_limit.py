"""The speed limit before each turn of a shaft.

An intermediate shaft is never turned above 200 turns a minute, by hand or with a driver: the gears
would break (common practice). So on every way to a step that has a shaft turned, a caution with the
limit is spoken since the turn before: in the step that has it turned, or earlier. Where the turning
begins with a ``mark`` question right before, it is spoken there or earlier: at *mark* the shaft
turns already.

``says`` are the phrases by which the limit is recognised in a warning or caution. It forbids more
only after "never", "not", "at most" or "no more than" in the same sentence, and not after what
makes it another limit ("below", "thousand"). What else a sentence does with them is not seen.

Passes::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Above two hundred turns a minute is fine.
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: begin
      say: Say mark as you begin to turn the {rotor.name} shaft {way}.
      ask: mark
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.language.speaking import say_number
from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Step
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.right_before import announces, right_before
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.sentences import phrase_in, sentences_of
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import arrivals, told
from assistant.trade.pace import SHAFT_LIMIT_RPM

__all__ = ["RULE"]

_SAID = tuple(
    f"{limit} {unit}"
    for limit in (say_number(SHAFT_LIMIT_RPM), f"{SHAFT_LIMIT_RPM:g}")
    for unit in ("turns a minute", "revolutions a minute", "rpm")
)

_NO_MORE = ("never", "not", "at most", "no more than")
_OTHERWISE = ("below", "under", "less than", "slower than", "at least", "thousand")


def _check(subject: Subject, settings: Settings) -> Iterator[Finding]:
    phrases = settings.words("says")
    marks = _begin_to_turn(subject.program)

    def left(node: Node, _outcome: str, said: bool) -> bool:
        # What is missing at a mark is told there, and not at the turn once more.
        spoken = said or node.name in marks or _cautions(node.step, phrases)
        return spoken and not _turns(node.step)

    told_of: set[str] = set()
    for arrival in arrivals(subject.program, False, left):
        name, step = arrival.node.name, arrival.node.step
        if name in told_of or arrival.state or _cautions(step, phrases):
            continue
        if name in marks or _turns(step):
            told_of.add(name)
            what = "begins to turn" if name in marks else "is turned"
            message = (
                f"a shaft {what} and the speed limit was not spoken: add 'caution:' with 'Never "
                f"above {phrases[0]}' to this step or to one before it on every way"
            )
            yield Finding(step.place, message, told(arrival))


def _turns(step: Step) -> bool:
    return step.does(ActKind.TURN_SHAFT)


def _begin_to_turn(program: Program) -> frozenset[str]:
    """The names of the questions at whose mark the turning of a shaft begins."""
    return frozenset(
        one.name
        for name, before in right_before(program).items()
        if _turns(program.nodes[name].step)
        for one in before
        if announces(one.step)
    )


def _cautions(step: Step, phrases: tuple[str, ...]) -> bool:
    return any(
        _limits(sentence.text, phrase)
        for notice in step.notices
        for sentence in sentences_of(notice.text.plain)
        for phrase in phrases
    )


def _limits(sentence: str, phrase: str) -> bool:
    """Whether a sentence forbids more than a phrase says, and not something else about it."""
    # Not the end of a larger number: "1,200 rpm".
    number = rf"(?<![\w,.-])(?<!\d ){re.escape(phrase)}(?![\w-])"
    return any(
        phrase_in(sentence[: found.end()], _NO_MORE) is not None
        and phrase_in(sentence[: found.end()], _OTHERWISE) is None
        for found in re.finditer(number, sentence, re.IGNORECASE)
    )


RULE = ProgramRule("speed-limit", Level.ERROR, _check, {"says": _SAID})
