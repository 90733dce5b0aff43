"""What a prompt tells to say can be said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from assistant.language.answers import commands_only
from assistant.language.english import english

PROCEDURES = Path(__file__).parents[2] / "procedures"


@pytest.mark.parametrize("file", sorted(PROCEDURES.glob("**/*.yaml")), ids=lambda file: file.name)
def test_a_note_is_asked_for_in_words_that_are_understood(file: Path) -> None:
    told = re.findall(r"\bsay ((?:\w+ )*?note)\b", file.read_text(encoding="utf-8"))
    for words in told:
        assert commands_only(english()).parse(words) is not None, words
