"""The findings of the rules of safety about what a step needs and some way does not bring."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.deeds import Fact
from assistant.procedure.rules.rule import Finding
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import told

__all__ = ["findings_of"]


def findings_of(subject: Subject, remedies: Mapping[Fact, str]) -> Iterator[Finding]:
    """The findings about some of the facts.

    Args:
        subject: the procedure.
        remedies: for each of the facts, what is needed and how to see to it.
    """
    for lack in subject.lacks:
        if lack.fact in remedies:
            step = lack.arrival.node.step
            acts = " and ".join(f"'{act.kind}'" for act in step.acts)
            what = acts or "the end of the job"
            message = f"a way leads to {what} without {remedies[lack.fact]}"
            yield Finding(step.place, message, told(lack.arrival))
