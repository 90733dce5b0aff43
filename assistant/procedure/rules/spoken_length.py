"""Prompts of twelve seconds at most.

What is longer is forgotten before its end is heard, and nobody can answer while the program speaks.
The time is measured from the rendered sound, never guessed from the words; so the rule finds
something only where prompts are rendered, ``gloveside lint --render``. Each prompt is measured as
it is spoken, with "Warning." or "Caution." before a notice, and with the longest value in the place
of each name (samples of a valve with sixteen contacts; a site's own texts, a tag or a service, may
be longer). What the program says of its own accord, such as a read-back, is not measured. Source:
common practice, no source.

``most`` is the longest that a prompt may be, in seconds.

Passes::

    - step: stop
      say: Crank to the open stop. Say done.
      ask: done

Fails::

    - step: stop
      say: >
        Crank to the open stop as slowly as you can while you keep one eye on the shaft that stands
        on the left of the housing, the other on the handwheel, and an ear on the gears, which must
        not be heard to grind, and count every turn of the handwheel from the moment at which you
        begin to the moment at which you feel the stop. Say done.
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.names import kinds_of
from assistant.procedure.rules.prompts import prompts_at
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.spoken import each_once
from assistant.procedure.rules.subject import Subject

__all__ = ["RULE"]


def _check(subject: Subject, settings: Settings) -> Iterator[Finding]:
    seconds = subject.means.seconds
    if seconds is None:
        return
    most = settings.number("most")
    kinds = kinds_of(subject.program)
    for node in each_once(subject.program):
        for prompt in prompts_at(node, subject.program, kinds, subject.means.after_hold):
            took = seconds(prompt.text)
            if took > most:
                message = (
                    f"this takes {took:.1f} s to say, more than {most:g}: shorten it, or make two "
                    "steps of it"
                )
                yield Finding(prompt.place, message)


RULE = ProgramRule("spoken-length", Level.WARNING, _check, {"most": 12.0})
