"""What is to be heard: groups of things said, of which each condition takes a sample.

The sample is the same for each condition of a group, so that conditions are compared on the same
words and voices.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from assistant.language.answers import (
    AskContacts,
    AskDone,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    confirming,
    grammar,
)
from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.speech import wav
from assistant.speech.ears import Samples
from tests.bench import human
from tests.bench.conditions import Condition
from tests.bench.noises import Maker
from tests.bench.parts import Part, seed
from tests.bench.phrases import CHOSEN
from tests.bench.replies import BOOK, Said, replies, sample
from tests.bench.voices import FORMER, VOICES, Speakers, Voice

__all__ = ["JOB", "Case", "Group", "Item", "cases", "groups", "kept"]

JOB = "replies of jobs"
CONTACTS = AskContacts((1, 2, 3, 4))
QUESTIONS: tuple[Question, ...] = (
    CONTACTS,
    AskYesNo(),
    AskRotation(),
    AskNumber("turns"),
    AskSpelling(),
    AskDone(),
)


@dataclass(frozen=True, slots=True)
class Item:
    """Something said, or a sound that is no reply.

    Args:
        label: what it is, and by whom it is said.
        person: who says it, and nobody else is called so; of a sentence of unknown people, itself.
        grammar: under which it is heard.
        said: what was meant; None where it is no reply.
        sound: makes or reads it.
    """

    label: str
    person: str
    grammar: Grammar
    said: Meaning | None
    sound: Callable[[], Samples]


@dataclass(frozen=True, slots=True)
class Group:
    """Items of one kind, in an order by chance: any number from the front is a sample."""

    name: str
    items: Sequence[Item]


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """An item under a condition."""

    group: str
    item: Item
    condition: Condition
    samples: Samples


def groups(
    part: Part, speakers: Speakers, most: int, speech: Path | None, draw: int = 0
) -> list[Group]:
    """The groups of a part, each with at most so many items.

    Args:
        part: whose voices speak.
        speakers: say things.
        most: items to a group.
        speech: the folder of human speech, if there is one.
        draw: which draw of items, for more of them than one run can hear; no item is in two draws
            of the same length. A later draw has rarer replies, so that all up to it are a sample.
    """
    voices = speakers.able(VOICES[part])
    former = speakers.able(FORMER) if part is Part.TEST else voices
    made = [Group(JOB, list(_of_jobs(part, speakers, voices, most, draw)))]
    for name, phrases in CHOSEN.items():
        spoken = [_spoken(said, voice, speakers) for said in phrases for voice in former]
        made.append(Group(name, spoken))
    if speech:
        made += _human(part, speech)
    return [Group(one.name, _drawn(one, most, draw)) for one in made]


def cases(
    group: Group, condition: Condition, part: Part, makers: Mapping[str, Maker]
) -> Iterator[Case]:
    """The items of a group under a condition."""
    for item in group.items:
        chosen = seed(part, str(condition), group.name, item.label)
        samples = condition.heard(item.sound(), chosen, makers)
        yield Case(group.name, item, condition, samples)


def _drawn(group: Group, most: int, draw: int) -> Sequence[Item]:
    if group.name == JOB:
        return group.items  # drawn by chance already
    shuffled = random.Random(group.name).sample(group.items, len(group.items))
    return shuffled[draw * most : (draw + 1) * most]


def _of_jobs(
    part: Part, speakers: Speakers, voices: Sequence[Voice], most: int, draw: int
) -> Iterator[Item]:
    """Pairs of a reply and a voice, none twice."""
    chance = random.Random(str(part))
    drawn: dict[tuple[Said, Voice], None] = {}
    count = min((draw + 1) * most, len(replies()) * len(voices))
    while len(drawn) < count:
        for said in sample(len(voices) * 5, chance.randrange(2**32)):
            drawn[said, chance.choice(voices)] = None
    for said, voice in list(drawn)[draw * most : count]:
        yield _spoken(said, voice, speakers)


def _spoken(said: Said, voice: Voice, speakers: Speakers) -> Item:
    sound = partial(speakers.say, said.text, voice)
    asked = type(said.question).__name__ + (", read back" if said.read_back else "")
    label = f"{said.text} ({voice}) to {asked}"
    return Item(label, str(voice), said.grammar, said.meaning, sound)


def _human(part: Part, folder: Path) -> Iterator[Group]:
    """Human single words and numbers, each under three grammars, and sentences that answer none."""
    answering: list[Item] = []
    others: list[Item] = []
    for file, text in human.words(part, folder):
        for question in (AskYesNo(), AskNumber("turns"), CONTACTS):
            under = grammar(question, BOOK)
            said = under.parse(text)
            label = f"{text} ({file}) under {type(question).__name__}"
            sound = partial(wav.read, folder / file)
            item = Item(label, human.speaker(file), under, said, sound)
            (others if said is None else answering).append(item)
    yield Group("human words that answer", answering)
    yield Group("human words that answer nothing here", others)
    yield Group("unrelated human sentences", list(_unrelated(part, folder)))


def _unrelated(part: Part, folder: Path) -> Iterator[Item]:
    for text, samples in human.unrelated(part, folder):
        for question in QUESTIONS:
            label = f"{text} under {type(question).__name__}"
            yield Item(label, text, grammar(question, BOOK), None, partial(kept, samples))
        label = f"{text} under a read-back"
        yield Item(label, text, confirming(CONTACTS, BOOK), None, partial(kept, samples))


def kept(samples: Samples) -> Samples:
    """The sound of an item that is at hand already."""
    return samples
