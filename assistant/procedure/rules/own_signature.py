"""A signature bears the name of whoever gives it, and the moment of it.

A name that is recorded as ``signed-…`` is shown as a signature: the checker's word under the
technician's name is none, however well it was meant. So it is recorded where somebody is asked
(``ask: agreement``), its value is the paper that is called as the role that is asked, and
``signed-…-at`` is the ``when:`` of the same step. A name that is only like it ("sign-checked")
signs nothing. Source: 21 CFR 11.50, the name, the time and the meaning of a signature.

Where no paper is called as the role, any other value will do, but the paper of another role.

Passes::

    procedure: sample
    title: A sample
    revision: A
    about: A sample.
    papers: {technician: letters, checker: letters}
    steps:
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

    procedure: sample
    title: A sample
    revision: A
    about: A sample.
    papers: {technician: letters, checker: letters}
    steps:
      - step: sign
        say: Technician, done as recorded? Say technician, correct, to sign.
        ask: agreement
        by: technician
        when: signed
        record: {signed-done: checker, signed-done-at: signed}
        go: {agreed: end, not-agreed: refused}
      - step: refused
        hold: The technician does not sign. Find out why.
        go: sign
      - step: end
        say: The end.
        end: job

Fails::

    part: part
    title: A part
    revision: A
    about: A sample, with a concurrent check.
    inputs: {checker: letters}
    steps:
      - step: sign
        say: Checker, checked as recorded? Say checker, correct, to sign.
        ask: agreement
        by: checker
        record: {sign-checked: checker}
        go: {agreed: return, not-agreed: refused}
      - step: refused
        hold: The checker does not sign. Find out why.
        go: sign
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping

from assistant.procedure.model import Ask, Reference
from assistant.procedure.program import Node
from assistant.procedure.record_names import SIGNED, signs, time_of
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject

__all__ = ["RULE"]

_LIKE = 0.75
"""How like "signed" the first word of a name is that was meant so: as "sign", not as "signal"."""


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    for node in subject.program.nodes.values():
        values = {record.name: record.value for record in node.step.records}
        for name, value in values.items():
            if signs(name):
                message = _not_own(node, name, value, subject)
            elif name.startswith(SIGNED):
                message = _no_moment(node, name, value, values)
            else:
                message = _only_like(node, name)
            if message:
                yield Finding(value.place, message)


def _not_own(node: Node, name: str, value: Reference, subject: Subject) -> str | None:
    role = node.step.agreeing
    if role is None:
        return (
            f"'{name}' is a signature, and nobody is asked for it: record it at a step with 'ask: "
            "agreement' and 'by:', or call it otherwise"
        )
    person = node.scope.absolute(value.path[0])
    is_anothers = role in subject.program.procedure.papers or person in subject.means.book.roles
    if len(value.path) > 1 or (person != role and is_anothers):
        given = "" if person == str(value) else f", which is {person}"
        return (
            f"'{name}' is the signature of the {role}, and the name is that of '{value}'{given}: "
            f"record the paper '{role}'"
        )
    return None


def _no_moment(
    node: Node, name: str, value: Reference, values: Mapping[str, Reference]
) -> str | None:
    if name not in {time_of(one) for one in values if signs(one)}:
        return f"'{name}' is the moment of a signature that is not recorded here: record both"
    match node.step.action:
        case Ask(when=when) if value.path == (when,):
            return None
    return f"'{name}' is '{value}': let it be the 'when:' of this step, at which it is signed"


def _only_like(node: Node, name: str) -> str | None:
    first, _, meaning = name.partition("-")
    meant = SIGNED.rstrip("-")
    is_like = difflib.SequenceMatcher(None, first, meant).ratio() >= _LIKE or first == "signature"
    if node.step.agreeing is None or not meaning or not is_like:
        return None
    return f"'{name}' is no signature: did you mean '{SIGNED}{meaning}'?"


RULE = ProgramRule("own-signature", Level.ERROR, _check)
