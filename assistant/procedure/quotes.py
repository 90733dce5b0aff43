"""Where a quote is missing, or is one too many, in a file that is therefore no YAML.

The parser notices only where it can make nothing of the words any more: behind the next quote,
which ends the text that another began, or at the end of the file.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

import yaml

__all__ = ["FaultyQuote", "Mark", "faulty_quote"]

_QUOTES = {"'": '"', '"': "'"}
"""Each with the other one."""


class Mark(Protocol):
    """What the marks of both parsers have in common; all count from 0."""

    @property
    def index(self) -> int:
        """Characters before it."""

    @property
    def line(self) -> int:
        """Lines before its own."""

    @property
    def column(self) -> int:
        """Characters before it in its line."""


@dataclass(frozen=True, slots=True)
class FaultyQuote:
    """A quote that explains why a file is no YAML.

    Args:
        mark: where it stands, or where the text begins that lacks it.
        message: what is wrong with it and what would be right.
    """

    mark: Mark
    message: str


def faulty_quote(error: yaml.MarkedYAMLError, tokens: Iterable[yaml.Token]) -> FaultyQuote | None:
    """The quote because of which a file was rejected, if it is one.

    Args:
        error: why it was rejected.
        tokens: of the file, as the parser scans it.
    """
    unended = "end of stream" in (error.problem or "")
    if unended and "quoted scalar" in (error.context or "") and error.context_mark:
        return FaultyQuote(
            error.context_mark, "the text in quotes that begins here never ends: close its quote"
        )
    at = error.problem_mark
    before = _last_quoted(tokens, at) if at else None
    if at is None or before is None or before.end_mark.line != at.line:
        return None
    if before.start_mark.line != before.end_mark.line:
        return FaultyQuote(
            before.start_mark,
            f"the text in quotes that begins here ends only in line {at.line + 1}: "
            "close its quote where it should end",
        )
    if before.end_mark.index == at.index:
        return FaultyQuote(
            at,
            f"the quote before this ends the text: put {_QUOTES[before.style]} round the whole "
            "text instead",
        )
    return None


def _last_quoted(tokens: Iterable[yaml.Token], before: Mark) -> yaml.ScalarToken | None:
    """The text in quotes that stands last before a mark, with nothing between them."""
    last = None
    try:
        for token in tokens:
            if token.start_mark.index >= before.index:
                break
            last = token if isinstance(token, yaml.ScalarToken) else None
    except yaml.YAMLError:
        pass  # what follows is what the file was rejected for
    return last if last is not None and last.style in _QUOTES else None
