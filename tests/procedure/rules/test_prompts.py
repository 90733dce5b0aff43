"""What is measured is what the session says."""

from __future__ import annotations

from assistant.language.english import english
from assistant.procedure.load import program_from_texts
from assistant.procedure.names import kinds_of
from assistant.procedure.rules.prompts import prompts_at
from assistant.session.core import Session
from assistant.session.effects import Say
from assistant.session.wording import ON_HOLD
from tests.session.job import Job, kf

SAMPLE = """\
procedure: sample
title: A sample
revision: A
about: A sample.
steps:
  - step: dry
    warning: It is under pressure.
    caution: The glass breaks easily.
    say: Is it dry?
    ask: yes-no
    go: {"yes": end, "no": wet}
  - step: wet
    hold: It is wet. Dry it.
    go: dry
  - step: end
    say: The end.
    end: job
"""


def test_a_prompt_is_measured_as_the_session_says_it() -> None:
    program = program_from_texts("sample.yaml", {"sample.yaml": SAMPLE}.__getitem__)
    job = Job(Session(program, kf("07"), english(), {}))
    effects = (*job.effects, *job.say("no").effects)
    said = [effect.text for effect in effects if isinstance(effect, Say)]
    kinds = kinds_of(program)
    measured = [
        prompt.text
        for name in ("dry", "wet")
        for prompt in prompts_at(program.nodes[name], program, kinds, ON_HOLD)
    ]
    assert measured == [
        "Warning. It is under pressure.",
        "Caution. The glass breaks easily.",
        "Is it dry?",
        "It is wet. Dry it.",
        ON_HOLD,
    ]
    assert [text for text in said if text in measured] == measured, said
