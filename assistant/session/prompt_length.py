"""How much is said in one prompt.

Of a longer one the beginning is forgotten before its end is heard. The session knows no sound, so
it counts words: at 165 words a minute, the pace of the voice, twelve seconds are 33 of them. What
is really spoken is measured by ``gloveside lint --render`` and, here, by the benchmark of the
prompts. Source: common practice, no source.
"""

from __future__ import annotations

from assistant.language.sentences import BETWEEN_SENTENCES

__all__ = ["MOST_WORDS", "in_prompts"]

MOST_WORDS = 33
"""Words that are said in twelve seconds."""


def in_prompts(text: str) -> tuple[str, ...]:
    """Cut a text that was put together where its sentences end, so that each prompt is short.

    A sentence that is itself too long stays whole.

    >>> in_prompts("Push stop. Lock off before you reach in.")
    ('Push stop. Lock off before you reach in.',)
    """
    prompts: list[str] = []
    for sentence in BETWEEN_SENTENCES.split(text):
        longer = f"{prompts[-1]} {sentence}" if prompts else sentence
        if prompts and len(longer.split()) <= MOST_WORDS:
            prompts[-1] = longer
        else:
            prompts.append(sentence)
    return tuple(prompts)
