"""The condition first.

Who hears "crank on if the lamp is lit" cranks on. So what must be so, or must come to be so, stands
before the action: "If the lamp is lit, crank on". Source: DOE-STD-1029-92 (CN1 1998), section 4: IF
or WHEN, then the action.

``words`` are those with which a condition begins. The moment at which a word is to be said may
follow it: "Say mark when it has stopped".

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

from assistant.procedure.rules.imperatives import Imperative, Sort, imperatives_of
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
        for sentence in sentences_of(spoken.text):
            for one in imperatives_of(sentence):
                condition = _behind(one, sentence, words)
                if condition:
                    message = (
                        f"the condition '{condition} …' comes after the action '{one.verb}': put "
                        f"it first, '{condition.capitalize()} …, {one.verb} …'"
                    )
                    yield Finding(spoken.template.place, message)
                    break


def _behind(one: Imperative, sentence: Sentence, words: tuple[str, ...]) -> str | None:
    """The condition that follows an instruction in its clause."""
    clause = next(each for each in sentence.clauses if one.verb in each.lower())
    behind = clause.lower().partition(one.verb)[2].strip()
    condition = phrase_in(behind, words)
    if condition is None or (one.sort is Sort.SAY and condition in _MOMENTS):
        return None
    # "Check if it is warm" asks whether it is.
    is_whether = one.sort is not Sort.ACT and behind.startswith(condition)
    return None if is_whether else condition


RULE = FileRule("condition-first", Level.WARNING, _check, {"words": CONDITIONS})
