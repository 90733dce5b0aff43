"""A job in which a rotor is set or proved is signed for before it ends.

What nobody signed for is a note and no record. So where a shaft is turned, or a rotor is proved,
every way to the end of the job passes a signature (``signed-…``, see ``own-signature``), and one of
each role that is asked to agree to something on the way. Source: 10 CFR 72.174, records name who
did the work and its acceptability; 21 CFR 11.50 for the signature.

Passes::

    procedure: sample
    title: A sample
    revision: A
    about: A sample.
    papers: {technician: letters}
    steps:
      - step: before
        say: Read all contacts.
        ask: contacts
        of: unit.contacts
        into: reading
        record: {reading: reading}
      - step: sign
        say: Technician, done as recorded? Say technician, correct, to sign.
        ask: agreement
        by: technician
        when: signed
        record: {signed-done: technician, signed-done-at: signed}
        go: {agreed: end, not-agreed: refused}
      - step: refused
        hold: The technician does not sign. Find out why.
        go: sign
      - step: end
        say: The end.
        end: job

Fails::

    - step: before
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: reading
    - step: sense
      compute: prove-sense
      from: {rotor: rotor, reading: reading}
      go: {drawn: return, inverted: return, unclear: return}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Compute, End
from assistant.procedure.program import Node, Program
from assistant.procedure.proofs import SHOWN_BY
from assistant.procedure.record_names import signs
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import arrivals, told

__all__ = ["RULE"]

_Roles = frozenset[str]


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    program = subject.program
    if subject.is_part or not _sets_or_proves(program):
        return
    asked = frozenset(role for node in program.nodes.values() if (role := node.step.agreeing))
    nobody: _Roles = frozenset()
    found: set[str] = set()
    for arrival in arrivals(program, nobody, _left):
        node = arrival.node
        missing = sorted(asked - arrival.state)
        if not isinstance(node.step.action, End) or node.name in found:
            continue
        if missing or not arrival.state:
            found.add(node.name)
            who = " and ".join(missing) or "technician"
            message = (
                f"the job can end without a signature of the {who}: before, ask for an agreement "
                "'by:' each and record 'signed-…' with the name"
            )
            yield Finding(node.step.place, message, told(arrival))


def _sets_or_proves(program: Program) -> bool:
    return any(
        node.step.does(ActKind.TURN_SHAFT)
        or (isinstance(node.step.action, Compute) and node.step.action.computation in SHOWN_BY)
        for node in program.nodes.values()
    )


def _left(node: Node, outcome: str, signed: _Roles) -> _Roles:
    role = node.step.agreeing
    if role and outcome == "agreed" and any(signs(one.name) for one in node.step.records):
        return signed | {role}
    return signed


RULE = ProgramRule("signed-at-end", Level.WARNING, _check)
