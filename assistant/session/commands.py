"""What the global commands do."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from assistant.language.answers import AskYesNo
from assistant.language.meaning import Word
from assistant.session import wording
from assistant.session.breaks import after_silence, answers_too_late, release
from assistant.session.effects import Adjust, Adjustment, Effect, Say
from assistant.session.holds import HoldKind
from assistant.session.job import Job
from assistant.session.keeping import agreed_on, leave
from assistant.session.rules import Rules
from assistant.session.states import Aside, Keeping, Kept, OnHold, Open, Purpose

__all__ = ["OBEY"]


def _hold(job: Job) -> Iterator[Effect]:
    if isinstance(job.state, Keeping):
        job.state = job.state.before
    yield from job.hold(HoldKind.SAID)


def _carry_on(job: Job) -> Iterator[Effect]:
    match job.state:
        case OnHold(waiting=None) as on_hold:
            job.state = Keeping(on_hold, Purpose.WHO_CLOSES)
            yield Say(wording.WHAT_WAS_DONE)
        case OnHold() as on_hold:
            yield Say(wording.CARRY_ON)
            yield from release(job, on_hold)
        case Keeping(before=OnHold() as on_hold, then=None):
            job.state = on_hold  # no note is wanted any more
            yield from _carry_on(job)
        case Keeping():
            yield from job.say_again(wording.FIRST_THIS)
        case _:
            yield from job.say_again(wording.NOT_ON_HOLD)


def _say_again(job: Job) -> Iterator[Effect]:
    yield from job.say_again()


def _adjust(how: Adjustment) -> Callable[[Job], Iterator[Effect]]:
    def adjust(job: Job) -> Iterator[Effect]:
        yield Adjust(how)
        yield from job.say_again()

    return adjust


def _help(job: Job) -> Iterator[Effect]:
    match job.state:
        case Open(dialogue) | Aside(dialogue=dialogue):
            yield Say(dialogue.help())
        case Keeping():
            yield Say(wording.HELP_WITH_WORDS)
        case _:
            yield Say(wording.ON_HOLD)


def _where_am_i(job: Job) -> Iterator[Effect]:
    yield from job.say_again(wording.whereabouts(job.title, job.step))


def _repeat_contacts(job: Job) -> Iterator[Effect]:
    yield from job.say_again(wording.last_reading(job.reading))


def _go_back(job: Job) -> Iterator[Effect]:
    match job.state:
        case OnHold(waiting=None):
            yield from job.say_again(wording.CLOSE_THE_HOLD)
        case OnHold(since=since) as on_hold if job.can_go_back and job.is_long(since):
            yield Say(wording.BREAK_FIRST)
            yield from release(job, on_hold)
        case Open() if job.can_go_back and answers_too_late(job):
            yield from after_silence(job, wording.BREAK_FIRST)
        case Open() | OnHold() if job.can_go_back:
            yield from job.ask_aside(Purpose.GO_BACK, AskYesNo(), wording.GO_BACK)
        case Open() | OnHold():
            yield from job.say_again(wording.NO_STEP_BEFORE)
        case Keeping() as keeping:
            yield from leave(job, keeping, wording.NOTHING_KEPT)
        case Aside(Purpose.REASON, before=Open() | OnHold() as before, kept=Kept() as kept):
            yield from agreed_on(job, kept, before, agrees=False)
        case _:
            yield from job.say_again()


def _skip(job: Job) -> Iterator[Effect]:
    match job.state:
        case Open() if job.walk.node.step.may_skip:
            yield from job.ask_aside(Purpose.SKIP, AskYesNo(), wording.SKIP)
        case Keeping():
            yield from job.say_again(wording.FIRST_THIS)
        case _:
            yield from job.say_again(wording.NOT_TO_BE_SKIPPED)


def _note(job: Job) -> Iterator[Effect]:
    match job.state:
        case Aside() if job.rules is Rules.FIRST:
            yield from job.say_again()
        case Open() | OnHold() | Aside() as before:
            job.state = Keeping(before)
            yield Say(wording.NOTE_NOW)
        case Keeping(then=Purpose()):
            yield from job.say_again(wording.FIRST_THIS)
        case _:
            yield from job.say_again()


OBEY: Mapping[Word, Callable[[Job], Iterator[Effect]]] = {
    Word.HOLD: _hold,
    Word.CARRY_ON: _carry_on,
    Word.SAY_AGAIN: _say_again,
    Word.SLOWER: _adjust(Adjustment.SLOWER),
    Word.FASTER: _adjust(Adjustment.FASTER),
    Word.LOUDER: _adjust(Adjustment.LOUDER),
    Word.SOFTER: _adjust(Adjustment.SOFTER),
    Word.HELP: _help,
    Word.WHERE_AM_I: _where_am_i,
    Word.REPEAT_CONTACTS: _repeat_contacts,
    Word.GO_BACK: _go_back,
    Word.SKIP: _skip,
    Word.NOTE: _note,
}
"""The commands that work at every step."""
