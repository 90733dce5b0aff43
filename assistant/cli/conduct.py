"""Conduct a job: the session wired to ears, voice, clock and journal.

Every event is answered by the session, written to the journal and on the disk, and only then
acted on. Whatever breaks after that, the job continues from the journal.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.cli.held_back import holds_back, to_take_again
from assistant.cli.speaker import Speaker
from assistant.journal import clips
from assistant.journal.root_words import words_of
from assistant.journal.store import Journal
from assistant.session.account import account
from assistant.session.core import Session
from assistant.session.effects import Effect, Finished, listening
from assistant.session.events import Clip, Event, Heard, Opened, Returned, Silent
from assistant.speech.ears import Ears, Ended, Silence, Spoken

__all__ = ["WORDS_FOR_THE_ORDER", "Conductor", "Watcher", "words_for_the_order"]

WORDS_FOR_THE_ORDER = "Write four words on the work order:"
"""What is said at the end of a job; the words stand for every line, so no line can hold them."""


def words_for_the_order(root: str) -> str:
    """The sentence with the words that stand for a journal's root."""
    return f"{WORDS_FOR_THE_ORDER} {', '.join(words_of(root))}."


Watcher = Callable[[Event, tuple[Effect, ...]], None]
"""Is told every event and its effects, once they are in the journal and before they are done."""


@dataclass(slots=True)
class Conductor:
    """Runs a session in the world.

    Args:
        session: new, or replayed from the journal.
        journal: open for writing.
        folder: the job folder, where the clips go.
        ears: where replies come from.
        speaker: says what is to be said.
        clock: the time now, as the journal writes it.
        watchers: are told everything, in this order.
    """

    session: Session
    journal: Journal
    folder: Path
    ears: Ears
    speaker: Speaker
    clock: Callable[[], str]
    watchers: tuple[Watcher, ...] = ()

    def begin(self, opening: dict[str, Any]) -> None:
        """Open the job and run it until it is finished or no more replies come."""
        self._run(self._take(Opened(self.clock()), opening))

    def resume(self, after: Mapping[str, Any] | None = None) -> None:
        """Go on with a job that was replayed from its journal, or was interrupted.

        Args:
            after: what interrupted it, for the journal.
        """
        if again := to_take_again(self.journal.entries):
            self.speaker.voice.say(again)
        self._run(self._take(Returned(self.clock()), dict(after or {})))

    def say_end_again(self) -> None:
        """Say once more what a finished job ends with: a device failed while it was said.

        Nothing is written, for the words stand for every line, and none may come after the last.
        """
        for text in self.journal.entries[-1].body["said"]:
            self.speaker.voice.say(text)
        self.speaker.voice.say(words_for_the_order(self.journal.root))

    def _run(self, effects: tuple[Effect, ...]) -> None:
        while (listen := listening(effects)) is not None:
            reply = self.ears.listen(listen.grammar, listen.patience)
            if isinstance(reply, Ended):
                return
            if holds_back(listen, reply, self.journal.entries):
                self.speaker.voice.say(f"Not yet. {to_take_again(self.journal.entries)}")
                continue
            lost = {"sound_lost": reply.lost} if isinstance(reply, Spoken) and reply.lost else {}
            effects = self._take(self._event(reply), lost)

    def _event(self, reply: Spoken | Silence) -> Event:
        match reply:
            case Spoken(recognition, samples):
                clip = None
                if samples is not None:
                    number = clips.next_number(self.folder)
                    clip = Clip(**clips.keep(self.folder, number, samples))
                return Heard(self.clock(), recognition, clip)
            case Silence():
                return Silent(self.clock())

    def _take(self, event: Event, extra: dict[str, Any]) -> tuple[Effect, ...]:
        step = self.session.step
        effects = self.session.receive(event)
        self.journal.append(event.at, {**account(step, event, effects), **extra})
        for watch in self.watchers:
            watch(event, effects)
        for effect in effects:
            self._do(effect)
        return effects

    def _do(self, effect: Effect) -> None:
        if isinstance(effect, Finished):
            # Said once the last line is written: the words stand for every line.
            self.speaker.voice.say(words_for_the_order(self.journal.root))
        self.speaker.do(effect)
