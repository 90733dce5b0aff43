"""Talk that has nothing to do with the job: several people at once, or one after the other.

The sentences of one part are not those of the other.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.speech.ears import Samples
from tests.bench import human
from tests.bench.mixing import active_level, of_unit_level
from tests.bench.noises import Maker
from tests.bench.parts import Part
from tests.bench.voices import Speakers, Voice

__all__ = ["MOST_PEOPLE", "SENTENCES", "babble", "people", "talk"]

AT_ONCE = 6
"""How many people talk at once in babble."""

MOST_PEOPLE = 9
"""How many synthetic voices talk, the first of a part; a calibration hears all of its part's."""

SENTENCES = {
    Part.DEVELOPMENT: (
        "The bus from the harbour was late again this morning.",
        "My sister keeps three hens and a very old goat.",
        "Did anybody see the football last night?",
        "We should order more coffee before the weekend.",
        "The weather forecast promises rain until Thursday.",
        "He said he would bring the ladder back on Monday.",
        "There is a new bakery across from the station.",
        "I never liked the colour of that kitchen.",
        "Put the boxes next to the fridge, please.",
        "She learned to swim when she was thirty.",
        "The train to the coast takes about two hours.",
        "Nobody told me that the meeting was moved.",
        "My phone needs charging, have you got a cable?",
        "They are painting the fence green this summer.",
        "It was the best soup I have eaten in years.",
        "The dog slept through the whole thunderstorm.",
    ),
    Part.TEST: (
        "Our neighbour plays the trumpet every Sunday.",
        "Could you pass me the newspaper when you are finished?",
        "The children built a boat out of an old door.",
        "I think the soup could do with a little salt.",
        "Last year we walked along the river for a week.",
        "The canteen closes early on Fridays.",
        "My cousin drives a lorry between the two ports.",
        "What time does the library shut today?",
        "She has lost her umbrella for the third time.",
        "They moved the clock from the hall to the office.",
        "The apples on that tree are never sweet.",
        "We could take turns to water the plants.",
        "He repaired the bicycle with a piece of wire.",
        "I would rather stay at home and read tonight.",
        "The old cinema is going to be a swimming pool.",
        "Somebody left the window wide and the rain came in.",
        "You can see the whole valley from up there.",
        "The first of May falls on a Wednesday.",
    ),
}
"""Invented sentences, none a reply."""


def talk(part: Part, speakers: Speakers, voices: Sequence[Voice]) -> list[list[Samples]]:
    """Every sentence of a part in every voice, a list for each voice."""
    return [[speakers.say(text, voice) for text in SENTENCES[part]] for voice in voices]


def people(
    part: Part, speakers: Speakers, voices: Sequence[Voice], speech: Path | None
) -> list[list[Samples]]:
    """What each of the voices can say; and what a human can, where a folder of speech is given."""
    recorded = [[samples for _text, samples in human.unrelated(part, speech)]] if speech else []
    return talk(part, speakers, voices) + recorded


def babble(talking: Sequence[Sequence[Samples]]) -> Maker:
    """A noise of `AT_ONCE` people who talk at once without a pause, each as loud as the others.

    Args:
        talking: what each person can say, at least one sentence.
    """

    def made(length: int, seed: int) -> Samples:
        chance = random.Random(seed)
        chosen = [talking[at] for at in _some(len(talking), chance)]
        total = np.sum([_monologue(sentences, length, chance) for sentences in chosen], axis=0)
        return of_unit_level(total)

    return made


def _some(count: int, chance: random.Random) -> Iterator[int]:
    """Which people: all before anybody a second time."""
    order = list(range(count))
    chance.shuffle(order)
    yield from (order * AT_ONCE)[:AT_ONCE]


def _monologue(sentences: Sequence[Samples], length: int, chance: random.Random) -> Samples:
    """Sentence after sentence, begun in the midst of one, cut to the length."""
    said: list[Samples] = []
    skipped = -1
    while sum(map(len, said)) - max(skipped, 0) < length:
        sentence = chance.choice(sentences)
        if skipped < 0:
            skipped = chance.randrange(len(sentence))
        said.append(np.asarray(sentence / active_level(sentence), np.float32))
    return np.concatenate(said)[skipped : skipped + length]
