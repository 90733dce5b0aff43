"""A shaft is turned by what was seen, read and computed of its own rotor.

Which way a shaft turns while the valve opens differs from rotor to rotor, so it is observed each
time on the shaft of that rotor, and what is computed from it, with the contacts of that rotor,
holds for it alone. Turned by what belongs to another rotor, a shaft ends at the inverted
change-over. Source: common practice.

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

    part: two-rotors
    title: Two rotors
    revision: A
    about: A sample.
    inputs: {rotor: rotor, other: rotor}
    steps:
      - step: watch
        say: Which way did the {other.name} shaft turn?
        ask: rotation
        of: other
        into: way
      - step: turn
        caution: Never above two hundred turns a minute. The gears would break.
        say: Turn the {rotor.name} shaft {way}. Say done.
        does:
          - turn-shaft: {rotor: rotor, way: way}
        ask: done

Fails::

    part: two-rotors
    title: Two rotors
    revision: A
    about: A sample.
    inputs: {rotor: rotor, other: rotor}
    steps:
      - step: watch
        say: Which way did the {rotor.name} shaft turn?
        ask: rotation
        of: rotor
        into: seen
      - step: read
        say: Read contacts {other.contacts}.
        ask: contacts
        of: other.contacts
        into: found
      - step: direction
        compute: shaft-direction
        from: {rotor: rotor, seen: seen, reading: found}
        into: advice
        go: {already: next, not-yet: next, contradiction: again}
      - step: tell
        say: Turn the {rotor.name} shaft {advice.turn}.
        go: return
      - step: again
        hold: The readings contradict each other.
        go: read
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.program import Node, Program
from assistant.procedure.rules.directions import Directions, Use, given_for
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import arrivals, told

__all__ = ["RULE"]


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    directions = Directions(subject.program)
    uses = {name: tuple(directions.uses(node)) for name, node in subject.program.nodes.items()}
    for name in sorted({use.name for those in uses.values() for use in those}):
        given = {given_for(node, name) for node in subject.program.nodes.values()} - {None}
        used = {use.rotor for those in uses.values() for use in those if use.name == name}
        if len(given | used) > 1:
            yield from _mixed_up(subject.program, name, uses)


def _mixed_up(program: Program, name: str, uses: dict[str, tuple[Use, ...]]) -> Iterator[Finding]:
    def left(node: Node, _outcome: str, rotor: str) -> str:
        return given_for(node, name) or rotor

    found: set[str] = set()
    for arrival in arrivals(program, "", left):
        for use in uses[arrival.node.name]:
            is_other = arrival.state not in ("", use.rotor)
            if use.name == name and is_other and arrival.node.name not in found:
                found.add(arrival.node.name)
                message = (
                    f"'{use.written}' is of the {arrival.state} rotor, and is used for the "
                    f"{use.rotor} rotor: take that of the same rotor"
                )
                yield Finding(use.written.place, message, told(arrival))


RULE = ProgramRule("own-direction", Level.ERROR, _check)
