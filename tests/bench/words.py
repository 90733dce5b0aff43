"""Which words are taken for which: ``python -m tests.bench.words --help``.

Each word that can stand at a place is said by every voice, clean and in noise, and heard by the
product's own recogniser under the grammar of that place. What counts is the likeliest reading,
believed or not: a reading that is right and not believed is asked again, one that is wrong was a
confusion. ``--confusions`` writes how often each was taken for each, for
`tests.bench.confusions`. ``--rivals`` compares ways to say the same instead (`word_places`).
Voice comes after voice, and Ctrl-C prints the tables of those that are through.
"""

from __future__ import annotations

import argparse
import csv
import itertools
import math
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.language.grammar import Grammar
from assistant.language.meaning import Meaning
from assistant.language.recognition import Recognition
from assistant.speech.ears import Recogniser
from assistant.speech.models.catalogue import models_folder
from tests.bench.conditions import CLEAN, Condition
from tests.bench.ears import Models, load
from tests.bench.noises import MACHINES, Maker
from tests.bench.parts import Part, seed
from tests.bench.talk import MOST_PEOPLE, SENTENCES, babble, talk
from tests.bench.voices import VOICES, Speakers, Voice
from tests.bench.word_places import RIVALRIES, Place, Rivalry, Way, places

__all__ = ["Heard", "confusions", "rival_table", "sign_test"]

BABBLE = Condition("babble", 10.0)

CONDITIONS = (CLEAN, Condition("pink", 10.0), BABBLE, Condition("pink", 5.0))

TALK = "talk"
"""Instead of a way's own words: sentences that are no replies."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What was made of something said once.

    Args:
        place: the question, or the way to say it.
        said: the words; `TALK` where it is no reply.
        case: which of several alike: the number of the text, the voice and the turn.
        condition: in words.
        heard: the likeliest sentence of the grammar; empty if there was none.
        right: whether it means what was said; of talk, whether it is one of the way's words.
        believed: whether it was accepted.
    """

    place: str
    said: str
    case: tuple[int, str, int]
    condition: str
    heard: str
    right: bool
    believed: bool


@dataclass(frozen=True, slots=True)
class Room:
    """Who speaks and who listens.

    Args:
        part: of the voices and noises.
        speakers: say things.
        voices: who speak.
        makers: of the noises.
        ear: listens.
    """

    part: Part
    speakers: Speakers
    voices: Sequence[Voice]
    makers: Mapping[str, Maker]
    ear: Recogniser

    def listen(
        self,
        text: str,
        voice: Voice,
        under: Grammar,
        turn: int,
        conditions: Sequence[Condition] = CONDITIONS,
    ) -> Iterator[tuple[str, Recognition]]:
        """A text in a voice under each condition; clean only in the first turn."""
        spoken = self.speakers.say(text, voice)
        for condition in conditions:
            if turn == 0 or condition is not CLEAN:
                chosen = seed(self.part, str(condition), text, str(voice), str(turn))
                sound = condition.heard(spoken, chosen, self.makers)
                yield str(condition), self.ear.recognise(sound, under)


Lap = tuple[int, Voice]
"""Everything once, in a voice and with noises of its own."""


def laps(room: Room, rounds: int) -> Iterator[Lap]:
    """Voice after voice, so that a run may be stopped after any of them."""
    for turn, voice in itertools.product(range(rounds), room.voices):
        print(f"round {turn + 1}, {voice}", file=sys.stderr)
        yield turn, voice


def in_place(room: Room, place: Place, lap: Lap) -> Iterator[Heard]:
    """Everything that can be said at a place."""
    return _each(room, place.name, [(place.grammar, text) for text in place.texts], lap)


def in_way(room: Room, way: Way, lap: Lap) -> Iterator[Heard]:
    """The words of a way; and a sentence of talk in babble: is it taken for them?"""
    yield from _each(room, way.name, way.said, lap)
    turn, voice = lap
    sentences = SENTENCES[room.part]
    talk = sentences[(room.voices.index(voice) + 5 * turn) % len(sentences)]
    words = {_said(under, text, way.name) for under, text in way.said}
    for condition, found in room.listen(talk, voice, way.said[0][0], turn, [BABBLE]):
        taken = found.accepted() in words
        yield Heard(way.name, TALK, (0, *_of(lap)), condition, "", taken, taken)


def _each(room: Room, place: str, said: Sequence[tuple[Grammar, str]], lap: Lap) -> Iterator[Heard]:
    turn, voice = lap
    for number, (under, text) in enumerate(said):
        meant = _said(under, text, place)
        for condition, found in room.listen(text, voice, under, turn):
            sentence = (under.as_said(found.text) or "") if found.text else ""
            right, believed = found.meaning == meant, found.accepted() is not None
            yield Heard(place, text, (number, *_of(lap)), condition, sentence, right, believed)


def _said(under: Grammar, text: str, place: str) -> Meaning:
    meant = under.parse(text)
    if meant is None:
        raise SystemExit(f"{place}: '{text}' means nothing there; mend word_places.py")
    return meant


def _of(lap: Lap) -> tuple[str, int]:
    turn, voice = lap
    return str(voice), turn


def whole_laps(coming: Iterable[Iterable[Heard]]) -> list[Heard]:
    """What was heard in laps until Ctrl-C, without the lap that it broke off."""
    heard: list[Heard] = []
    try:
        for lap in coming:
            heard += list(lap)
    except KeyboardInterrupt:
        print("Stopped: whole voices until then.\n")
    return heard


Row = tuple[str, str, str, str, str, int, int]
"""Place, what was said, what was heard, whether that means the same, condition, times, of."""


def confusions(heard: Iterable[Heard]) -> list[Row]:
    """How often each was taken for each, itself among them."""
    heard = list(heard)
    every = Counter((one.place, one.said, one.condition) for one in heard)
    taken = Counter((one.place, one.said, one.heard, one.right, one.condition) for one in heard)
    return [
        (place, said, found, "yes" if right else "no", condition, times,
         every[place, said, condition])
        for (place, said, found, right, condition), times in taken.items()
    ]  # fmt: skip


def place_table(heard: Sequence[Heard]) -> Iterator[str]:
    """By place and condition: how many of the likeliest readings were right."""
    yield f"| place | words | said | {' | '.join(map(str, CONDITIONS))} |"
    yield f"| --- | ---: | ---: |{' ---: |' * len(CONDITIONS)}"
    for place in dict.fromkeys(one.place for one in heard):
        mine = [one for one in heard if one.place == place]
        words = len({one.said for one in mine})
        count = sum(one.condition == str(CLEAN) for one in mine)
        shares = (f"{_share(mine, str(condition)):.1f} %" for condition in CONDITIONS)
        yield f"| {place} | {words} | {count} | {' | '.join(shares)} |"


def _share(heard: Sequence[Heard], condition: str) -> float:
    mine = [one.right for one in heard if one.condition == condition]
    return 100 * sum(mine) / len(mine) if mine else math.nan


def worst(heard: Sequence[Heard], most: int = 40) -> Iterator[str]:
    """The commonest confusions."""
    wrong = Counter((one.place, one.said, one.heard) for one in heard if not one.right)
    believed = Counter(
        (one.place, one.said, one.heard) for one in heard if not one.right and one.believed
    )
    said = Counter((one.place, one.said) for one in heard)
    yield "| place | said | taken for | times | believed | of |"
    yield "| --- | --- | --- | ---: | ---: | ---: |"
    for key, times in wrong.most_common(most):
        place, text, taken = key
        count = said[place, text]
        yield f"| {place} | {text} | {taken or '-'} | {times} | {believed[key]} | {count} |"


def rival_table(rivalries: Iterable[Rivalry], heard: Sequence[Heard]) -> Iterator[str]:
    """By way: right, and believed of it, in each condition; and against the first way, in pairs."""
    yield (
        f"| what | way | said in a noise | {' | '.join(map(str, CONDITIONS))} | believed wrongly "
        "| from talk | only the first right | only this right | p |"
    )
    yield f"| --- | --- | ---: |{' ---: |' * (len(CONDITIONS) + 5)}"
    for rivalry in rivalries:
        first, *_ = ways = [[one for one in heard if one.place == way.name] for way in rivalry.ways]
        yield from (_rival(rivalry.name, way, first) for way in ways)


def _rival(name: str, mine: Sequence[Heard], first: Sequence[Heard]) -> str:
    replies = [one for one in mine if one.said != TALK]
    overheard = [one for one in mine if one.said == TALK]
    cells = (_right_and_believed(replies, str(condition)) for condition in CONDITIONS)
    wrong = sum(one.believed and not one.right for one in replies)
    taken = sum(one.right for one in overheard)
    count = max(Counter(one.condition for one in replies).values())
    lost, won = _pairs(first, replies)
    against = "| | | |" if mine[0].place == first[0].place else (
        f"| {lost} | {won} | {sign_test(lost, won):.3f} |"
    )  # fmt: skip
    return (
        f"| {name} | {mine[0].place} | {count} | {' | '.join(cells)} | {wrong} of {len(replies)} "
        f"| {taken} of {len(overheard)} {against}"
    )


def _right_and_believed(heard: Sequence[Heard], condition: str) -> str:
    mine = [one for one in heard if one.condition == condition]
    right = sum(one.right for one in mine)
    believed = sum(one.right and one.believed for one in mine)
    return f"{100 * right / len(mine):.0f} / {100 * believed / len(mine):.0f} %"


def _pairs(first: Sequence[Heard], other: Sequence[Heard]) -> tuple[int, int]:
    """How many pairs of the same case and condition only the first got right, only the other."""
    firsts = {(one.case, one.condition): one.right for one in first if one.said != TALK}
    pairs = Counter(
        (firsts[one.case, one.condition], one.right) for one in other if one.said != TALK
    )
    return pairs[True, False], pairs[False, True]


def sign_test(one: int, other: int) -> float:
    """The probability that fair coins fall at least so unevenly, two-sided; 1 for none.

    >>> sign_test(0, 5)
    0.0625
    """
    count = one + other
    tail: int = sum(math.comb(count, at) for at in range(min(one, other) + 1))
    return min(1.0, 2 * tail / float(2**count))


def write_confusions(file: Path, rows: Iterable[Row], told: str) -> None:
    """The rows under what they were measured on."""
    with file.open("w", newline="", encoding="utf-8") as stream:
        stream.write(f"# {told}\n")
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("place", "said", "heard", "right", "condition", "times", "of"))
        writer.writerows(rows)


def _room(chosen: argparse.Namespace) -> Room:
    speakers = Speakers(chosen.voices)
    voices = speakers.able(VOICES[chosen.part])
    makers = {**MACHINES, "babble": babble(talk(chosen.part, speakers, voices[:MOST_PEOPLE]))}
    ear = load("ours", Models(chosen.model, chosen.cache))
    speaking = [voice for name in chosen.by for voice in voices if name in str(voice)]
    return Room(chosen.part, speakers, speaking or voices, makers, ear)


def _compare(room: Room, chosen: argparse.Namespace) -> None:
    rivalries = [one for one in RIVALRIES if chosen.only in one.name]
    ways = [way for rivalry in rivalries for way in rivalry.ways]
    heard = whole_laps(
        (one for way in ways for one in in_way(room, way, lap)) for lap in laps(room, chosen.rounds)
    )
    print("\n".join(rival_table(rivalries, heard)))


def _confuse(room: Room, chosen: argparse.Namespace) -> None:
    wanted = [one for one in places() if chosen.only in one.name]
    heard = whole_laps(
        (one for place in wanted for one in in_place(room, place, lap))
        for lap in laps(room, chosen.rounds)
    )
    print("\n".join(place_table(heard)), end="\n\n")
    print("\n".join(worst(heard)))
    if chosen.confusions:
        voices = len({one.case[1] for one in heard})
        told = (
            f"{len(heard)} sounds of {voices} {chosen.part} voices, {room.ear.name}, "
            "tests/bench/words.py"
        )
        write_confusions(chosen.confusions, confusions(heard), told)


def main() -> None:
    """Say and hear everything, and print the tables."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    add = options.add_argument
    add("--part", type=Part, default=Part.DEVELOPMENT)
    add("--rivals", action="store_true", help="compare ways to say the same")
    add("--only", default="", help="places or rivalries whose name contains this")
    add("--by", type=str.split, default=[], help="words in the names of voices, in their order")
    add("--rounds", type=int, default=1, help="different noises for each text and voice")
    add("--confusions", type=Path, help="write the confusions to this CSV file")
    add("--voices", type=Path, required=True, help="where voices are kept")
    add("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    add("--cache", type=Path, help="folder of the non-speech prior")
    chosen = options.parse_args()
    (_compare if chosen.rivals else _confuse)(_room(chosen), chosen)


if __name__ == "__main__":
    main()
