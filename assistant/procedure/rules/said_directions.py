"""The directions that a text tells, by a value or by words, and what they mean in the program."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from assistant.language.phrase_book import PhraseBook
from assistant.procedure.model import Act, Ask, AskKind, Reference, Step
from assistant.procedure.names import kind_of, kinds_of
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.sentences import Sentence, sentences_of
from assistant.procedure.values import FIELDS, Kind

__all__ = ["Meaning", "SaidDirection", "SaidDirections", "how_said", "ways_of"]

_DIRECTIONS = frozenset({Kind.TRAVEL, Kind.ROTATION})
_ENDS = {"open": ("unit", "opening"), "closed": ("unit", "closing"), "shut": ("unit", "closing")}
_ENDS |= {"opening": ("unit", "opening"), "closing": ("unit", "closing")}

_TO_A_STOP = re.compile(r"\bto(?:wards?)?\s+(?:the\s+)?\{([\w.-]+)\.stop\}", re.IGNORECASE)
_TO_AN_END = re.compile(
    r"\btowards?\s+(?:the\s+)?(open|closed|shut)\b"
    r"|\bto\s+(?:the\s+)?(?:fully?\s+)?(open|closed|shut)\s+(?:stop|end|seat|position)\b"
    r"|\b(?:run|crank|jog|drive|move|stroke|turn)\s+(?:it\s+|the\s+\w+\s+)?(?:slowly\s+|fully\s+)?"
    r"(open|closed|shut)\b"
    r"|\b(opening|closing)\s+(?:direction|way)\b",
    re.IGNORECASE,
)

Meaning = tuple[str, ...]
"""A direction by its name in the whole program and its fields; a sense of rotation by its word."""


@dataclass(frozen=True, slots=True)
class SaidDirection:
    """A direction in a text.

    Args:
        words: as it was written.
        means: what it is.
    """

    words: str
    means: Meaning


class SaidDirections:
    """Which directions the texts of a program tell.

    Args:
        program: the procedure.
        book: has the words for the senses of rotation.
    """

    def __init__(self, program: Program, book: PhraseBook) -> None:
        self._kinds = kinds_of(program)
        phrases = [phrase for those in book.rotations.values() for phrase in those]
        said = {form for one in phrases for form in (one.spoken, *one.spellings)}
        longest = sorted(said, key=len, reverse=True)
        either = "|".join(re.escape(form).replace(r"\ ", r"[\s-]*") for form in longest)
        self._rotations = re.compile(rf"(?<!\w)(?:{either})(?!\w)", re.IGNORECASE)

    def of(self, node: Node) -> tuple[SaidDirection, ...]:
        """The directions in what a step says."""
        say = node.step.say
        if say is None:
            return ()
        values = (
            SaidDirection(f"{{{one}}}", self.meaning(node, one))
            for one in say.references
            if self._kind(node, one) in _DIRECTIONS
        )
        words = (
            said
            for sentence in sentences_of(say.plain)
            if not _offers_answers(sentence, node.step)
            for said in self._in_words(node, sentence.text)
        )
        return (*values, *words)

    def untold(self, speaks: Node, does: Node) -> Iterator[tuple[Act, Reference]]:
        """What a step has done in a direction that another, or itself, does not say."""
        heard = {one.means for one in self.of(speaks)}
        for act, way in ways_of(does.step):
            if self.meaning(does, way) not in heard:
                yield act, way

    def meaning(self, node: Node, reference: Reference) -> Meaning:
        """What a reference in a step is in the whole program."""
        return self._meaning(node, reference.path)

    def _in_words(self, node: Node, text: str) -> Iterator[SaidDirection]:
        for found in _TO_A_STOP.finditer(text):
            stop = (*found[1].split("."), "to-stop")
            yield SaidDirection(found[0], self._meaning(node, stop))
        for found in _TO_AN_END.finditer(text):
            end = next(filter(None, found.groups()))
            yield SaidDirection(found[0], _ENDS[end.lower()])
        for found in self._rotations.finditer(text):
            yield SaidDirection(found[0], (found[0].lower(),))

    def _meaning(self, node: Node, path: Meaning) -> Meaning:
        if path[0] == "unit":
            return path
        if path[0] in node.scope.rotors:
            return (node.scope.rotors[path[0]], *path[1:])
        name, fields = node.scope.resolve(path, self._kinds)
        return (name, *fields)

    def _kind(self, node: Node, reference: Reference) -> Kind | None:
        kind, fields = kind_of(node, reference.path, self._kinds)
        for name in fields:
            kind = FIELDS[kind][name].kind if kind is not None else None
        return kind


def ways_of(step: Step) -> Iterator[tuple[Act, Reference]]:
    """What a step has done in a direction, each with that direction."""
    for act in step.acts:
        yield from ((act, told) for name, told in act.arguments if name in ("way", "toward"))


def how_said(way: Reference) -> str:
    """How a direction is said, in quotation marks, for a writer."""
    match way.path:
        case ("unit", "opening"):
            return "'toward open'"
        case ("unit", "closing"):
            return "'toward closed'"
        case (*rotor, "to-stop"):
            return f"'to the {{{'.'.join(rotor)}.stop}}'"
    return f"'{{{way}}}'"


def _offers_answers(sentence: Sentence, step: Step) -> bool:
    """Whether a sentence names directions as answers: "Did it move toward open, or closed?"."""
    match step.action:
        case Ask(kind=AskKind.ROTATION | AskKind.CHOICE):
            return sentence.is_question
    return False
