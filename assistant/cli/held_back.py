"""What a second person does not agree with is taken again before the job goes on.

No event of the session: a verdict decides nothing in a replay. So the answers wait here, while
"go back", "hold" and the other commands are obeyed, until the line that was judged is taken back or
whoever judged it agrees. Once a shaft was to be turned nobody is sent back to a reading as found.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.journal.as_found import AsFound
from assistant.journal.entry import Entry
from assistant.journal.verdicts import open_disagreements
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.meaning import Command, Word
from assistant.session.effects import Listen
from assistant.session.wording import place_of
from assistant.speech.ears import Reply, Spoken

__all__ = ["holds_back", "to_take_again"]


def to_take_again(entries: Sequence[Entry]) -> str:
    """What to say of the first answer with which somebody does not agree; empty where none is.

    >>> to_take_again(())
    ''
    """
    for one in open_disagreements(entries):
        if AsFound(entries).is_past(one.of):
            return (
                "Do not go back. Another person does not agree with a reading as found, and a "
                "shaft was to be turned since. That person has to review the job again."
            )
        return (
            f"Say go back until you are asked again at {place_of(one.step)}. Another person does "
            "not agree with that answer."
        )
    return ""


def holds_back(listen: Listen, reply: Reply, entries: Sequence[Entry]) -> bool:
    """Whether a reply must wait: it would answer a question of the procedure.

    Args:
        listen: what is listened for; a question of the session's own may always be answered.
        reply: what was said.
        entries: of the job.
    """
    if listen.aside or not isinstance(reply, Spoken):
        return False
    match reply.recognition.meaning:
        case None:
            return False
        case Command(word) if word in GLOBAL_WORDS and word is not Word.SKIP:
            return False
    return any(open_disagreements(entries))
