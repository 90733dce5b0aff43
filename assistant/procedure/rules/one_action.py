"""One action a step.

Who hears two actions in one breath does the second and forgets the first, and "done" does not tell
which was meant. Source: DOE-STD-1029-92 (CN1 1998), section 4: one action in a step.

An observation that shows the result (*watch*, *count*, *read*, *prove*) may go with its action, and
so may the word that is to be said. ``words`` are the verbs that count as actions, ``one-motion``
the pairs that are done as one motion of the hand; ``also-words`` and ``also-one-motion`` add to
them. A verb that is not listed is not seen, nor an action that a noun names ("after removal of the
plug, …"), and a second verb only with what follows it ("and remove the plug", not "and remove").

Passes::

    - step: out
      say: Press the setting rod and turn it. Say done.
      ask: done
    - step: watch
      say: Crank to the open stop, and watch the shaft. Say done.
      ask: done

Fails::

    - step: cover
      say: Open the cover and remove the plug. Say done.
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.imperatives import ACTS, Sort, imperatives_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import Sentence, sentences_of
from assistant.procedure.rules.spoken import Part, spoken_in
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_ONE_MOTION = ("press and turn", "turn and let", "jog and stop")


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    acts = frozenset(settings.words("words"))
    pairs = frozenset(settings.words("one-motion"))
    for spoken in spoken_in(subject.file):
        if spoken.part is not Part.SAY:
            continue
        verbs = [verb for one in sentences_of(spoken.text) for verb in _motions(one, acts, pairs)]
        if len(verbs) > 1:
            message = (
                f"two actions in a step, '{verbs[0]}' and '{verbs[1]}': make a step of each, the "
                "first of them without 'ask:' if both are to be spoken together"
            )
            yield Finding(spoken.template.place, message)


def _motions(sentence: Sentence, acts: frozenset[str], pairs: frozenset[str]) -> list[str]:
    """The actions of a sentence, by the verb with which each motion begins."""
    found: list[str] = []
    before = ""
    for one in imperatives_of(sentence, acts):
        if one.sort is Sort.ACT:
            if f"{before} and {one.verb}" not in pairs:
                found.append(one.verb)
            before = one.verb
    return found


RULE = FileRule("one-action", Level.WARNING, _check, {"words": ACTS, "one-motion": _ONE_MOTION})
