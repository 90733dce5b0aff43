"""Fit how far a reading may be believed: ``python -m tests.bench.calibrate --voices FOLDER``.

Every case of the development part is heard, and a logistic regression is fitted to what was
measured of each best reading and whether it was right. All are heard a second time, slower, and
another is fitted to what both hearings give of those that were doubtful. It writes
`calibration.yaml`, which the program reads, and prints the fit in bins. Some of the replies are
said by strangers, from whom the speller has not learnt (`strangers`): on voices that it knows it
seems better than it is. Cases of which no reading can be right are talk, noises, and replies heard
under the grammar of another question.
"""

from __future__ import annotations

import argparse
import hashlib
import itertools
import pickle
import random
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Self

import numpy as np
import yaml
from numpy.typing import NDArray

from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.confidence import BOUNDS, FILE, Calibration, Evidence
from assistant.speech.moonshine.readings import Reading
from assistant.speech.moonshine.recogniser import Moonshine
from assistant.speech.moonshine.rival import Rival
from assistant.speech.moonshine.second_hearing import BothHearings, is_doubtful, slower
from assistant.speech.moonshine.speller.network import OF_BANDS, OF_ENCODER
from tests.bench.cases import JOB, Item, groups
from tests.bench.conditions import CLEAN, Condition
from tests.bench.noises import MACHINES, Maker
from tests.bench.parts import Part, seed
from tests.bench.replies import sample
from tests.bench.strangers import STRANGERS, heard_of_strangers
from tests.bench.tables import in_bins
from tests.bench.talk import babble, people, talk
from tests.bench.voices import VOICES, Speakers

LEVEL = 0.85
"""A reading is believed from here on: to be asked again is better than to be misheard. Of 4,279
development replies, by a fit on other people, 3,920 were believed and right and 8 believed and not
what was said, and of 724 sounds that were no reply 13; at 0.9 3,880, 8 and 11, at 0.8 3,941, 8 and
19."""

CONDITIONS = (
    CLEAN,
    *(Condition(name, ratio) for name in (*MACHINES, "babble") for ratio in (10.0, 5.0)),
    *map(Condition, ("small hard room", "clipped")),
)

CONDITIONS_OF_A_JOB = (0, 1, 3, 7, 10)
"""A reply of a job is heard under five of the conditions, so far from its first: those are the
replies that count in the end, and long ones are rare among all others."""

LEVELS = (0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95)
"""Of which is shown what would be believed."""

OTHERS = 120
"""Replies to other questions."""

NOISES = 80
"""Stretches of noise or babble alone, half a second to three long."""

SHARE_OF_NO_REPLIES = 0.2
"""Of what is heard while the program listens to a question, in a job; common practice, no source.
Cases count so much that those without a reply are this share of all."""

FROM_STRANGERS = "strangers"
"""Stands before what they said."""

HEADER = "# How far a reading may be believed (see confidence.py). Written by {}.\n"

_PART = Part.DEVELOPMENT
_Values = NDArray[np.float64]
_Weights = tuple[_Values, _Values]
"""Offset and weights for a single hearing, and for two."""


Hearing = tuple[list[Reading], Rival]
"""All readings that were considered, and the best sentence without a grammar."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard of a case.

    Args:
        label: what was said, by whom, and under which condition.
        person: who said it.
        first: what the first hearing found.
        second: what the second found.
        said: what was meant; None where it was no reply.
    """

    label: str
    person: str
    first: Hearing
    second: Hearing
    said: Meaning | None

    @property
    def evidence(self) -> Evidence | None:
        """For the best reading of the first hearing; None where it means nothing."""
        evidence = _evidence(self.first)
        return None if evidence is None or evidence.best.meaning is None else evidence


@dataclass(frozen=True, slots=True)
class Told:
    """What a case tells.

    Args:
        evidence: for the best reading of the first hearing.
        again: for that of the second, whatever it is.
        person: by whom it was said.
        is_reply: whether it was meant as a reply to this question.
        is_stranger: whether the speller has not learnt from this person.
        right: whether the best reading of the first hearing is what was said.
    """

    evidence: Evidence
    again: Evidence | None
    person: str
    is_reply: bool
    is_stranger: bool
    right: bool

    @classmethod
    def of(cls, heard: Heard) -> Self:
        """Of a case of which the best reading means something."""
        evidence = heard.evidence
        if evidence is None:
            raise ValueError(f"{heard.label}: no reading")
        right = heard.said is not None and evidence.best.meaning == heard.said
        is_stranger = heard.label.startswith(FROM_STRANGERS)
        return cls(
            evidence,
            _evidence(heard.second),
            heard.person,
            heard.said is not None,
            is_stranger,
            right,
        )

    def heard_again(self) -> Evidence | None:
        """The evidence of the second hearing, as the program asks for it."""
        return self.again


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """What is heard.

    Args:
        label: what was said, by whom, and under which condition.
        person: who said it.
        samples: the sound.
        grammar: under which it is heard.
        said: what was meant; None where it was no reply.
    """

    label: str
    person: str
    samples: Samples
    grammar: Grammar
    said: Meaning | None

    @classmethod
    def of(cls, kind: str, item: Item, condition: Condition, samples: Samples) -> Self:
        """Of an item under a condition."""
        label = f"{kind}: {item.label} in {condition}"
        return cls(label, item.person, samples, item.grammar, item.said)


def replies(
    speakers: Speakers, most: int, speech: Path | None, makers: dict[str, Maker]
) -> Iterator[Case]:
    """Everything that the groups of the benchmark hold, those of jobs under several conditions."""
    for group in groups(_PART, speakers, most, speech):
        print(group.name, file=sys.stderr)
        turns = CONDITIONS_OF_A_JOB if group.name == JOB else (0,)
        for (number, item), turn in itertools.product(enumerate(group.items), turns):
            condition = CONDITIONS[(number + turn) % len(CONDITIONS)]
            chosen = seed(_PART, "calibrate", str(condition), item.label)
            samples = condition.heard(item.sound(), chosen, makers)
            yield Case.of(group.name, item, condition, samples)


def of_strangers(speakers: Speakers, speech: Path | None) -> Iterator[Case]:
    """Replies of people from whom the speller has not learnt."""
    print(FROM_STRANGERS, file=sys.stderr)
    for item, condition, samples in heard_of_strangers(CONDITIONS, speakers, speech):
        yield Case.of(FROM_STRANGERS, item, condition, samples)


def no_replies(speakers: Speakers, makers: dict[str, Maker]) -> Iterator[Case]:
    """Replies under the grammar of another question, talk, and noises alone."""
    chance = random.Random(1)
    questions = sample(60, 7)
    for said in sample(OTHERS, 8):
        under = chance.choice(questions).grammar
        if under.parse(said.text) is None:
            voice = chance.choice(VOICES[_PART])
            sound = speakers.say(said.text, voice)
            yield Case(f"elsewhere: {said.text} ({voice})", str(voice), sound, under, None)
    for sentences in talk(_PART, speakers, VOICES[_PART]):
        for samples in chance.sample(sentences, 6):
            yield Case("talk", "talk", samples, chance.choice(questions).grammar, None)
    for number in range(NOISES):
        make = chance.choice(list(makers.values()))
        noise = make(int(chance.uniform(0.5, 3.0) * SAMPLE_RATE), 2 * number)
        level = np.float32(chance.choice((0.01, 0.05, 0.2)))
        yield Case("noise", "noise", level * noise, chance.choice(questions).grammar, None)


def fitted(told: Sequence[Told]) -> _Weights:
    """Offset and weights of a single hearing, and of two."""
    right = np.array([one.right for one in told], np.float64)
    counted = _counted(told)
    measured = [list(one.evidence.measured().values()) for one in told]
    alone = _regression(np.array(measured), right, counted)
    calibration = _calibration("", "", (alone, np.zeros(3)))
    doubtful = np.array([is_doubtful(calibration.confidence_by_one(one.evidence)) for one in told])
    both = [calibration.ordered(one.evidence, one.again) for one in told]
    together = _regression(np.array(both)[doubtful], right[doubtful], counted[doubtful])
    return alone, together


def _regression(values: _Values, right: _Values, counted: _Values) -> _Values:
    """Offset and weights by Newton's method, with a small penalty on the weights.

    Args:
        values: what was measured, shape (cases, values).
        right: whether each was right, 0 or 1.
        counted: how much each counts.
    """
    values = np.column_stack([np.ones(len(values)), values])
    weights = np.zeros(values.shape[1])
    penalty = 0.01 * np.diag([0.0, *np.ones(len(weights) - 1)])
    for _ in range(50):
        believed = 1.0 / (1.0 + np.exp(-values @ weights))
        slope = values.T @ (counted * (believed - right)) + penalty @ weights
        bend = (values.T * (counted * believed * (1.0 - believed))) @ values + penalty
        weights -= np.linalg.solve(bend, slope)
    return weights


def stated_by_others(told: Sequence[Told]) -> _Values:
    """The confidence in each case by a fit on the cases of all other people."""
    stated = np.zeros(len(told))
    for person in {one.person for one in told}:
        calibration = _calibration("", "", fitted([one for one in told if one.person != person]))
        for at, one in enumerate(told):
            if one.person == person:
                stated[at] = calibration.confidence(one.evidence, one.heard_again)
    return stated


def _evidence(hearing: Hearing) -> Evidence | None:
    readings, rival = hearing
    return Evidence.of(sorted(readings, key=lambda one: one.score, reverse=True), rival)


def _counted(told: Sequence[Told]) -> _Values:
    """How much each case counts."""
    replies = np.array([one.is_reply for one in told])
    of_replies = (1.0 - SHARE_OF_NO_REPLIES) / replies.mean()
    of_others = SHARE_OF_NO_REPLIES / (1.0 - replies.mean())
    return np.asarray(np.where(replies, of_replies, of_others))


def _calibration(encoder: str, fitted_on: str, fit: _Weights) -> Calibration:
    (offset, *alone), both = ([round(float(weight), 4) for weight in one] for one in fit)
    weights = dict(zip(BOUNDS, alone, strict=True))
    return Calibration(encoder, fitted_on, LEVEL, offset, weights, BothHearings(*both))


def _digest(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


def write(calibration: Calibration) -> None:
    """The calibration file, with the networks that spelled what it was fitted on."""
    kept = {
        "encoder": calibration.encoder,
        "networks": {file.stem: _digest(file) for file in (OF_BANDS, OF_ENCODER)},
        "fitted-on": calibration.fitted_on,
        "level": calibration.level,
        "offset": calibration.offset,
        "weights": dict(calibration.weights),
        "both hearings": {
            "offset": calibration.both.offset,
            "less sure": calibration.both.less_sure,
            "surer": calibration.both.surer,
        },
    }
    text = yaml.safe_dump(kept, sort_keys=False, width=100)
    FILE.write_text(HEADER.format("tests/bench/calibrate.py") + text, encoding="utf-8")


def shown(told: Sequence[Told], stated: _Values) -> Iterator[str]:
    """Stated and observed rates, each case counted as in the fit, and what each level lets in."""
    yield from in_bins(stated, np.array([one.right for one in told]), _counted(told))
    yield "| level | right of strangers | wrong | right of others | wrong | no replies |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: |"
    for level in LEVELS:
        believed = [one for one, how in zip(told, stated, strict=True) if how >= level]
        strangers = [one.right for one in believed if one.is_stranger]
        others = [one.right for one in believed if one.is_reply and not one.is_stranger]
        none = sum(not one.is_reply for one in believed)
        rates = (one.count(right) for one in (strangers, others) for right in (True, False))
        yield f"| {level} | {' | '.join(map(str, rates))} | {none} |"


def hear(recogniser: Moonshine, cases: Iterable[Case]) -> Iterator[Heard]:
    """Hear every case twice."""
    for case in cases:
        clipped = np.clip(case.samples, -1.0, 1.0)
        first = recogniser.readings(clipped, case.grammar)
        second = recogniser.readings(slower(clipped), case.grammar)
        yield Heard(case.label, case.person, first, second, case.said)


def refuse_to_do_without(speakers: Speakers) -> None:
    """Say at once which engines or voices are missing: a fit on fewer people is another one.

    Raises:
        SystemExit: some are.
    """
    wanted = {*VOICES[_PART], *STRANGERS}
    lacking = wanted - {*speakers.able(tuple(wanted))}
    if lacking:
        names = ", ".join(sorted(map(str, lacking)))
        sys.exit(f"These voices are not installed (see tests/bench/engines.py): {names}.")


def main() -> None:
    """Hear, fit, print and write."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--voices", type=Path, help="folder of what was said")
    options.add_argument("--speech", type=Path, help="folder of human speech")
    options.add_argument("--cache", type=Path, help="folder of the non-speech prior")
    options.add_argument("--limit", type=int, default=520, help="cases of each group")
    options.add_argument("--kept", type=Path, help="file in which to keep, or find, what was heard")
    chosen = options.parse_args()
    model = models_folder() / "moonshine-tiny-en"
    if chosen.kept and chosen.kept.exists():
        heard = pickle.loads(chosen.kept.read_bytes())
    elif chosen.voices is None:
        options.error("--voices: a folder is needed to hear anything")
    else:
        speakers = Speakers(chosen.voices)
        refuse_to_do_without(speakers)
        talking = people(_PART, speakers, VOICES[_PART], chosen.speech)
        makers = {**MACHINES, "babble": babble(talking)}
        cases = itertools.chain(
            replies(speakers, chosen.limit, chosen.speech, makers),
            of_strangers(speakers, chosen.speech),
            no_replies(speakers, makers),
        )
        heard = list(hear(Moonshine.load(model, chosen.cache), cases))
        if chosen.kept:
            chosen.kept.write_bytes(pickle.dumps(heard))
    told = [Told.of(one) for one in heard if one.evidence]
    of_people = any(one.label.startswith("human words") for one in heard)
    human_too = ", human words and sentences of that part" if of_people else ""
    fitted_on = (
        f"{len(heard)} cases of the benchmark's development part, of which {len(told)} had a "
        f"reading: replies in {len(VOICES[_PART])} synthetic voices{human_too}, and "
        f"{sum(one.is_stranger for one in told)} replies by people from whom the speller has not "
        "learnt, clean, in pink noise, hum, impacts, hiss and babble at 10 and 5 dB, in a room and "
        "clipped; replies to other questions, talk and noises alone, counted as "
        f"{SHARE_OF_NO_REPLIES:.0%}"
    )
    encoder = _digest(model / "encoder_model.ort")
    print("Each person by a fit on the others:")
    print("\n".join(shown(told, stated_by_others(told))))
    write(_calibration(encoder, fitted_on, fitted(told)))


if __name__ == "__main__":
    main()
