"""The revision is stated.

A record that names a draft proves nothing: nobody can tell afterwards what was said to the
technician. Source: 10 CFR 72.174 for the revision in the record, DOE-STD-1029-92 (CN1 1998),
section 4, for the revision of the procedure.

``words`` are no revisions; ``also-words`` adds to them. Whether the revision that is named is the
approved one, no file can show.

Passes::

    part: part
    title: A part
    revision: "2"
    about: A sample.
    steps:
      - step: tell
        say: Nothing to do here.

Fails::

    part: part
    title: A part
    revision: draft
    about: A sample.
    steps:
      - step: tell
        say: Nothing to do here.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import phrase_in
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_NONE = ("draft", "tbd", "todo", "none", "unknown", "pending", "wip", "new", "latest", "current")


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    file = subject.file
    word = phrase_in(file.revision, settings.words("words"))
    if word is not None or not any(character.isalnum() for character in file.revision):
        message = (
            f"'revision: {file.revision}' names no revision: write the letter or number under "
            "which this file was approved"
        )
        yield Finding(file.place, message)


RULE = FileRule("revision-stated", Level.WARNING, _check, {"words": _NONE})
