"""Ears that only answer to a wake word."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from assistant.language.answers import commands_only
from assistant.language.grammar import Grammar
from assistant.language.phrase_book import PhraseBook
from assistant.language.wake_word import after_wake_word
from assistant.speech.ears import Ears, Reply, Silence, Spoken

__all__ = ["SEEMS_WOKEN", "WakeWordEars"]

SEEMS_WOKEN = 0.5
"""Confidence from which on a reply that does not count is asked again: with the word those that did
not count lay at 0.84 and more, without it at 0.37 and less (28 replies of two voices)."""


@dataclass(frozen=True, slots=True)
class WakeWordEars:
    """Ears that pass over what does not begin with a word, as if nothing had been said.

    What seems to begin with it and stays doubtful is given as it is, and asked again. Where nothing
    is asked, everything is given: a note or a reason has words of its own, and on hold the session
    passes over talk.

    Args:
        ears: hear everything.
        word: the wake word, checked (`check_wake_word`).
        book: knows how to say "hold", which needs no wake word.
        clock: seconds, from any moment on.
    """

    ears: Ears
    word: str
    book: PhraseBook
    clock: Callable[[], float] = time.monotonic

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """Wait for one reply that begins with the word; raises what the ears raise."""
        woken, until = after_wake_word(grammar, self.word, self.book), self.clock() + patience
        anything = grammar is commands_only(self.book)
        while (left := until - self.clock()) > 0:
            reply = self.ears.listen(woken, left)
            if anything or not (isinstance(reply, Spoken) and _is_not_for_us(reply)):
                return reply
        return Silence()


def _is_not_for_us(reply: Spoken) -> bool:
    heard = reply.recognition
    seems_woken = heard.meaning is not None and heard.confidence >= SEEMS_WOKEN
    return heard.accepted() is None and heard.unclear() is None and not seems_woken
