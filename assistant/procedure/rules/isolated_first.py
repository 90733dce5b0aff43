"""Isolated before hands go in.

Nothing is done by hand in the housing or at the handwheel before the energy is isolated, locked
off and proved dead (``proves: {"yes": isolated}``); a supply that was switched on or restored takes
that back. And a job does not end with the supply on. Source: 29 CFR 1910.147(d).

Passes::

    - step: dead
      say: Is it locked off and dead?
      ask: yes-no
      proves: {"yes": isolated}
      go: {"yes": out, "no": live}
    - step: live
      hold: Lock off first.
      go: dead
    - step: out
      say: Press the setting rod and turn it. Say done.
      does: disengage
      ask: done

Fails::

    - step: dead
      say: Is it locked off and dead?
      ask: yes-no
      proves: {"yes": isolated}
      go: {"yes": out, "no": out}
    - step: out
      say: Press the setting rod and turn it. Say done.
      does: disengage
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.deeds import Fact
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.rules.unmet_needs import findings_of

__all__ = ["RULE"]

_REMEDIES = {
    Fact.ISOLATED: (
        "the valve isolated and proved dead: let each way pass a question with "
        "'proves: {\"yes\": isolated}', and go on only after that answer"
    ),
}


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    yield from findings_of(subject, _REMEDIES)


RULE = ProgramRule("isolated-first", Level.ERROR, _check)
