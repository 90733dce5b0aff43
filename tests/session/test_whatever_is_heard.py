"""Whatever is heard, in any order: the session always has something to ask or to hold."""

from __future__ import annotations

import functools
import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.language.grammar import Grammar
from assistant.session.effects import Listen, Say
from tests.session.job import TO_READING, Job
from tests.session.unclear import unclear

WAYS = 120
"""So many sentences of a grammar are tried."""

EVENTS = ("said", "unclear", "noise", "silence", "return")

BEGINNINGS = ((), TO_READING, (*TO_READING, "one and three open two and four closed"))
"""At the first question, at a reading of contacts, and at its read-back."""


@functools.cache
def ways(grammar: Grammar) -> tuple[str, ...]:
    """Sentences that can be said."""
    some = grammar.sentences(WAYS)
    return tuple(one for one in itertools.islice(some, WAYS) if grammar.parse(one) is not None)


def happen(job: Job, event: str, first: int, second: int) -> None:
    """Let one thing happen."""
    can_be_said = ways(job.listen.grammar)
    best, other = (can_be_said[number % len(can_be_said)] for number in (first, second))
    match event:
        case "said":
            job.say(best)
        case "unclear":
            unclear(job, best, other)
        case "noise":
            job.say(best, confidence=0.0)
        case "silence":
            job.silence()
        case "return":
            job.power_returns()


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(BEGINNINGS),
    st.lists(
        st.tuples(st.sampled_from(EVENTS), st.integers(0, WAYS), st.integers(0, WAYS)),
        max_size=30,
    ),
)
def test_there_is_always_something_to_say_and_to_listen_for(
    beginning: tuple[str, ...], events: list[tuple[str, int, int]]
) -> None:
    job = Job().say(*beginning)
    for event in events:
        if not any(isinstance(effect, Listen) for effect in job.effects):
            return  # the job is finished
        happen(job, *event)
        for effect in job.effects:
            if isinstance(effect, Say):
                # "And ?" asks for nothing.
                assert " ?" not in effect.text and " ." not in effect.text
