"""An answer proves only what it shows.

That the rods are engaged is shown by trying the shafts and by nothing else, that the motor turns
the right way by a jog; and an answer such as "no" or "free" shows neither. So ``proves:`` stands at
the step that has the thing tried, beside the answer that tells that it is so. Source: common
practice; answers tell the state and not "checked", Degani and Wiener, NASA CR-177549.

Passes::

    - step: rods
      say: Try every shaft. Is one free, or are all locked?
      does: try-shafts
      ask: choice
      choices: [locked, free]
      proves: {locked: rods-engaged}
      go: {locked: told, free: loose}
    - step: loose
      hold: The rod does not engage.
      go: rods
    - step: told
      say: All are locked.

Fails::

    - step: rods
      say: Is the rod in?
      ask: yes-no
      proves: {"yes": rods-engaged}
      go: {"yes": told, "no": loose}
    - step: loose
      hold: Let the rod in first.
      go: rods
    - step: told
      say: It is in.

Fails::

    - step: rods
      say: Try every shaft. Is one free, or are all locked?
      does: try-shafts
      ask: choice
      choices: [locked, free]
      proves: {free: rods-engaged}
      go: {locked: told, free: told}
    - step: told
      say: Tried.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.proofs import unfit
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        for outcome in step.proves:
            for fact, reason in unfit(step, outcome):
                yield Finding(step.place, f"'{outcome}' does not prove '{fact}': {reason}")


RULE = FileRule("proof-fits", Level.ERROR, _check)
