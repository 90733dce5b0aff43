"""Words that are kept as they were said: a note, or the reason for closing a hold or for a skip.

A command that was understood is obeyed there as everywhere (`commands`); whatever else is heard is
taken for the words. A sound that cannot hold any is asked for again, in other words each time, and
then given up. A note counts at once, and how long it is is told. A reason counts once it was agreed
on: somebody signs for it, who may not have heard the question, and it may have been a drill.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.language.answers import AskChoice, AskYesNo
from assistant.language.recognition import Recognition
from assistant.session import wording
from assistant.session.dialogue import MOST_FAILURES, Dialogue
from assistant.session.effects import Effect, Failed, Noted, Say
from assistant.session.events import Heard
from assistant.session.job import Job
from assistant.session.replies import Failure, Why
from assistant.session.states import Aside, Keeping, Kept, OnHold, Open, Purpose

__all__ = ["LEAST_SECONDS", "agreed_on", "ask_who", "hear_words", "leave", "silence"]

LEAST_SECONDS = 1.1
"""Length of a recording that can hold a note or a reason [s]: the ears keep half a second of quiet
around what was said, and in less than 0.6 s nobody says what was found. Common practice, no
source."""


def hear_words(job: Job, keeping: Keeping, heard: Heard) -> Iterator[Effect]:
    """Take what was said, if it can be a note or a reason."""
    recording = heard.recognition
    if _is_too_short(recording):
        yield from _ask_anew(job, keeping, Why.NOMATCH)
        return
    match keeping:
        case Keeping(before=Open() | OnHold() as before, then=Purpose() as then):
            asking = wording.reason_kept(recording.seconds)
            dialogue = Dialogue(AskYesNo(), (asking,), reads_back=False, book=job.book)
            job.state = Aside(Purpose.REASON, dialogue, before, kept=Kept(heard, then))
            yield Say(asking)
        case Keeping(before=before):
            job.state = before
            yield Noted()
            yield from job.say_again(wording.note_kept(recording.seconds))


def silence(job: Job, keeping: Keeping) -> Iterator[Effect]:
    """Nothing was said: a note is given up, and a reason asked for again."""
    if keeping.then is None:
        yield from leave(job, keeping, wording.NO_NOTE)
    else:
        yield from _ask_anew(job, keeping, Why.NOINPUT)


def leave(job: Job, keeping: Keeping, why: str) -> Iterator[Effect]:
    """Stand again where the job stood before, with nothing kept."""
    job.state = keeping.before
    yield from job.say_again(why)


def agreed_on(job: Job, kept: Kept, before: Open | OnHold, *, agrees: bool) -> Iterator[Effect]:
    """Take a reason that was agreed on, or ask for it anew."""
    if agrees:
        yield Noted(kept.words)
        yield from ask_who(job, before, kept.then)
    else:
        job.state = Keeping(before, kept.then)
        yield from job.say_again(wording.AGAIN)


def ask_who(job: Job, before: Open | OnHold, then: Purpose) -> Iterator[Effect]:
    """Ask who signs for the reason."""
    job.state = before
    roles = AskChoice(tuple(job.book.roles))
    asking = wording.WHO_CLOSES if then is Purpose.WHO_CLOSES else wording.WHO_SKIPS
    yield from job.ask_aside(then, roles, wording.who(asking, roles.choices))


def _is_too_short(recording: Recognition) -> bool:
    """Whether it holds no words; typed words have no length."""
    return 0.0 < recording.seconds < LEAST_SECONDS


def _ask_anew(job: Job, keeping: Keeping, why: Why) -> Iterator[Effect]:
    failures = keeping.failures + 1
    yield Failed(Failure(why, failures))
    if failures > MOST_FAILURES:
        nothing = wording.NO_NOTE if keeping.then is None else wording.NO_REASON
        yield from leave(job, keeping, nothing)
        return
    job.state = replace(keeping, failures=failures)
    if failures == MOST_FAILURES:
        yield Say(wording.IN_A_FEW_WORDS)
    else:
        lead = wording.TOO_SHORT if why is Why.NOMATCH else wording.LISTENING
        yield from job.say_again(lead)
