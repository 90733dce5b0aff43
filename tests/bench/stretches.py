"""Long stretches of sound in which nobody answers, and what the ear takes for a reply in them.

A stretch is played to the microphone's ears, which listen again and again, each time under the
grammar of a step, drawn as often as the step asks in jobs. So what counts is what would reach the
session in an hour, were it always listening.
"""

from __future__ import annotations

import itertools
import math
import random
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.devices.endpoint import Detector
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.ears import SAMPLE_RATE, Recogniser, Samples, Spoken
from assistant.speech.errors import DeviceError
from assistant.speech.fakes import FakeSoundSource
from tests.bench.cases import Case, Item, kept
from tests.bench.conditions import CLEAN
from tests.bench.mixing import active_level
from tests.bench.noises import MACHINES, Maker, pink
from tests.bench.outcomes import Outcome, outcome
from tests.bench.parts import Part, seed
from tests.bench.replies import replies

__all__ = ["STRETCH", "STRETCHES", "Timed", "listened", "per_hour", "stretch"]

CONVERSATION = 0.03
"""RMS of conversation beside the microphone, and of the machines [1 is full scale]."""

STRETCH = "stretch of "
"""How the names of their groups begin."""

STRETCHES = ("unrelated speech", "babble", "machine noise")


def stretch(
    kind: str,
    part: Part,
    minutes: float,
    people: Sequence[Sequence[Samples]],
    makers: Mapping[str, Maker],
) -> Samples:
    """A stretch of one of the `STRETCHES`.

    Args:
        kind: which.
        part: whose seeds.
        minutes: how long.
        people: what each person can say; one after the other, with pauses.
        makers: of the noises, by name.
    """
    length = int(minutes * 60 * SAMPLE_RATE)
    chosen = seed(part, "stretch", kind)
    match kind:
        case "unrelated speech":
            return _talk(length, people, random.Random(chosen))
        case "babble":
            return np.float32(CONVERSATION) * makers["babble"](length, chosen)
    each = length // len(MACHINES) + 1
    machines = [maker(each, chosen + 2 * at) for at, maker in enumerate(MACHINES.values())]
    return np.float32(CONVERSATION) * np.concatenate(machines)[:length]


def _talk(length: int, people: Sequence[Sequence[Samples]], chance: random.Random) -> Samples:
    """Sentences with pauses of 0.5 to 3 s, in pink noise 30 dB below them."""
    sound = np.float32(0.03 * CONVERSATION) * pink(length, chance.randrange(2**32))
    at = 0
    while at < length:
        sentence = chance.choice(chance.choice(people))[: length - at]
        sound[at : at + len(sentence)] += sentence * np.float32(
            CONVERSATION / max(active_level(sentence), 1e-6)
        )
        at += len(sentence) + int(chance.uniform(0.5, 3.0) * SAMPLE_RATE)
    return sound


def listened(
    kind: str, sound: Samples, part: Part, detector: Detector, timed: Timed
) -> Iterator[Outcome]:
    """What an ear at the microphone gives the session while a stretch is played to it.

    Args:
        kind: of the stretch.
        sound: the stretch.
        part: whose seeds.
        detector: tells speech from noise.
        timed: the ear.
    """
    chance = random.Random(seed(part, "grammar", kind))
    asked, weights = list(replies()), list(replies().values())
    blocks = (sound[at : at + BLOCK] for at in range(0, len(sound) - BLOCK, BLOCK))
    ears = MicrophoneEars(FakeSoundSource(blocks), detector, timed)
    for number in itertools.count():
        said = chance.choices(asked, weights)[0]
        timed.taken = 0.0
        try:
            reply = ears.listen(said.grammar, patience=math.inf)
        except DeviceError:
            return  # the stretch is over
        if isinstance(reply, Spoken):
            label = f"utterance {number} under {type(said.question).__name__}"
            item = Item(label, kind, said.grammar, None, partial(kept, sound))
            case = Case(f"{STRETCH}{kind}", item, CLEAN, sound)
            yield outcome(timed.name, case, reply.recognition, timed.taken)


@dataclass(slots=True)
class Timed:
    """A recogniser, and the seconds that it took.

    Args:
        name: by which it is known in the tables.
        ear: the recogniser.
        taken: seconds since this was last set to zero.
    """

    name: str
    ear: Recogniser
    taken: float = 0.0

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """Whatever the ear makes of it."""
        begun = time.perf_counter()
        heard = self.ear.recognise(samples, grammar)
        self.taken += time.perf_counter() - begun
        return heard


def per_hour(outcomes: Sequence[Outcome], minutes: float, ears: Iterable[str]) -> Iterator[str]:
    """The table of false replies.

    Args:
        outcomes: of whole stretches, all of them.
        minutes: how long each was.
        ears: who listened.
    """
    yield "| stretch | ear | minutes | utterances | taken for a reply | an hour |"
    yield "| --- | --- | ---: | ---: | ---: | ---: |"
    for kind, ear in itertools.product(STRETCHES, ears):
        mine = [one for one in outcomes if (one.group, one.ear) == (STRETCH + kind, ear)]
        wrong = sum(one.verdict == "wrong" for one in mine)
        hourly = wrong * 60 / minutes
        yield f"| {kind} | {ear} | {minutes:g} | {len(mine)} | {wrong} | {hourly:.1f} |"
