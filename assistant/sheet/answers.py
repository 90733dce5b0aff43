"""The blanks in which an answer is written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.language.meaning import Command, Lit, ShaftTurn, Word
from assistant.language.speaking import say_choice, say_meaning, say_unit
from assistant.procedure.model import Ask, AskKind, Reference
from assistant.procedure.program import Node
from assistant.sheet.texts import Paper, plain
from assistant.trade.motion import Rotation

__all__ = ["Answer", "Grid", "answer_of"]

OPEN_OR_CLOSED = ("open", "closed")
LIT_OR_DARK = ("lit", "dark")


@dataclass(frozen=True, slots=True)
class Grid:
    """One state each of several things.

    Args:
        things: contacts or lamps.
        states: those of which one is ticked for each.
    """

    things: tuple[str, ...]
    states: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Answer:
    """What is to be filled in.

    Args:
        boxes: words of which one is ticked.
        line: what is written on a line, as its unit; empty for none.
        believed: the range of a number that is believed, in words; empty where there is none.
        grid: states to be ticked.
        role: who signs; empty for nobody.
        is_timed: whether the time of the day is written down, to the second.
        is_read_back: whether it counts only once it was repeated and confirmed.
    """

    boxes: tuple[str, ...] = ()
    line: str = ""
    believed: str = ""
    grid: Grid | None = None
    role: str = ""
    is_timed: bool = False
    is_read_back: bool = False


def answer_of(node: Node, ask: Ask, paper: Paper) -> Answer:
    """The blanks for the answer to a question."""
    timed, read_back = ask.when is not None, ask.read_back
    match ask.kind:
        case AskKind.CONTACTS:
            grid = Grid(_contacts(node, ask, paper), OPEN_OR_CLOSED)
            return Answer(grid=grid, is_timed=timed, is_read_back=read_back)
        case AskKind.LAMPS:
            grid = Grid(_lamps(paper), LIT_OR_DARK)
            none_lit = (say_meaning(Lit(())),)
            return Answer(none_lit, grid=grid, is_timed=timed, is_read_back=read_back)
        case AskKind.NUMBER:
            words = tuple(map(say_choice, (*ask.called, *ask.instead)))
            unit = say_unit(ask.unit) if ask.unit else "number"
            return Answer(words, unit, _believed(node, ask, paper), None, "", timed, read_back)
        case AskKind.SPELLING:
            return Answer(line="letters and digits", is_timed=timed, is_read_back=read_back)
        case AskKind.AGREEMENT:
            return Answer(("correct", "wrong"), role=str(ask.by), is_timed=True)
        case (
            AskKind.YES_NO | AskKind.CHOICE | AskKind.ROTATION | AskKind.DONE | AskKind.MARK
        ) as kind:
            return Answer(_words(kind, ask), is_timed=timed, is_read_back=read_back)


_InWords = Literal[AskKind.YES_NO, AskKind.CHOICE, AskKind.ROTATION, AskKind.DONE, AskKind.MARK]


def _words(kind: _InWords, ask: Ask) -> tuple[str, ...]:
    match kind:
        case AskKind.YES_NO:
            return tuple(say_meaning(Command(word)) for word in (Word.YES, Word.NO))
        case AskKind.CHOICE:
            return tuple(map(say_choice, ask.choices))
        case AskKind.ROTATION:
            return tuple(say_meaning(ShaftTurn(rotation)) for rotation in Rotation)
        case AskKind.DONE | AskKind.MARK:
            return (kind.value,)


def _contacts(node: Node, ask: Ask, paper: Paper) -> tuple[str, ...]:
    assert ask.of is not None, "the reader demands 'of'"
    known = paper.value(node, ask.of)
    # On a sheet for any unit the numbers of the contacts are written in too.
    return tuple(map(str, sorted(known.content))) if known else ("",) * 4


def _lamps(paper: Paper) -> tuple[str, ...]:
    if paper.unit is None:
        return ("", "")
    return tuple(f"{lamp.name}, {lamp.colour}" for lamp in paper.unit.lamps)


def _believed(node: Node, ask: Ask, paper: Paper) -> str:
    most = f"{ask.most:g}" if isinstance(ask.most, float) else ""
    if isinstance(ask.most, Reference):
        known = paper.value(node, ask.most)
        most = f"{known.content.value:g}" if known else plain((paper.blank(node, ask.most),))
    return f"{ask.least:g} to {most}"
