"""Whatever is said, with whatever pauses and restarts in between.

Hands go in only where it is known to be dead (29 CFR 1910.147(d)), and a restart alone changes
nothing of a job: nobody at the valve need have noticed it.
"""

from __future__ import annotations

import functools

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.language.meaning import Command, Word
from assistant.procedure.deeds import ACTS, ActKind, Fact
from assistant.session.effects import (
    Begun,
    Done,
    Lapsed,
    Listen,
    Proved,
    Request,
    WentBack,
    listening,
)
from assistant.session.events import Event, Heard
from tests.session.job import Job, flagship
from tests.session.test_whatever_is_heard import WAYS, ways
from tests.session.whole_job import at, new_session

SHORT, LONG = 40.0, 3600.0
"""Seconds: a dozen in a row are no long break yet; more than any work may take."""

PLACES = (
    *("isolation/dead", "rods/locked", "open-end/set/read", "open-end/set/turn"),
    *("closed-end/set/try-shafts", "prove-open/on", "prove-closed/before", "test/clear"),
    *("test/jog", "test/open-stop", "test/lock-off/lock-off", "finish/cover", "finish/locks"),
)
WORDS = ("yes", "no", "hold", "carry on", "go back", "technician", "take a note", "found it")
HAPPENING = st.tuples(
    st.sampled_from((SHORT, SHORT, LONG)),
    st.one_of(
        st.sampled_from(WORDS),
        st.sampled_from(("yes", "no", "carry on", "", "restart")),
        st.integers(0, WAYS),
    ),
)
"""How long nothing happened before, and what is said then: words, nothing, or what can be said."""

HAPPENINGS = st.lists(HAPPENING, max_size=8)

Happening = tuple[float, str | int]

LEADS: tuple[tuple[Happening, ...], ...] = (
    (),
    ((SHORT, "hold"),),
    ((SHORT, "hold"), (SHORT, "go back")),
    ((SHORT, "hold"), (LONG, "carry on")),
    ((SHORT, "hold"), (LONG, "carry on"), (SHORT, "yes")),
    ((SHORT, "none"), (SHORT, "carry on"), (SHORT, "found it")),
    ((SHORT, "none"), (SHORT, "carry on"), (SHORT, "found it"), (SHORT, "yes")),
)
"""To where somebody may be interrupted; the last two close a hold of the procedure."""

CLOSED: tuple[Happening, ...] = (*LEADS[-1], (LONG, "technician"), (SHORT, "yes"))

BEGINNINGS = st.one_of(
    st.tuples(st.sampled_from(PLACES), st.sampled_from(LEADS)),
    st.tuples(st.just("open-end/set/turn"), st.sampled_from((*LEADS, CLOSED))),
)


@functools.cache
def led_to(step: str) -> tuple[Event, ...]:
    return tuple(at(step).history)


Beginning = tuple[str, tuple[Happening, ...]]


def standing_at(step: str) -> Job:
    job = Job(new_session())
    for event in led_to(step)[1:]:
        job.take(event)
    return job


def happen(job: Job, happening: Happening) -> None:
    """Let time pass, and then something be said."""
    seconds, what = happening
    job.wait(seconds)
    listen = listening(job.effects)
    if listen is None:
        return
    if what == "restart":
        job.power_returns()
    elif what == "":
        job.silence()
    elif isinstance(what, str):
        job.say(what)
    elif sentences := ways(listen.grammar):
        job.say(sentences[what % len(sentences)])


def stands(job: Job) -> tuple[object, ...]:
    listen = listening(job.effects)
    asked = listen and (listen.aside, listen.question, listen.read_back)
    return job.session.step, job.session.known, asked, job.session.supply_may_be_on


HANDS_IN = frozenset(act for act, deed in ACTS.items() if Fact.ISOLATED in deed.needs)

OBEYED_MEANWHILE = ("note", "go-back", "skip")
"""Asides after which a question is asked again as it was: only an answer ends a silence."""


class Dead:
    """Whether it was proved dead since it was switched on last, and since the last long break."""

    def __init__(self, job: Job) -> None:
        self.proved = Fact.ISOLATED in job.session.known
        self.asked = False  # whether it is, and it was not answered with yes yet
        self.told = {act.kind for act in flagship().nodes[job.session.step].step.acts}

    def see(self, job: Job) -> None:
        for effect in job.effects:
            match effect:
                case Lapsed() | Request(ActKind.ENERGISE | ActKind.RESTORE_SUPPLIES):
                    self.proved = False
                case Listen(aside="restore", subject=Fact.ISOLATED):
                    self.asked = True
                case WentBack():
                    self.asked = False
                case Proved(Fact.ISOLATED):
                    self.proved, self.asked = True, False
                case Done(step, outcome):
                    proves = flagship().nodes[step].step.proves.get(outcome, ())
                    self.proved = self.proved or Fact.ISOLATED in proves
                case Begun(step):
                    self.told |= {act.kind for act in flagship().nodes[step].step.acts}


@settings(max_examples=80, deadline=None)
@given(BEGINNINGS, HAPPENINGS)
def test_no_hand_is_asked_into_a_housing_that_is_not_proved_dead(
    beginning: Beginning, happenings: list[Happening]
) -> None:
    step, lead = beginning
    job = standing_at(step)
    dead, pause, before = Dead(job), 0.0, listening(job.effects)
    for happening in (*lead, *happenings):
        if before is None:
            return
        happen(job, happening)
        event, listen = job.history[-1], listening(job.effects)
        pause += happening[0]
        if pause >= LONG:
            dead.proved = False
        dead.see(job)
        if any(isinstance(effect, Begun) for effect in job.effects):
            dead.told = {one.act for one in job.effects if isinstance(one, Request)}
        if _is_of_somebody(event):
            pause = 0.0
        moved = job.all_of(Begun) or (before.aside, before.step) != _place(listen)
        if job.all_of(Begun) or before.aside not in OBEYED_MEANWHILE:
            asks = moved and listen is not None and not listen.aside
            assert not asks or dead.proved or HANDS_IN.isdisjoint(dead.told)
            assert not (asks and dead.asked)
        before = listen


def _is_of_somebody(event: Event) -> bool:
    return isinstance(event, Heard) and event.recognition.accepted() is not None


IN_A_HOLD = ("note", "reason", "who-closes", "go-back")
"""Asides that belong to the hold in which they began."""


def _place(listen: Listen | None) -> tuple[str, str] | None:
    return None if listen is None else (listen.aside, listen.step)


@settings(max_examples=80, deadline=None)
@given(
    BEGINNINGS,
    HAPPENINGS,
    st.sampled_from((SHORT, LONG)),
    st.integers(0, WAYS),
    HAPPENINGS,
)
def test_a_restart_alone_changes_nothing(
    beginning: Beginning,
    before: list[Happening],
    pause: float,
    reply: int,
    later: list[Happening],
) -> None:
    step, lead = beginning
    job, in_a_hold, away, noted_in = standing_at(step), False, 0.0, ""
    for happening in (*lead, *before):
        asked = job.listen.aside
        happen(job, happening)
        if listening(job.effects) is None:
            return
        listen, away = job.listen, away + happening[0]
        if listen.aside == "note" != asked:
            noted_in = asked
        told = asked == "as-left"
        ends_silence = _is_of_somebody(job.history[-1]) and (told or away < LONG)
        if listen.aside == "as-left" or ends_silence:
            away = 0.0  # a command does not end a silence that was long already
        in_a_hold = listen.aside == "hold" or (in_a_hold and listen.aside in IN_A_HOLD)
    listen = job.listen
    # A note that was begun is given up; in a hold "carry on" gives it up too.
    assume(listen.aside != "note" or noted_in == "hold")
    answers = [one for one in ways(listen.grammar) if not _is_obeyed(listen, one)]
    said = "carry on" if listen.aside in ("hold", "note") else answers[reply % len(answers)]
    restarted = Job(new_session())
    for event in job.history[1:]:
        restarted.take(event)
    restarted.now = job.now
    restarted.wait(pause).power_returns()
    job.wait(pause).say(said)
    if away + pause < LONG or in_a_hold or listen.aside == "as-left":
        restarted.say(said)
    assert stands(restarted) == stands(job)
    for happening in later:
        happen(job, happening)
        happen(restarted, happening)
        assert stands(restarted) == stands(job)


def _is_obeyed(listen: Listen, reply: str) -> bool:
    """Whether a reply is a command that is obeyed, and no answer."""
    answers = (Word.YES, Word.NO, Word.DONE, Word.MARK)
    match listen.grammar.parse(reply):
        case Command(word):
            return word not in answers
    return False
