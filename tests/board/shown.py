"""What a board shows while a session is talked to."""

from __future__ import annotations

from assistant.board.follow import follow
from assistant.board.view import View, first_view
from assistant.language.recognition import Recognition
from assistant.session.events import Event, Heard
from assistant.speech.pressed import PRESSED
from tests.session.job import Job, kf, two_ends

READING = "one and two closed three and four open"
CONTRADICTION = "one closed two open three and four open"


class Watched(Job):
    """A job that is talked to, and the board beside it.

    Attributes:
        view: what the board shows now.
    """

    def take(self, event: Event) -> Job:
        super().take(event)
        before: View = getattr(self, "view", first_view(two_ends(), kf("07")))
        self.view = follow(before, event, self.effects)
        return self

    def press(self, word: str) -> None:
        meaning = self.listen.grammar.parse(word)
        self.take(Heard(self.now, Recognition(word, meaning, 1.0, 0.0, PRESSED)))


def watched(*replies: str) -> Watched:
    job = Watched()
    job.say(*replies)
    return job
