"""The texts of a box, the same in every format."""

from __future__ import annotations

from assistant.drawing.chart import Box

__all__ = ["first_words", "heading", "lines"]

FIRST_WORDS = 90
"""Characters of a text that are shown; a pointer over the box shows the rest."""


def heading(box: Box) -> str:
    """The number and name."""
    return f"{box.number} {box.name}" if box.number is not None else box.name


def lines(box: Box) -> tuple[str, ...]:
    """What a box says under its heading: kind, notices, acts, what is spoken."""
    gate = ["gate: the job comes back here"] if box.is_gate else []
    notices = [f"{kind.upper()}: {first_words(text)}" for kind, text in box.notices]
    acts = [f"does {act}" for act in box.acts]
    says = [f"“{first_words(box.says)}”"] if box.says else []
    deviation = [f"deviation: {first_words(box.deviation)}"] if box.deviation else []
    return (box.kind, *gate, *notices, *acts, *says, *deviation)


def first_words(text: str) -> str:
    """The beginning of a text, cut between words.

    >>> first_words("Read all contacts.")
    'Read all contacts.'
    """
    if len(text) <= FIRST_WORDS:
        return text
    return f"{text[:FIRST_WORDS].rsplit(' ', 1)[0].rstrip('.,;:')} …"
