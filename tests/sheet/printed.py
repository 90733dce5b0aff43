"""A sheet as a reader finds it on the page: its rows, their sentences, and where they lead."""

from __future__ import annotations

import functools
import html
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from assistant.procedure import Program, check_fit, load_program, load_unit
from assistant.sheet import Sheet, lay_out, render
from assistant.trade.unit import Unit
from tests.procedure.shipped import KF_07, KF_12, PROCEDURES

MAIN_FILES = sorted(PROCEDURES.glob("*.yaml"))
UNITS: Mapping[str, Path | None] = {"any": None, "kf-07": KF_07, "kf-12": KF_12}

BLANK = "\N{REPLACEMENT CHARACTER}"


@dataclass
class Printed:
    """A sheet and what is printed of it."""

    program: Program
    unit: Unit | None
    sheet: Sheet
    page: str

    @functools.cached_property
    def rows(self) -> dict[int, str]:
        """The HTML of every step, by its number."""
        parts = re.split(r'<tr id="step-(\d+)"', self.page)
        return {int(number): row for number, row in zip(parts[1::2], parts[2::2], strict=True)}

    def sentences(self, number: int) -> list[str]:
        """What the voice says at a step, as printed; a blank is one sign."""
        found = re.findall(r"<(p|b)[^>]* data-said>(.*?)</\1>", self.rows[number], re.S)
        return [words(text) for _, text in found]


def words(markup: str) -> str:
    """The words of a piece of HTML, a blank as one sign."""
    filled = re.sub(r'<span class="blank">.*?</span>', BLANK, markup, flags=re.S)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", filled)).split())


@functools.cache
def printed(procedure: Path, unit: Path | None) -> Printed:
    program = load_program(procedure)
    loaded = None if unit is None else load_unit(unit)
    if loaded is not None:
        check_fit(program, loaded)
    sheet = lay_out(program, loaded)
    return Printed(program, loaded, sheet, render(sheet))


def stands_in(said: str, sentences: list[str]) -> bool:
    """Whether a spoken text is one of the printed ones, with its blanks filled in."""
    said = " ".join(said.split())
    return any(
        re.fullmatch(re.escape(sentence).replace(re.escape(BLANK), ".*"), said)
        for sentence in sentences
    )
