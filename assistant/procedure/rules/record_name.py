"""A name in the record that is almost a known one was meant to be that one.

What is recorded as ``as-lef`` is kept, and no rotor is shown as proved by it; see ``record-kind``
for the names that the record reads again. Source: common practice.

A name that is less like it is not seen, nor one that means something and stands in another's place.

Passes::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: left
      record: {after-setting: left}

Fails::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: left
      record: {after-seting: left}
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from assistant.procedure.record_names import RECORD_NAMES, recorded_as
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_LIKE = 0.85
"""How like a known name another is that was meant so: as "as-lef", not as "seats-said"."""

_SHORTEST = 6
"""Letters; what is almost a shorter name is often another word: "when" and "then"."""


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    known = [name for name in RECORD_NAMES if len(name) >= _SHORTEST]
    for step in subject.file.steps:
        for record in step.records:
            if recorded_as(record.name) is not None:
                continue
            for meant in difflib.get_close_matches(record.name, known, n=1, cutoff=_LIKE):
                message = (
                    f"'{record.name}' in the record is kept and not read again: did you mean "
                    f"'{meant}'?"
                )
                yield Finding(record.value.place, message)


RULE = FileRule("record-name", Level.WARNING, _check)
