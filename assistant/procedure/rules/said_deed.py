"""What is said to be done, or asked for, is not the contrary of what is marked.

The voice is all that the technician goes by, and ``does:`` and ``proves:`` are all that the program
goes by. Where a prompt says "Switch both supplies off" and the step is marked ``energise``, or asks
"Is the valve live?" and yes proves ``isolated``, the program believes the contrary of what is so.
So a prompt says nothing that contradicts its acts; a question says nothing that contradicts what
yes, or an agreement, proves; and in "if one turns, say …" no answer that proves that all are
locked stands behind a shaft that turns. Source: common practice.

It goes by lists of words, one for each act and fact. What stands behind "not", "before", "if" and
the like is taken for something else than what is done now. Which supply is switched is not seen
(switch another one at a step of its own), nor are other words for the contrary; directions and
rotors are for ``said-direction`` and ``said-rotor``.

Passes::

    - step: rods
      say: Try to turn every shaft by hand. If one turns, say free; if none, say locked.
      does: try-shafts
      ask: choice
      choices: [locked, free]
      proves: {locked: rods-engaged}
      go: {locked: dead, free: loose}
    - step: loose
      hold: The rod does not engage.
      go: rods
    - step: dead
      say: Is the valve dead?
      ask: yes-no
      proves: {"yes": isolated}
      go: {"yes": return, "no": live}
    - step: live
      hold: It is live. Lock it off.
      go: dead

Fails::

    - step: rods
      say: Try to turn every shaft by hand. If one turns, say locked; if none, say free.
      does: try-shafts
      ask: choice
      choices: [locked, free]
      proves: {locked: rods-engaged}
      go: {locked: return, free: loose}
    - step: loose
      hold: The rod does not engage.
      go: rods

Fails::

    - step: dead
      say: Is the valve live?
      ask: yes-no
      proves: {"yes": isolated}
      go: {"yes": return, "no": live}
    - step: live
      hold: It is live. Lock it off.
      go: dead

Fails::

    - step: engage
      say: Press the setting rod and turn it, to disengage. Say done.
      does: engage
      ask: done
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping

from assistant.language.grammar import words_of
from assistant.language.phrase_book import PhraseBook
from assistant.language.speaking import say_choice
from assistant.procedure.deeds import Fact
from assistant.procedure.fields import quoted
from assistant.procedure.model import Ask, AskKind, Step
from assistant.procedure.rules.deed_words import ACT_WORDS, FACT_WORDS, said_against
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import sentences_of
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_IF_SAY = re.compile(
    r"\b(?:if|when|where)\s+(?P<state>[^,;.?!]+),\s+(?:then\s+)?say\s+(?P<word>[^,;.?!]+)"
    r"|\bsay\s+(?P<first>[^,;.?!]+?),?\s+(?:if|when|where)\s+(?P<then>[^,;.?!]+)",
    re.IGNORECASE,
)
"""An answer, and the state in which it is to be given."""

_Proved = tuple[str, Fact]
"""An outcome, and what it proves."""

_DENIES = frozenset({"no", "not-agreed"})
"""Answers to a question that prove what it does not say; see ``proof-fits``."""


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    steps = {step.name: step for step in subject.file.steps}
    for step in steps.values():
        if step.say is None:
            continue
        proved = (*_proved(step), *_confirmed(step, steps))
        messages = (
            *_of_acts(step),
            *_of_facts(step, proved),
            *_of_answers(step, proved, subject.means.book),
        )
        yield from (Finding(step.say.place, message) for message in messages)


def _of_acts(step: Step) -> Iterator[str]:
    """What a step tells to do, and does not."""
    told = " ".join(_sentences(step, asks=False))
    for act in step.acts:
        others = [ACT_WORDS[one.kind].told for one in step.acts if one is not act]
        against = said_against(told, ACT_WORDS[act.kind])
        words = next((one for one in against if not any(map(_finds(one), others))), None)
        if words is not None:
            yield (
                f"{quoted(words)} is said, and '{act.kind}' is the contrary: say what is done, or "
                "mark what is said"
            )


def _of_facts(step: Step, proved: Iterable[_Proved]) -> Iterator[str]:
    """What a question asks for, where the answer proves the contrary."""
    if isinstance(step.action, Ask) and step.action.kind is AskKind.CHOICE:
        return  # what each word means is told by the word itself
    asked = " ".join(_sentences(step, asks=True)) or " ".join(_sentences(step, asks=False))
    for outcome, fact in proved:
        words = next(said_against(asked, FACT_WORDS[fact]), None)
        if outcome not in _DENIES and words is not None:
            yield (
                f"{quoted(words)} is asked for, and '{outcome}' proves '{fact}': ask so that "
                f"'{outcome}' says what it proves"
            )


def _of_answers(step: Step, proved: Iterable[_Proved], book: PhraseBook) -> Iterator[str]:
    """Answers that are to be given in the contrary state of what they prove."""
    for found in _IF_SAY.finditer(_plain(step)):
        state, word = (
            found.group("state", "word") if found["word"] else found.group("then", "first")
        )
        for outcome, fact in proved:
            is_said = words_of(word) in (words_of(outcome), words_of(say_choice(outcome, book)))
            if is_said and any(said_against(state, FACT_WORDS[fact])):
                yield (
                    f"{quoted(found[0])} is said, and '{outcome}' proves '{fact}': exchange the "
                    "answers, or what they prove"
                )


def _proved(step: Step) -> Iterator[_Proved]:
    for outcome, facts in step.proves.items():
        yield from ((outcome, fact) for fact in facts)


def _confirmed(step: Step, steps: Mapping[str, Step]) -> Iterator[_Proved]:
    """What an answer says that a second person then agrees to."""
    if not isinstance(step.action, Ask) or step.proves:
        return
    for outcome, target in step.go.items():
        match steps.get(target.name):
            case Step(action=Ask(kind=AskKind.AGREEMENT)) as agreed:
                yield from ((outcome, fact) for _, fact in _proved(agreed))


def _finds(words: str) -> Callable[[re.Pattern[str]], bool]:
    return lambda pattern: pattern.search(words) is not None


def _sentences(step: Step, *, asks: bool) -> Iterator[str]:
    """The sentences of a prompt that ask, or those that do not."""
    for sentence in sentences_of(_plain(step)):
        if sentence.is_question is asks:
            yield sentence.text


def _plain(step: Step) -> str:
    """The words of a prompt, without values: those are for other rules."""
    return "" if step.say is None else re.sub(r"\{[^{}]*\}", "…", step.say.plain)


RULE = FileRule("said-deed", Level.ERROR, _check)
