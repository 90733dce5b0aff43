"""What the papers of a job say: dates that are past, and people who must differ."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.spelling import letters_and_digits
from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.values import Kind, say

__all__ = ["PAPERS"]


def _not_overdue(inputs: Inputs) -> Finding:
    """Whether a due date has not passed; on the day itself it has not."""
    due = inputs["due"]
    if inputs["on"].content.at.date() <= due.content:
        return Finding("in-date", f"Due on {say(due)}.")
    return Finding("overdue", f"It was due on {say(due)}.")


def _two_people(inputs: Inputs) -> Finding:
    first, second = (letters_and_digits(inputs[name].content) for name in ("first", "second"))
    if first == second:
        return Finding("same", "Technician and checker are the same person.")
    return Finding("different", "Two people.")


PAPERS: Mapping[str, Computation] = {
    "not-overdue": Computation(
        inputs={"due": Kind.DATE, "on": Kind.MOMENT},
        outcomes=("in-date", "overdue"),
        run=_not_overdue,
    ),
    "two-people": Computation(
        inputs={"first": Kind.LETTERS, "second": Kind.LETTERS},
        outcomes=("different", "same"),
        run=_two_people,
    ),
}
