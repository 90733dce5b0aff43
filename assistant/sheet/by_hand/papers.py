"""What the papers of a job say."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer

__all__ = ["PAPERS"]


def _not_overdue(case: Case) -> ByHand:
    rows = (
        Row("in-date", (("today is that day or before it",),), ("Due on …",)),
        Row("overdue", (("that day is past",),), ("It was due on …",)),
    )
    return ByHand(("date",), rows, (("Due: ", case.blank("due"), "."),))


def _two_people(case: Case) -> ByHand:
    first, second = case.blank("first"), case.blank("second")
    rows = (Row("different", (("two people",),)), Row("same", (("one and the same",),)))
    return ByHand(("people",), rows, ((first, " and ", second, "."),))


PAPERS: Mapping[str, Writer] = {"not-overdue": _not_overdue, "two-people": _two_people}
