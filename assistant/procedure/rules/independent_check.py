"""An independent check is another person's, and manipulates nothing.

A check that calls itself independent in its title makes sure that two people differ (``compute:
two-people``) and turns no shaft and lets no rod out: who sets something anew checks their own work.
Source: DOE-STD-1036-93; that verification never manipulates, DOE-EM-STD-5505-96 section 6.10.

Passes::

    procedure: sample
    title: Check it independently
    revision: A
    about: A sample.
    papers: {checker: letters, technician: letters}
    steps:
      - step: people
        compute: two-people
        from: {first: technician, second: checker}
        go: {different: end, same: one}
      - step: one
        hold: The same person. Get another one.
        go: people
      - step: end
        say: The end.
        end: job

Fails::

    procedure: sample
    title: Check it independently
    revision: A
    about: A sample.
    steps:
      - step: end
        say: The end.
        end: job
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Compute
from assistant.procedure.program import Program
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.sentences import phrase_in
from assistant.procedure.rules.spoken import each_once
from assistant.procedure.rules.subject import Subject

__all__ = ["RULE"]

_MANIPULATES = frozenset({ActKind.DISENGAGE, ActKind.TURN_SHAFT})


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    procedure = subject.program.procedure
    if phrase_in(procedure.title, ["independent", "independently"]) is None:
        return
    if not subject.is_part and not _asks_who(subject.program):
        message = (
            "an independent check must refuse the person who did the work: add a step with "
            "'compute: two-people' before anything is read"
        )
        yield Finding(procedure.place, message)
    for node in each_once(subject.program):
        for act in node.step.acts:
            if act.kind in _MANIPULATES:
                message = (
                    f"an independent check only reads, and this is '{act.kind}': remove the step, "
                    "or do not call the procedure independent"
                )
                yield Finding(act.place, message)


def _asks_who(program: Program) -> bool:
    return any(
        isinstance(node.step.action, Compute) and node.step.action.computation == "two-people"
        for node in program.nodes.values()
    )


RULE = ProgramRule("independent-check", Level.WARNING, _check)
