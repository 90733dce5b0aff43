"""Ears that only answer to a wake word."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from assistant.language.grammar import Grammar
from assistant.language.phrase_book import PhraseBook
from assistant.language.wake_word import after_wake_word
from assistant.speech.ears import Ears, Reply, Silence, Spoken

__all__ = ["WakeWordEars"]


@dataclass(frozen=True, slots=True)
class WakeWordEars:
    """Ears that pass over what does not begin with a word, as if nothing had been said.

    What begins with it and stays doubtful is given as it is, and asked about.

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
        while (left := until - self.clock()) > 0:
            reply = self.ears.listen(woken, left)
            if not (isinstance(reply, Spoken) and _is_not_for_us(reply)):
                return reply
        return Silence()


def _is_not_for_us(reply: Spoken) -> bool:
    heard = reply.recognition
    return heard.accepted() is None and heard.unclear() is None
