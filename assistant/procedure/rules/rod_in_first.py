"""The rod in, and the shafts tried, before anything moves.

After a setting rod went out, no way may lead to cranking, energising or the end of the job before
it was let in again (``does: engage``), every shaft was tried (``does: try-shafts``) and felt to be
locked (``proves: {locked: rods-engaged}``). A half-engaged rod drifts on the first stroke; and a
shaft is only turned while its rod is out. Source: common practice.

Passes::

    - step: out
      say: Press the setting rod and turn it.
      does: disengage
      ask: done
    - step: in
      say: Turn it back.
      does: engage
    - step: try
      say: Try every shaft. Is one free, or are all locked?
      does: try-shafts
      ask: choice
      choices: [locked, free]
      proves: {locked: rods-engaged}
      go: {locked: middle, free: loose}
    - step: loose
      hold: The rod does not engage.
      go: in
    - step: middle
      say: Crank to mid-travel. Say done.
      does: crank-to-middle
      ask: done

Fails::

    - step: out
      say: Press the setting rod and turn it.
      does: disengage
      ask: done
    - step: in
      say: Turn it back. Say done.
      does: engage
      ask: done
    - step: middle
      say: Crank to mid-travel. Say done.
      does: crank-to-middle
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
    Fact.RODS_ENGAGED: (
        "every rod in and every shaft tried: let each way pass 'does: engage' where a rod went "
        "out, then 'does: try-shafts' with 'proves: {locked: rods-engaged}'"
    ),
    Fact.ROD_OUT: "the setting rod out: let each way pass 'does: disengage'",
}


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    yield from findings_of(subject, _REMEDIES)


RULE = ProgramRule("rod-in-first", Level.ERROR, _check)
