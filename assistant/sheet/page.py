"""The sheet as one HTML file, to be printed: no script, no address outside the file."""

from __future__ import annotations

import functools
import re

from jinja2 import Template

from assistant.session import wording
from assistant.sheet.by_hand.case import figures
from assistant.sheet.entries import Sheet
from assistant.sheet.loops import MOST_LINES
from assistant.templates import templates_of
from assistant.trade.pace import SHAFT_LIMIT_RPM

__all__ = ["render"]


def render(sheet: Sheet) -> str:
    """The page."""
    return _template().render(sheet=sheet, unit=sheet.unit, head=sheet.procedure)


@functools.cache
def _template() -> Template:
    environment = templates_of("assistant.sheet")
    environment.filters["held"] = _held
    environment.globals |= {
        "wording": wording,
        "figures": figures,
        "most_lines": MOST_LINES,
        "limit": f"{SHAFT_LIMIT_RPM:g}",
    }
    return environment.get_template("sheet.html.jinja")


_GROUP = re.compile(r"(?<=\d)(,?) (?=\d|open\b|closed\b)", re.ASCII)


def _held(text: str) -> str:
    """The text with its groups of contacts held together, so that no line ends inside one."""
    return _GROUP.sub("\\1\N{NO-BREAK SPACE}", text)
