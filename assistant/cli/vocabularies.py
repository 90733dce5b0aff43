"""Which words the recognisers at hand know."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from assistant.cli.folders import is_fetched
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.speller.alphabet import ALPHABET

__all__ = ["vocabularies"]

_VOSK = "vosk-en-small"


def vocabularies() -> Mapping[str, Callable[[str], bool]]:
    """By the name of each recogniser, whether it knows a word.

    Moonshine writes words letter by letter if need be, so it knows every word in the letters of its
    speller. Vosk is only asked where its English model was fetched.
    """
    known: dict[str, Callable[[str], bool]] = {"moonshine": _is_spelled}
    if is_fetched(_VOSK):
        from assistant.speech.vosk_recogniser import Vosk  # noqa: PLC0415

        known["vosk"] = Vosk.load(models_folder() / _VOSK).knows
    return known


def _is_spelled(word: str) -> bool:
    return set(word) <= set(ALPHABET)
