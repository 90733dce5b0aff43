"""The condition first.

Who hears "crank on if the lamp is lit" cranks on. So what must be so, or must come to be so, stands
before the action: "If the lamp is lit, crank on". Source: DOE-STD-1029-92 (CN1 1998), section 4: IF
or WHEN, then the action.

``words`` are those with which a condition begins; ``also-words`` adds to them. The moment at which
a word is to be said may follow it: "Say mark when it has stopped". "Check if it is warm" asks
whether it is; "wait if it is warm" cannot be told from that and is let pass. Instructions are known
by a list of verbs; after another verb no condition is seen.

Passes::

    - step: on
      say: If the lamp is lit, crank on. Say done when it has stopped.
      ask: done

Fails::

    - step: on
      say: Crank on if the lamp is lit. Say done.
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.imperatives import Sort, imperatives_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import CONDITIONS, Sentence, phrase_in, sentences_of
from assistant.procedure.rules.spoken import spoken_in
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_MOMENTS = frozenset({"when", "whenever", "as soon as"})
"""They name the moment at which a word is said."""


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    words = settings.words("words")
    for spoken in spoken_in(subject.file):
        late = (_late(sentence, words) for sentence in sentences_of(spoken.text))
        for verb, condition in filter(None, late):
            message = (
                f"the condition '{condition} …' comes after the action '{verb}': put it first, "
                f"'{condition.capitalize()} …, {verb} …'"
            )
            yield Finding(spoken.template.place, message)


def _late(sentence: Sentence, words: tuple[str, ...]) -> tuple[str, str] | None:
    """The first instruction of a sentence that is followed by its condition, and that."""
    instructions = imperatives_of(sentence)
    for one in instructions:
        behind = one.rest
        if one is instructions[-1] and _begins(sentence.clauses[-1], words):
            behind = f"{behind} {sentence.clauses[-1]}"
        condition = phrase_in(behind, words)
        if condition is not None and not _belongs(condition, one.sort):
            return one.verb, condition
    return None


def _begins(clause: str, words: tuple[str, ...]) -> bool:
    first = phrase_in(clause, words)
    return first is not None and clause.lower().startswith(first)


def _belongs(condition: str, sort: Sort) -> bool:
    """Whether it is what is looked at ("check if …"), or the moment at which a word is said."""
    return (sort is Sort.OBSERVE and condition == "if") or (
        sort is Sort.SAY and condition in _MOMENTS
    )


RULE = FileRule("condition-first", Level.WARNING, _check, {"words": CONDITIONS})
