"""What a recogniser made of one utterance."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.language.meaning import Meaning

__all__ = ["CONFIDENCE_LEVEL", "Recognition"]

CONFIDENCE_LEVEL = 0.5
"""The default confidence level of VoiceXML 2.0 (property ``confidencelevel``): below is nomatch."""


@dataclass(frozen=True, slots=True)
class Recognition:
    """The best reading of one utterance under a grammar.

    Args:
        text: the words of the best reading, as written by the engine; empty if there is none.
        meaning: what the grammar makes of the text, however doubtful; None if nothing.
        confidence: 0 to 1; how far the meaning may be believed.
        seconds: length of the audio in seconds; 0.0 for typed text.
        engine: name of the recogniser.
        rival: the nearest other meaning, where the engine weighed one.
    """

    text: str
    meaning: Meaning | None
    confidence: float
    seconds: float
    engine: str
    rival: Meaning | None = None

    def __post_init__(self) -> None:
        if not 0.0 <= self.confidence <= 1.0:
            raise ValueError(f"confidence must lie in 0 to 1, not {self.confidence}")

    def accepted(self, level: float = CONFIDENCE_LEVEL) -> Meaning | None:
        """The meaning if the confidence reaches the level, else None (nomatch).

        >>> from assistant.language.meaning import Command, Word
        >>> Recognition("hold", Command(Word.HOLD), 0.50, 0.4, "typed").accepted()
        Command(word=<Word.HOLD: 'hold'>)
        >>> Recognition("hold", Command(Word.HOLD), 0.49, 0.4, "typed").accepted() is None
        True
        """
        return self.meaning if self.confidence >= level else None
