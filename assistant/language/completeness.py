"""Whether somebody who pauses has said everything: "one and two …", "one closed …", "both closed".

What was said may go on where the grammar holds a longer sentence that begins with the same words
and means something else. A word that adds nothing ("turns" after "twelve" does not change the
number, "lit" after "both lamps") is not worth waiting for; one that may change the answer is
("twenty … five", "one … and a half", "no … two closed", a contact that was asked and not told).
"Hold" is not waited for either ("no … stop"): it is heard over whatever is said next.
The difference is that between the timeouts of VoiceXML 2.0 (W3C, 2004), section 6.3.2.
"""

from __future__ import annotations

import enum

from assistant.language.grammar import Grammar, tags_after
from assistant.language.meaning import Command, Meaning, Word

__all__ = ["Completeness", "completeness"]

_HOLD = Command(Word.HOLD)

_MOST_TAGS = 2
"""How many terms with a meaning are looked ahead after what may come next: the shortest part that
is added to an answer has two at most ("and three open"). To look on would be to search every
sentence."""


class Completeness(enum.Enum):
    """What the words so far are under a grammar."""

    WHOLE = "whole"
    """An answer, and nothing that may follow makes another one of it."""

    EXTENSIBLE = "extensible"
    """An answer, and the beginning of a longer one."""

    PART = "part"
    """No answer: the beginning of one, or nothing that the grammar knows."""


def completeness(grammar: Grammar, text: str) -> Completeness:
    """What a text is under a grammar.

    >>> from assistant.language.answers import AskContacts, AskNumber, grammar
    >>> from assistant.language.english import english
    >>> contacts = grammar(AskContacts((1, 2, 3, 4)), english())
    >>> completeness(contacts, "one and two")
    <Completeness.PART: 'part'>
    >>> completeness(contacts, "one and two closed")
    <Completeness.EXTENSIBLE: 'extensible'>
    >>> completeness(contacts, "one and two closed, three and four open")
    <Completeness.WHOLE: 'whole'>
    >>> completeness(grammar(AskNumber("turns"), english()), "twenty")
    <Completeness.EXTENSIBLE: 'extensible'>
    """
    meaning = grammar.parse(text)
    if meaning is None:
        return Completeness.PART
    return Completeness.EXTENSIBLE if _may_change(grammar, text, meaning) else Completeness.WHOLE


def _may_change(grammar: Grammar, text: str, meaning: Meaning) -> bool:
    """Whether some sentence that begins with the text means something else."""
    waiting = list(grammar.onward(text))
    fewest = min((len(tags) for _, tags in waiting), default=0)
    seen = set(waiting)
    for node, tags in waiting:
        if any(other not in (meaning, _HOLD) for other in grammar.meanings(node, tags)):
            return True
        further = {(arc.target, tags_after(tags, arc.term)) for arc in grammar.arcs(node)} - seen
        waiting += (place for place in further if len(place[1]) <= fewest + _MOST_TAGS)
        seen |= further
    return False
