"""What is said to be done is what is marked: the same direction and turns.

The voice is all that the technician goes by. A shaft that is turned the other way ends at the
inverted change-over, and a valve that is cranked the other way into its stop, however right
``does:`` is. So in a step that has something done in a direction (``way``, ``toward``) that very
direction stands in ``say:``, and so does its number of ``turns``; and no other direction stands
there, neither a value nor in words. A ``mark`` question right before may tell the direction too,
and has to where a shaft is turned: at *mark* it turns already. Source: common practice; that a step
says what to do in words that cannot be taken otherwise, DOE-STD-1029-92 (CN1 1998), section 4.

"To the {rotor.stop}" says ``rotor.to-stop``; "toward open", "to the open stop" and "run it open"
say ``unit.opening``, and the like for closed. "Crank on" says the direction in which it was cranked
before, if every way leads there so. A stroke of the motor that was told at the ``mark`` before need
not be told again. A question after a rotation or a choice may name directions as its answers.

Other words for a direction ("to the left", "up") are not seen, nor those in a warning or caution,
nor which of two acts in one step a direction belongs to; and whether a computed direction is right
is for other rules.

Passes::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: begin
      caution: Never above two hundred turns a minute. The gears would break.
      say: Say mark as you begin to turn the {rotor.name} shaft {way}.
      ask: mark
    - step: turn
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done

Passes::

    - step: stop
      say: Crank to the {rotor.stop}.
      does:
        - crank-to-stop: {toward: rotor.to-stop}
    - step: back
      say: Crank back {rotor.turns} {rotor.away}. Say done.
      does:
        - crank: {turns: rotor.turns, toward: rotor.away}
      ask: done

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: begin
      caution: Never above two hundred turns a minute. The gears would break.
      say: Say mark as you begin to turn the {rotor.name} shaft clockwise.
      ask: mark
    - step: turn
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done

Fails::

    - step: back
      say: Crank back {rotor.turns} {rotor.to-stop}. Say done.
      does:
        - crank: {turns: rotor.turns, toward: rotor.away}
      ask: done

Fails::

    - step: back
      say: Crank back one turn {rotor.away}. Say done.
      does:
        - crank: {turns: rotor.turns, toward: rotor.away}
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Reference, Step
from assistant.procedure.problems import Place
from assistant.procedure.program import Node
from assistant.procedure.rules.cranked_on import goes_on, turned_about
from assistant.procedure.rules.right_before import announces, right_before
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.said_directions import SaidDirections, how_said, ways_of
from assistant.procedure.rules.subject import Subject

__all__ = ["RULE"]


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    said = SaidDirections(subject.program, subject.means.book)
    for name, before in right_before(subject.program).items():
        node = subject.program.nodes[name]
        marks = [one for one in before if announces(one.step)]
        for speaks in (node, *marks):
            wrong = tuple(_contradicted(speaks, node, said))
            yield from wrong or _untold(speaks, node, before, said)
        yield from _uncounted(node, said)
    yield from turned_about(subject.program, said)


def _contradicted(speaks: Node, does: Node, said: SaidDirections) -> Iterator[Finding]:
    """What a step says of a direction, and the step that it speaks of does not do."""
    ways = tuple(ways_of(does.step))
    meant = {said.meaning(does, way) for _, way in ways}
    for one in said.of(speaks):
        if ways and one.means not in meant:
            act, way = ways[0]
            there = "" if speaks is does else f" in step '{does.step.name}'"
            message = (
                f"'{one.words}' is said, and '{act.kind}'{there} is told '{way}': what is "
                f"said is done; say {how_said(way)}, and no other direction"
            )
            yield Finding(_place(speaks.step), message)


def _uncounted(node: Node, said: SaidDirections) -> Iterator[Finding]:
    """Numbers of turns that a step has cranked and does not say."""
    say = node.step.say
    spoken = {said.meaning(node, one) for one in say.references} if say else set()
    for act in node.step.acts:
        for name, turns in act.arguments:
            if name == "turns" and said.meaning(node, turns) not in spoken:
                message = f"'{act.kind}' is told '{turns}', and it is not said: say '{{{turns}}}'"
                yield Finding(_place(node.step), message)


def _untold(
    speaks: Node, does: Node, before: Sequence[Node], said: SaidDirections
) -> Iterator[Finding]:
    """Directions that have to be said at a step, the one that does it or a mark, and are not."""
    for act, way in said.untold(speaks, does):
        if speaks is not does:
            is_needed = act.kind is ActKind.TURN_SHAFT
        elif act.kind is ActKind.STROKE:
            is_needed = not _is_told_at(before, way, does, said)
        else:
            is_needed = not goes_on(does.step)
        if is_needed:
            message = f"'{act.kind}' is told '{way}', and it is not said: say {how_said(way)}"
            yield Finding(_place(speaks.step), message)


def _is_told_at(before: Sequence[Node], way: Reference, node: Node, said: SaidDirections) -> bool:
    """Whether every way to a step comes from a ``mark`` question that tells the direction."""
    meant = said.meaning(node, way)
    return bool(before) and all(
        announces(one.step) and meant in {told.means for told in said.of(one)} for one in before
    )


def _place(step: Step) -> Place:
    return step.place if step.say is None else step.say.place


RULE = ProgramRule("said-direction", Level.ERROR, _check)
