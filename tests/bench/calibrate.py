"""Fit how far a reading may be believed: ``python -m tests.bench.calibrate --voices FOLDER``.

Every case of the development part is heard, and a logistic regression is fitted to what was
measured of each best reading and whether it was right. It writes `calibration.yaml`, which the
program reads, and prints the fit in bins. Cases of which no reading can be right are talk, noises,
and replies heard under the grammar of another question.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import yaml
from numpy.typing import NDArray

from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.confidence import BOUNDS, FILE, Calibration, Evidence
from assistant.speech.moonshine.recogniser import Moonshine
from tests.bench.cases import groups
from tests.bench.conditions import CLEAN, Condition
from tests.bench.noises import MACHINES, Maker
from tests.bench.parts import Part, seed
from tests.bench.replies import sample
from tests.bench.tables import in_bins
from tests.bench.talk import babble, people, talk
from tests.bench.voices import VOICES, Speakers

LEVEL = 0.8
"""A reading is believed from here on: to be asked again is better than to be misheard."""

CONDITIONS = (
    CLEAN,
    *(Condition(name, 10.0) for name in ("pink", "hum", "impacts", "babble")),
    *(Condition(name, 5.0) for name in ("pink", "babble")),
)

OTHERS = 120
"""Replies to other questions."""

NOISES = 80
"""Stretches of noise or babble alone, half a second to three long."""

SHARE_OF_NO_REPLIES = 0.2
"""Of what is heard while the program listens to a question, in a job; common practice, no source.
Cases count so much that those without a reply are this share of all."""

HEADER = "# How far a reading may be believed (see confidence.py). Written by {}.\n"

_PART = Part.DEVELOPMENT
_Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard, whether a reply was said, and whether the best reading was it."""

    evidence: Evidence
    is_reply: bool
    right: bool


def hear(
    recogniser: Moonshine, samples: Samples, grammar: Grammar, said: Meaning | None
) -> Heard | None:
    """Hear one case; None where there is no reading with a meaning."""
    evidence = recogniser.weigh(np.clip(samples, -1.0, 1.0), grammar)
    if evidence is None or evidence.best.meaning is None:
        return None
    right = evidence.best.meaning == said
    return Heard(evidence, said is not None, right)


def replies(
    speakers: Speakers, most: int, speech: Path | None, makers: dict[str, Maker]
) -> Iterator[tuple[Samples, Grammar, Meaning | None]]:
    """Everything that the groups of the benchmark hold, under a condition each."""
    for group in groups(_PART, speakers, most, speech):
        print(group.name, file=sys.stderr)
        for number, item in enumerate(group.items):
            condition = CONDITIONS[number % len(CONDITIONS)]
            chosen = seed(_PART, "calibrate", str(condition), item.label)
            yield condition.heard(item.sound(), chosen, makers), item.grammar, item.said


def no_replies(
    speakers: Speakers, makers: dict[str, Maker]
) -> Iterator[tuple[Samples, Grammar, Meaning | None]]:
    """Replies under the grammar of another question, talk, and noises alone."""
    chance = random.Random(1)
    questions = sample(60, 7)
    for said in sample(OTHERS, 8):
        under = chance.choice(questions).grammar
        if under.parse(said.text) is None:
            yield speakers.say(said.text, chance.choice(VOICES[_PART])), under, None
    for sentences in talk(_PART, speakers, VOICES[_PART]):
        for samples in chance.sample(sentences, 6):
            yield samples, chance.choice(questions).grammar, None
    for number in range(NOISES):
        make = chance.choice(list(makers.values()))
        noise = make(int(chance.uniform(0.5, 3.0) * SAMPLE_RATE), 2 * number)
        level = np.float32(chance.choice((0.01, 0.05, 0.2)))
        yield level * noise, chance.choice(questions).grammar, None


def fitted(heard: list[Heard]) -> _Values:
    """Offset and weights by Newton's method, with a small penalty on the weights."""
    values = np.array([(1.0, *one.evidence.measured().values()) for one in heard])
    right = np.array([one.right for one in heard], np.float64)
    counted = _counted(heard)
    weights = np.zeros(values.shape[1])
    penalty = 0.01 * np.diag([0.0, *np.ones(len(weights) - 1)])
    for _ in range(50):
        believed = 1.0 / (1.0 + np.exp(-values @ weights))
        slope = values.T @ (counted * (believed - right)) + penalty @ weights
        bend = (values.T * (counted * believed * (1.0 - believed))) @ values + penalty
        weights -= np.linalg.solve(bend, slope)
    return weights


def _counted(heard: list[Heard]) -> _Values:
    """How much each case counts."""
    replies = np.array([one.is_reply for one in heard])
    of_replies = (1.0 - SHARE_OF_NO_REPLIES) / replies.mean()
    of_others = SHARE_OF_NO_REPLIES / (1.0 - replies.mean())
    return np.asarray(np.where(replies, of_replies, of_others))


def write(calibration: Calibration) -> None:
    """The calibration file."""
    kept = {
        "fitted-on": calibration.fitted_on,
        "level": calibration.level,
        "offset": calibration.offset,
        "weights": dict(calibration.weights),
    }
    text = yaml.safe_dump(kept, sort_keys=False, width=100)
    FILE.write_text(HEADER.format("tests/bench/calibrate.py") + text, encoding="utf-8")


def told(heard: list[Heard], calibration: Calibration) -> Iterator[str]:
    """Stated and observed rates, each case counted as in the fit, and what each level lets in."""
    stated = np.array([calibration.confidence(one.evidence) for one in heard])
    right = np.array([one.right for one in heard])
    yield from in_bins(stated, right, _counted(heard))
    for level in (0.5, 0.6, 0.7, 0.8, 0.9):
        believed = [one for one, how in zip(heard, stated, strict=True) if how >= level]
        wrong = [one for one in believed if not one.right]
        replies = sum(one.is_reply for one in wrong)
        yield f"at {level}: {len(believed)} believed, {len(wrong)} wrong, {replies} of them replies"


def main() -> None:
    """Hear, fit, print and write."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--voices", type=Path, required=True, help="folder of what was said")
    options.add_argument("--speech", type=Path, help="folder of human speech")
    options.add_argument("--cache", type=Path, help="folder of the non-speech prior")
    options.add_argument("--limit", type=int, default=280, help="cases of each group")
    chosen = options.parse_args()
    speakers = Speakers(chosen.voices)
    talking = people(_PART, speakers, VOICES[_PART], chosen.speech)
    makers = {**MACHINES, "babble": babble(talking)}
    recogniser = Moonshine.load(models_folder() / "moonshine-tiny-en", chosen.cache)
    cases = [
        *replies(speakers, chosen.limit, chosen.speech, makers),
        *no_replies(speakers, makers),
    ]
    heard = [one for case in cases if (one := hear(recogniser, *case)) is not None]
    offset, *weights = (round(float(weight), 4) for weight in fitted(heard))
    human_too = ", human words and sentences of that part" if chosen.speech else ""
    fitted_on = (
        f"{len(cases)} cases of the benchmark's development part, of which {len(heard)} had a "
        f"reading: replies in {len(VOICES[_PART])} synthetic voices{human_too}, clean and in pink "
        "noise, hum, impacts and babble at 10 dB, pink noise and babble at 5 dB; replies to other "
        f"questions, talk and noises alone, counted as {SHARE_OF_NO_REPLIES:.0%}"
    )
    calibration = Calibration(fitted_on, LEVEL, offset, dict(zip(BOUNDS, weights, strict=True)))
    print("\n".join(told(heard, calibration)))
    write(calibration)


if __name__ == "__main__":
    main()
