"""The action first, as an imperative.

In noise the first words are those that are heard. So what has the technician do something begins
with the verb: "Crank to the open stop", not "The valve is now cranked to the open stop". Only what
says when or where may stand ahead of it: "When it has stopped, …". Source: DOE-STD-1029-92 (CN1
1998), section 4: steps begin with a verb in the imperative.

It is asked of steps that do something to the valve (``does:``) or wait for *done* or *mark*. A
remark may come before the instruction as a sentence of its own. A verb that lint does not know is
taken for one where an article follows: "Deburr the edge", but not "Deburr edge four". Whether the
sentence that begins with a verb is the one that matters, no list can tell.

Passes::

    - step: stop
      say: From at least one turn away, crank to the open stop. Say done.
      does:
        - crank-to-stop: {toward: unit.opening}
      ask: done

Fails::

    - step: stop
      say: The valve is now cranked to the open stop. Say done.
      does:
        - crank-to-stop: {toward: unit.opening}
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, AskKind, Step
from assistant.procedure.rules.imperatives import Sort, first_sort
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import Sentence, sentences_of
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_DONE = frozenset({AskKind.DONE, AskKind.MARK})


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        if step.say is not None and _instructs(step) and not _is_instruction(step.say.plain):
            message = (
                f"step '{step.name}' has something done and no sentence of it begins with what "
                "to do: begin one with the verb, 'Open …', or 'When …, open …'"
            )
            yield Finding(step.say.place, message)


def _instructs(step: Step) -> bool:
    return bool(step.acts) or (isinstance(step.action, Ask) and step.action.kind in _DONE)


def _is_instruction(text: str) -> bool:
    """Whether a sentence begins with what to do, or all of them with what to say."""
    told = [one for one in sentences_of(text) if not one.is_question and not _goes_on(one)]
    firsts = [first_sort(one) for one in told]
    does = any(first in (Sort.ACT, Sort.OBSERVE) for first in firsts)
    return does or (bool(firsts) and all(first is Sort.SAY for first in firsts))


def _goes_on(sentence: Sentence) -> bool:
    """Whether a sentence only adds to the one before: "Or none, after one cycle"."""
    return sentence.text.startswith(("Or ", "And "))


RULE = FileRule("imperative-first", Level.WARNING, _check)
