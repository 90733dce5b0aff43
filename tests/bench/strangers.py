"""Development speech of people from whom the speller has not learnt.

It has learnt from every voice of the development part, in babble of these voices. How far it may
be believed with somebody else can only be told on others: variants of espeak-ng's voices and
speakers of kokoro's that are in no lesson, and the human words, all in babble of such voices that
say sentences of their own.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path

from assistant.speech.ears import Samples
from tests.bench import human
from tests.bench.cases import Item, groups
from tests.bench.conditions import Condition
from tests.bench.noises import MACHINES, Maker
from tests.bench.parts import Part, seed
from tests.bench.replies import sample
from tests.bench.talk import babble
from tests.bench.voices import Speakers, Voice

__all__ = ["STRANGERS", "heard_of_strangers", "noises_of_strangers"]

_PART = Part.DEVELOPMENT


_VARIANTS = (
    "en-us+Alex",
    "en-gb+Alicia",
    "en-gb-scotland+paul",
    "en-029+linda",
    "en-us-nyc+Michael",
    "en-gb-x-rp+edward",
    "en-gb-x-gbclan+victor",
    "en-us+quincy",
)

_OF_KOKORO = (
    *("af_alloy", "af_nova", "am_adam", "am_puck", "bf_alice", "bf_isabella", "bm_daniel"),
    *("bm_lewis", "ef_dora", "hf_beta", "hm_psi", "zf_xiaoyi", "zm_yunyang"),
)
"""Four Americans, four British, and people from Spain, India and China."""

STRANGERS = (
    *(Voice("espeak-ng", name) for name in _VARIANTS),
    *(Voice("kokoro", name) for name in _OF_KOKORO),
)

SENTENCES = (
    "Her brother works in a bank near the old market.",
    "We took the ferry because the bridge was shut.",
    "How much did you pay for that jacket?",
    "The cat has been asleep on my chair all day.",
    "It takes a good hour to walk up to the castle.",
    "Remember to water the tomatoes in the evening.",
    "I would not buy a house so close to the airport.",
    "They danced until the musicians went home.",
    "The plumber wants to come back on Tuesday.",
    "You should have seen the look on his face.",
)
"""Invented, none a reply, none in a lesson."""

REPLIES, WORDS = 60, 25
"""Replies of jobs, and human words, under each condition."""


def noises_of_strangers(speakers: Speakers, speech: Path | None) -> Mapping[str, Maker]:
    """The noises of machines, and babble of strangers."""
    talking = [[speakers.say(text, one) for text in SENTENCES] for one in STRANGERS]
    recorded = [[samples for _, samples in human.unrelated(_PART, speech)]] if speech else []
    return {**MACHINES, "babble": babble(talking + recorded)}


def heard_of_strangers(
    conditions: Sequence[Condition], speakers: Speakers, speech: Path | None
) -> Iterator[tuple[Item, Condition, Samples]]:
    """Replies of strangers under every condition.

    Args:
        conditions: under which.
        speakers: say what the synthetic ones say.
        speech: folder of human speech, if there is one.
    """
    makers = noises_of_strangers(speakers, speech)
    for condition in conditions:
        for item in _items(str(condition), speakers, speech):
            chosen = seed(_PART, "strangers", str(condition), item.label)
            yield item, condition, condition.heard(item.sound(), chosen, makers)


def _items(draw: str, speakers: Speakers, speech: Path | None) -> Iterator[Item]:
    chance = random.Random(draw)
    for said in sample(REPLIES, chance.randrange(2**32)):
        one = chance.choice(STRANGERS)
        asked = type(said.question).__name__ + (", read back" if said.read_back else "")
        label = f"{said.text} ({one}) to {asked}"
        sound = partial(speakers.say, said.text, one)
        yield Item(label, str(one), said.grammar, said.meaning, sound)
    for group in groups(_PART, speakers, 10_000, speech):
        if group.name == "human words that answer":
            yield from chance.sample(group.items, min(WORDS, len(group.items)))
