"""A prompt says what its step has done, and asks for what its answer proves.

What is marked with ``does:`` and not said is not done; the program takes it for done. And a yes to
"Is the lamp hung up?" proves nothing of a valve. So in ``say:`` stands one of the words in which
people say the act, or ask for the fact. Source: common practice.

The words are those of a list ("crank", "switch … on", "dead", "clear"). Where others say it as
well, allow it with the reason. What says the contrary is for ``said-deed``.

Passes::

    - step: middle
      gate: yes
      say: Crank to mid-travel by hand. Say done.
      does: crank-to-middle
      ask: done

Fails::

    - step: middle
      gate: yes
      say: Hang up the lamp. Say done.
      does: crank-to-middle
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Step
from assistant.procedure.rules.deed_words import ACT_WORDS, FACT_WORDS, Words, said_against
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        place = step.place if step.say is None else step.say.place
        for message in _untold(step):
            yield Finding(place, message)


def _untold(step: Step) -> Iterator[str]:
    text = "" if step.say is None else step.say.plain
    for act in step.acts:
        if _is_silent(text, ACT_WORDS[act.kind]):
            yield f"'{act.kind}' is marked, and nothing says it: say what is to be done"
    for outcome, facts in step.proves.items():
        for fact in facts:
            if _is_silent(text, FACT_WORDS[fact]):
                yield f"'{outcome}' proves '{fact}', and nothing asks for it: ask for that"


def _is_silent(text: str, words: Words) -> bool:
    return not (words.told.search(text) or any(said_against(text, words)))


RULE = FileRule("deed-told", Level.WARNING, _check)
