"""What a recogniser made of one utterance.

Three outcomes: it was understood; it is unclear, of two meanings that are known; or it was not for
the program. The first counts, the second is asked about (`disambiguation`), the third is not
answered but by asking again.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.language.meaning import Meaning

__all__ = ["CONFIDENCE_LEVEL", "UNCLEAR_LEVEL", "Recognition", "Unclear"]

CONFIDENCE_LEVEL = 0.5
"""The default confidence level of VoiceXML 2.0 (property ``confidencelevel``): below is nomatch. It
holds for typed words and for engines that bring no level of their own."""

UNCLEAR_LEVEL = 0.2
"""Below it what was heard is not even unclear: not the nearness of another meaning but the sound
itself is in doubt."""


@dataclass(frozen=True, slots=True)
class Unclear:
    """One of two meanings was said, and it is not known which.

    Args:
        best: the likelier one.
        other: the other one.
    """

    best: Meaning
    other: Meaning


@dataclass(frozen=True, slots=True)
class Recognition:
    """The best reading of one utterance under a grammar.

    Args:
        text: the words of the best reading, as written by the engine; empty if there is none. Half
            a surrogate pair, which no file in UTF-8 can hold, becomes a question mark.
        meaning: what the grammar makes of the text, however doubtful; None if nothing.
        confidence: 0 to 1; how far the meaning may be believed.
        seconds: length of the audio in seconds; 0.0 for typed text.
        engine: name of the recogniser.
        other: the nearest other meaning, where the engine weighed one.
        level: the confidence from which on the meaning counts (VoiceXML: confidencelevel). It goes
            with the engine, and so with the reply: what was decided by it stays decided.
    """

    text: str
    meaning: Meaning | None
    confidence: float
    seconds: float
    engine: str
    other: Meaning | None = None
    level: float = CONFIDENCE_LEVEL

    def __post_init__(self) -> None:
        writable = self.text.encode("utf-8", "replace").decode("utf-8")
        object.__setattr__(self, "text", writable)
        if not (0.0 <= self.confidence <= 1.0 and 0.0 <= self.level <= 1.0):
            raise ValueError(
                f"confidence and level must lie in 0 to 1, not {self.confidence} and {self.level}"
            )

    def accepted(self) -> Meaning | None:
        """The meaning if the confidence reaches the level, else None (nomatch).

        >>> from assistant.language.meaning import Command, Word
        >>> Recognition("hold", Command(Word.HOLD), 0.50, 0.4, "typed").accepted()
        Command(word=<Word.HOLD: 'hold'>)
        >>> Recognition("hold", Command(Word.HOLD), 0.49, 0.4, "typed").accepted() is None
        True
        """
        return self.meaning if self.confidence >= self.level else None

    def unclear(self) -> Unclear | None:
        """The two meanings between which it is unclear; None if understood, or not for us.

        >>> from assistant.language.meaning import Command, Word
        >>> yes, no = Command(Word.YES), Command(Word.NO)
        >>> Recognition("yes", yes, 0.3, 0.4, "typed", no).unclear() == Unclear(yes, no)
        True
        >>> Recognition("yes", yes, 0.1, 0.4, "typed", no).unclear() is None
        True
        """
        if self.meaning is None or self.other is None or self.other == self.meaning:
            return None
        if not UNCLEAR_LEVEL <= self.confidence < self.level:
            return None
        return Unclear(self.meaning, self.other)
