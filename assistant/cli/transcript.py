"""The exchange of a job, printed as it goes."""

from __future__ import annotations

import textwrap
import time
from dataclasses import dataclass, field
from typing import TextIO

from assistant.language.speaking import say_meaning
from assistant.procedure.program import Program
from assistant.session.effects import Advised, Effect, Held, Listen, Say
from assistant.session.events import Event, Heard, Silent

__all__ = ["Transcript"]

_WIDTH = 100
_MARGIN = 13


@dataclass(slots=True)
class Transcript:
    """Prints who said what, what was heard, and why a direction was given.

    Args:
        program: the procedure, to tell how far the job is.
        stream: where to print.
    """

    program: Program
    stream: TextIO
    _began: float = field(default_factory=time.monotonic)
    _step: str = ""

    def technician_says(self, words: str) -> None:
        """Print what the technician is about to say."""
        self.tell("technician", f"“{words}”")

    def watch(self, event: Event, effects: tuple[Effect, ...]) -> None:
        """Print an event and its effects."""
        if isinstance(event, Heard):
            self.tell("heard", _heard(event))
        if isinstance(event, Silent):
            self.tell("heard", "nothing")
        self.show(effects)

    def show(self, effects: tuple[Effect, ...]) -> None:
        """Print what the program says, and where the job stands then."""
        for effect in effects:
            match effect:
                case Say(text):
                    self.tell("program", text)
                case Advised(advice=advice):
                    self.tell("why", " ".join(advice.reasons))
                case Held(reason):
                    self.tell("on hold", reason)
                case Listen(step=step):
                    self._heading(step)

    def _heading(self, step: str) -> None:
        if step == self._step:
            return
        self._step = step
        number = self.program.number(step)
        seconds = time.monotonic() - self._began
        place = f"step {number} of {len(self.program.nodes)}: {step.replace('/', ', ')}"
        print(f"\n[{seconds:5.1f} s] {place}", file=self.stream)

    def tell(self, who: str, text: str) -> None:
        """Print a line of somebody's."""
        wrapped = textwrap.fill(
            text,
            width=_WIDTH,
            initial_indent=f"  {who:<{_MARGIN - 2}}",
            subsequent_indent=" " * _MARGIN,
        )
        print(wrapped, file=self.stream, flush=True)


def _heard(event: Heard) -> str:
    recognition = event.recognition
    meaning = recognition.accepted()
    understood = "not understood" if meaning is None else say_meaning(meaning)
    return f"“{recognition.text}” → {understood} (confidence {recognition.confidence:.2f})"
