"""A warning or caution holds no action.

A notice tells of a danger before its step is done. An action in it is taken for a part of the
danger and not done, or done before the step is begun; and nobody asks whether it was. Source:
DOE-STD-1029-92 (CN1 1998), section 4: warnings and cautions stand before their step and contain no
action.

``words`` are the verbs that count as actions, ``also-words`` adds to them; another verb is not
seen, nor one with a bare noun behind it ("open drains"), which may be a noun itself. That notices
come before the step is seen to by the program. What must not be done ("Never …", "Do not …", "Turn
no …"), what is to be watched and what is to be said are no actions, nor is what is to be done if
the danger comes true ("If it hums, stop at once").

Passes::

    - step: rod
      caution: Never crank with the setting rod half engaged. The setting would drift.
      say: Try every shaft by hand. Say done.
      ask: done

Fails::

    - step: rod
      caution: Turn the setting rod fully in before you go on.
      say: Try every shaft by hand. Say done.
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


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    acts = frozenset(settings.words("words"))
    for spoken in spoken_in(subject.file):
        if spoken.part is not Part.NOTICE:
            continue
        told = (
            each
            for one in sentences_of(spoken.text)
            if not _is_for_an_emergency(one)
            for each in imperatives_of(one, acts)
        )
        action = next((each for each in told if each.sort is Sort.ACT and each.is_certain), None)
        if action is not None:
            message = (
                f"a warning or caution holds the action '{action.verb}': move it into a step of "
                "its own before this one, and name only the danger here"
            )
            yield Finding(spoken.template.place, message)


def _is_for_an_emergency(sentence: Sentence) -> bool:
    return sentence.text.lower().startswith(("if ", "in case "))


RULE = FileRule("notice-without-action", Level.WARNING, _check, {"words": ACTS})
