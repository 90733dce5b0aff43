"""Every hold says what to do, and where it leads.

A hold that only says what is wrong leaves somebody with both hands in the housing and no way on. So
its text holds something to do ("Find out why", "Get another tester"), and ``go:`` names the step to
which *carry on* leads. What must not be done, and a value alone, tell nobody what to do; whether
what is said to be done is the right thing, no rule can tell. Source:
DOE-STD-1029-92 (CN1 1998), section 4, for the action that follows a result that is not as expected;
for a hold, common practice.

Passes::

    - step: jog
      say: Jog it, and stop at once. Did it move?
      ask: yes-no
      go: {"yes": return, "no": still}
    - step: still
      hold: It did not move. Find out why.
      go: jog

Fails::

    - step: jog
      say: Jog it, and stop at once. Did it move?
      ask: yes-no
      go: {"yes": return, "no": still}
    - step: still
      hold: It did not move.
      go: jog
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Hold
from assistant.procedure.rules.imperatives import first_sort, imperatives_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import sentences_of
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        if not isinstance(step.action, Hold):
            continue
        reason = step.action.reason
        told = sentences_of(reason.plain)
        if not any(imperatives_of(one) or first_sort(one) for one in told):
            message = (
                f"the hold '{step.name}' does not say what to do: add a sentence that begins "
                "with it, 'Find out why.', 'Get …'"
            )
            yield Finding(reason.place, message)
        if not step.go:
            message = (
                f"the hold '{step.name}' does not say where 'carry on' leads: add 'go:' with the "
                "step that is to be done then"
            )
            yield Finding(step.place, message)


RULE = FileRule("hold-exit", Level.WARNING, _check)
