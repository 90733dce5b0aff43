"""The time between two moments."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer

__all__ = ["ELAPSED"]


def _elapsed(case: Case) -> ByHand:
    begun, stopped = case.blank("begun"), case.blank("stopped")
    rows = (
        Row("next", (("any count",),), ("It took … seconds.",)),
        Row("unknown", (("the time is not known",),)),
    )
    return ByHand(("seconds",), rows, (("Seconds: from ", begun, " to ", stopped, "."),))


ELAPSED: Mapping[str, Writer] = {"elapsed": _elapsed}
