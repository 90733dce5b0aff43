"""A number between two limits."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer
from assistant.sheet.texts import Text

__all__ = ["LIMITS"]


def _within_limits(case: Case) -> ByHand:
    number, least, most = (_figures(case, key) for key in ("number", "least", "most"))
    rows = (
        Row(
            "within", (("from ", *least, " to ", *most),), ("…, from ", *least, " to ", *most, ".")
        ),
        Row("below", (("less than ", *least),), ("…, below ", *least, ".")),
        Row("above", (("more than ", *most),), ("…, above ", *most, ".")),
    )
    return ByHand(("number",), rows, (("Number: ", *number, "."),))


def _figures(case: Case, key: str) -> Text:
    known = case.known(key)
    if known is None:
        return (case.blank(key),)
    return (f"{known.content.value:g} {known.content.unit}",)


LIMITS: Mapping[str, Writer] = {"within-limits": _within_limits}
