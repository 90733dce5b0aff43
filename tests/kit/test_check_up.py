"""The kit check as it is spoken, with stand-ins for the devices."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from assistant.kit.check_up import CheckUp
from assistant.kit.clock import check_clock
from assistant.kit.disk import check_disk
from assistant.kit.findings import Finding, Fitness, conclusion
from assistant.kit.phrases import SIX
from assistant.language.answers import grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.speech import wav
from assistant.speech.devices.level import BLOCK
from assistant.speech.ears import SAMPLE_RATE, Reply, Samples, Silence, Spoken
from assistant.speech.fakes import FakeEars, FakePlayer, FakeSoundSource, FakeVoice
from tests.cli.command import TOO_LONG
from tests.kit.sounds import spoken_like

NOON = datetime(2031, 5, 14, 12, 0)


def hiss(level: float, seconds: float = 20.0) -> Iterable[Samples]:
    sound = level * np.random.default_rng(1).standard_normal(round(seconds * SAMPLE_RATE))
    return np.split(sound.astype(np.float32)[: len(sound) // BLOCK * BLOCK], len(sound) // BLOCK)


def checked(*replies: str | Silence, level: float = 0.001) -> tuple[list[Finding], FakeVoice]:
    voice = FakeVoice()
    sound = wav.Sound(np.ones(SAMPLE_RATE, np.float32), SAMPLE_RATE)
    source = FakeSoundSource(hiss(level))
    check_up = CheckUp(voice, source, FakeEars(replies), FakePlayer().play, sound)
    return list(check_up.run(NOON)), voice


def of(subject: str, findings: Iterable[Finding]) -> Finding:
    return next(one for one in findings if one.subject == subject)


ALL = tuple(phrase.words for phrase in SIX)


def test_every_phrase_means_something_where_it_is_read() -> None:
    for phrase in SIX:
        assert grammar(phrase.question, english()).parse(phrase.words) is not None


def test_all_that_is_read_as_it_was_asked_for_is_fit() -> None:
    findings, voice = checked("yes", *ALL)
    assert of("the phrases", findings).fitness is Fitness.FIT
    assert of("the clock", findings).fitness is Fitness.FIT
    assert [f"Say: {words}." for words in ALL] == voice.said[-6:]


def test_an_opposite_state_that_was_heard_is_unfit_however_few_they_are() -> None:
    findings, _ = checked("yes", "one and two open", *ALL[1:])
    found = of("the phrases", findings)
    assert found.fitness is Fitness.UNFIT
    assert "one and two closed" in found.says


def test_a_phrase_that_is_not_understood_is_doubtful_and_most_of_them_unfit() -> None:
    one, _ = checked("yes", Silence(), *ALL[1:])
    assert of("the phrases", one).fitness is Fitness.DOUBTFUL
    most, _ = checked("yes", *[Silence()] * 4, *ALL[4:])
    assert of("the phrases", most).fitness is Fitness.UNFIT


@pytest.mark.parametrize(
    "replies",
    [
        (Silence(), *ALL[1:]),
        ("one and two open", *ALL[1:]),
        (*[Silence()] * 6, Silence()),
        ("one and two open", "five closed", "clockwise", Silence(), Silence(), Silence()),
    ],
)
def test_what_is_to_be_done_about_the_phrases_is_told_and_is_short(
    replies: tuple[str | Silence, ...],
) -> None:
    found = of("the phrases", checked("yes", *replies)[0])
    assert found.fitness is not Fitness.FIT
    assert "Bring the headset nearer" in found.says
    assert len(found.says.split()) <= 33  # 12 seconds at 165 words a minute


def test_hold_that_is_missed_twice_is_no_start_and_the_remedy_is_told() -> None:
    findings, voice = checked("yes", *ALL[:5], Silence(), Silence())
    assert voice.said[-1] == "Once more, say: hold."
    hold = of("the word hold", findings)
    assert hold.fitness is Fitness.UNFIT
    assert all(remedy in hold.says for remedy in ("headset", "quieter place", "pedal", "--talk"))
    assert conclusion(findings).says == "Do not start with this. It is unfit: the word hold."


def test_hold_that_is_taken_for_another_phrase_is_missed() -> None:
    findings, _ = checked("yes", *ALL[:5], "one and two open", "one and two open")
    assert of("the word hold", findings).fitness is Fitness.UNFIT


def test_hold_that_is_heard_the_second_time_is_doubtful_and_asked_for_no_more() -> None:
    findings, voice = checked("yes", *ALL[:5], Silence(), "hold", "hold")
    assert of("the word hold", findings).fitness is Fitness.DOUBTFUL
    assert sum("hold" in said for said in voice.said) == 2
    assert conclusion(findings).fitness is Fitness.DOUBTFUL


def test_hold_that_is_heard_and_other_phrases_that_are_not_are_not_asked_for_again() -> None:
    findings, voice = checked("yes", Silence(), *ALL[1:])
    assert of("the word hold", findings).fitness is Fitness.FIT
    assert voice.said[-1] == "Say: hold."


@pytest.mark.parametrize(
    ("reply", "fitness"),
    [("no", Fitness.UNFIT), ("yes", Fitness.FIT), (Silence(), Fitness.DOUBTFUL)],
)
def test_silence_confirms_no_clock(reply: str | Silence, fitness: Fitness) -> None:
    assert of("the clock", checked(reply, *ALL)[0]).fitness is fitness


def test_the_noise_is_judged_where_nobody_was_heard_too() -> None:
    """Noise of RMS 0.01: 20 log10(0.01) = -40 dB, by the definition of the decibel."""
    findings, _ = checked("yes", *[Silence()] * 7, level=0.01)
    assert "minus 40 decibels" in of("the noise", findings).says


class SoundingEars(FakeEars):
    """Gives each reply with the sound in which it was heard."""

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        reply = super().listen(grammar, patience)
        return replace(reply, samples=spoken_like()) if isinstance(reply, Spoken) else reply


@pytest.mark.parametrize(
    ("level", "says", "fitness"),
    [
        (0.0, "could not be measured", Fitness.DOUBTFUL),
        (0.001, "stands 40 decibels", Fitness.FIT),
        (0.1, "fewer than 5", Fitness.UNFIT),
    ],
)
def test_the_phrases_are_set_against_the_noise_of_the_place(
    level: float, says: str, fitness: Fitness
) -> None:
    """Speech of -20 dB beside nothing, beside -60 dB and beside -20 dB."""
    sound = wav.Sound(np.ones(SAMPLE_RATE, np.float32), SAMPLE_RATE)
    ears = SoundingEars(["yes", *ALL])
    check_up = CheckUp(FakeVoice(), FakeSoundSource(hiss(level)), ears, None, sound)
    found = of("the noise", check_up.run(NOON))
    assert says in found.says
    assert found.fitness is fitness


def test_a_microphone_that_stays_silent_is_unfit() -> None:
    findings, _ = checked(*[Silence()] * 8, level=0.0)
    assert of("the microphone", findings).fitness is Fitness.DOUBTFUL
    assert conclusion(findings).fitness is Fitness.UNFIT


def test_a_clock_that_lost_its_battery_is_found() -> None:
    assert check_clock(datetime(1970, 1, 1), NOON).fitness is Fitness.UNFIT
    assert check_clock(NOON + timedelta(days=1), NOON).fitness is Fitness.FIT


@pytest.mark.parametrize(
    ("free", "fitness"), [(5e6, Fitness.UNFIT), (1e8, Fitness.DOUBTFUL), (1e9, Fitness.FIT)]
)
def test_the_room_on_the_disk(
    free: float, fitness: Fitness, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usage = SimpleNamespace(free=int(free))
    monkeypatch.setattr("assistant.kit.disk.shutil.disk_usage", lambda _: usage)
    assert check_disk(tmp_path / "not" / "there" / "yet").fitness is fitness


def test_a_folder_at_which_one_may_not_look_is_no_place_for_jobs(tmp_path: Path) -> None:
    found = check_disk(tmp_path / TOO_LONG)
    assert found.fitness is Fitness.UNFIT
    assert "cannot be opened" in found.says


def test_what_is_spoken_is_short() -> None:
    """At 165 words a minute twelve seconds are 33 words."""
    findings, voice = checked("yes", *[Silence()] * 7)
    said = [*voice.said, *(one.says for one in findings), conclusion(findings).says]
    assert max(len(text.split()) for text in said) <= 33
