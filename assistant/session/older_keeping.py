"""What older programs made of words that are kept (`Rules.FIRST`): for their journals alone."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.meaning import Command, Meaning, Word
from assistant.session import wording
from assistant.session.effects import Effect, Noted
from assistant.session.holds import HoldKind
from assistant.session.job import Job
from assistant.session.keeping import ask_who, leave
from assistant.session.states import Aside, Keeping

__all__ = ["hear_anything", "hear_nothing"]


def hear_anything(job: Job, keeping: Keeping, meaning: Meaning | None) -> Iterator[Effect]:
    """Whatever was said, but for "hold", is the note or the reason, and counts at once."""
    before, job.state = keeping.before, keeping.before
    assert not isinstance(before, Aside), "by these rules no note is taken in an aside"
    if meaning == Command(Word.HOLD):
        yield from job.hold(HoldKind.SAID)
        return
    yield Noted()
    if keeping.then is None:
        yield from job.say_again(wording.note_kept(0.0))
    else:
        yield from ask_who(job, before, keeping.then)


def hear_nothing(job: Job, keeping: Keeping) -> Iterator[Effect]:
    """A note is given up; for a reason it is waited on."""
    if keeping.then is None:
        yield from leave(job, keeping, wording.NO_NOTE)
    else:
        yield from job.say_again()
