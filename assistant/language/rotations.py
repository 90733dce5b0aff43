"""The sense in which a shaft was seen to turn."""

from __future__ import annotations

from assistant.language.grammar import OneOf, Rule, Tag
from assistant.language.meaning import Meaning, ShaftTurn
from assistant.language.phrase_book import PhraseBook
from assistant.language.phrases import any_of
from assistant.trade.motion import Rotation

__all__ = ["shaft_rotation"]


def shaft_rotation(book: PhraseBook) -> Rule:
    """Clockwise or counterclockwise."""
    return Rule(
        name="rotation",
        expression=OneOf(*(any_of(book.rotations[rotation], rotation) for rotation in Rotation)),
        interpret=_turn,
        examples=tuple(book.rotations[rotation][0].spoken for rotation in Rotation),
    )


def _turn(tags: tuple[Tag, ...]) -> Meaning | None:
    match tags:
        case (Rotation() as rotation,):
            return ShaftTurn(rotation)
    return None
