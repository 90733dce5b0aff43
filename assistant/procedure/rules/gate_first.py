"""Through the gate before the motor runs.

Nothing is energised before the valve stands at mid-travel, everybody is clear and permission was
given, and nothing is stroked before a short jog showed that the motor turns the right way: with a
phase reversed it drives past the switch that should stop it. Source: the electrical test of the
trade, common practice; the reversed phase from memory.

Passes::

    - step: middle
      gate: yes
      say: Crank to mid-travel by hand. Say done.
      does: crank-to-middle
      ask: done
    - step: clear
      say: Is everybody clear?
      ask: yes-no
      proves: {"yes": people-clear}
      go: {"yes": permission, "no": not-clear}
    - step: not-clear
      hold: Everybody clear first.
      go: clear
    - step: permission
      say: Is there permission to energise?
      ask: yes-no
      proves: {"yes": permitted}
      go: {"yes": energise, "no": not-permitted}
    - step: not-permitted
      hold: Get the permission first.
      go: permission
    - step: energise
      say: Switch the supply on. Say done.
      does: energise
      ask: done

Fails::

    - step: middle
      gate: yes
      say: Crank to mid-travel by hand. Say done.
      does: crank-to-middle
      ask: done
    - step: clear
      say: Is everybody clear?
      ask: yes-no
      proves: {"yes": people-clear}
      go: {"yes": energise, "no": not-clear}
    - step: not-clear
      hold: Everybody clear first.
      go: clear
    - step: energise
      say: Switch the supply on. Say done.
      does: energise
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
    Fact.MID_TRAVEL: "the valve at mid-travel: let each way pass 'does: crank-to-middle'",
    Fact.PEOPLE_CLEAR: (
        "everybody clear: let each way pass a question with 'proves: {\"yes\": people-clear}'"
    ),
    Fact.PERMITTED: (
        "permission to energise: let each way pass a question with 'proves: {\"yes\": permitted}'"
    ),
    Fact.ENERGISED: "the supply on: let each way pass 'does: energise'",
    Fact.ROTATION_RIGHT: (
        "the motor's rotation known to be right: let each way pass a 'jog' with "
        "'proves: {open: rotation-right}'"
    ),
}


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    yield from findings_of(subject, _REMEDIES)


RULE = ProgramRule("gate-first", Level.ERROR, _check)
