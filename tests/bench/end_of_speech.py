"""How well the end of speech is found: ``python -m tests.bench.end_of_speech --help``.

Replies (twenty phrases of the job in six synthetic voices, and human single words and numbers where
a folder of them is named) are put into noise, three seconds before and three after, and given to
the endpointer block by block. Prints a table in Markdown, a row for each detector and noise:

- *missed*: replies in whose time no utterance was found that ended while the noise lasted.
- *cut*: replies that lost more than 60 ms at the beginning; at the end. Active speech is what lies
  within 30 dB of the loudest 10 ms of the clean reply.
- *lost*: the 95th percentile of what was lost at the beginning and at the end [ms].
- *declared*: from the true end to the declared end, median and 95th percentile [s], if every pause
  is taken for a complete answer; of the replies whose end is not cut.
- *early*: the 95th percentile of the sound that was kept before the true beginning [s].
- *false*: utterances found in a minute of noise.

The detectors are that of the product (`VoiceActivity`), the same without the rule that talk farther
off is not heard (`FALL`), and a noise floor.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import platformdirs

from assistant.speech import wav
from assistant.speech.devices.endpoint import (
    Detector,
    Endpointer,
    NoInput,
    SpeechEnded,
    SpeechPaused,
)
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.models.catalogue import models_folder
from tests.bench import human
from tests.bench.mixing import active_level
from tests.bench.noise_floor import NoiseFloor
from tests.bench.noises import Maker, hum, impacts, pink
from tests.bench.parts import Part
from tests.bench.phrases import CHOSEN
from tests.bench.talk import babble, talk
from tests.bench.voices import FORMER, Speakers

AROUND = 3.0
"""Seconds of noise before and after a reply."""

LEVEL = 0.05
"""RMS of active speech."""

TOLERATED = 0.06
"""Seconds of active speech that may be lost: two blocks."""

NOTHING = [float("nan")]


@dataclass(frozen=True, slots=True)
class Reply:
    """A clean reply, and the samples between which it is active."""

    samples: Samples
    begin: int
    end: int


@dataclass(frozen=True, slots=True)
class Found:
    """An utterance: the samples of the scene that were kept, and when its end was declared."""

    begin: int
    end: int
    declared: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one reply; seconds, and None where there is nothing to tell."""

    cut_begin: float | None
    early: float | None
    cut_end: float | None
    late: float | None
    false: int
    noise: float


class AllAreNear(Endpointer):
    """An endpointer that does not mind how loud speech is."""

    def _is_near(self, block_level: float) -> bool:
        return True


def active(samples: Samples) -> Reply:
    """The reply at `LEVEL`, with its active part."""
    frame = SAMPLE_RATE // 100
    power = (samples[: len(samples) // frame * frame].reshape(-1, frame) ** 2).mean(axis=1)
    frames = np.flatnonzero(power > power.max() / 1000)
    level = np.float32(LEVEL / active_level(samples))
    return Reply(samples * level, int(frames[0]) * frame, int(frames[-1] + 1) * frame)


def synthetic(speakers: Speakers) -> Iterator[Reply]:
    """The phrases of the job in every voice."""
    return (
        active(speakers.say(one.text, voice)) for one in CHOSEN["20 phrases"] for voice in FORMER
    )


def recorded(folder: Path) -> Iterator[Reply]:
    """Single words and numbers that people said."""
    return (active(wav.read(folder / file)) for file, _ in human.words(Part.TEST, folder))


def scene(reply: Reply, noise: Samples, ratio: float) -> Samples:
    """The reply in noise at a ratio [dB]."""
    around = np.zeros(round(AROUND * SAMPLE_RATE), np.float32)
    speech = np.concatenate([around, reply.samples, around])
    sound = speech + np.float32(LEVEL * 10 ** (-ratio / 20)) * noise[: len(speech)]
    return np.asarray(sound, np.float32)


def utterances(sound: Samples, detector: Detector, kind: type[Endpointer]) -> Iterator[Found]:
    """What an endpointer finds, one utterance after the other."""
    endpointer = kind(detector)
    quiet_from = 0  # sample at which the present pause began to be kept
    for at in range(BLOCK, len(sound) + 1, BLOCK):
        match endpointer.feed(sound[at - BLOCK : at]):
            case SpeechPaused():
                endpointer.complete()
                quiet_from = at
            case SpeechEnded(samples, forced):
                end = at if forced else quiet_from
                yield Found(end - len(samples), end, at)
                endpointer = kind(detector)
            case NoInput():
                endpointer = kind(detector)


def outcome(reply: Reply, sound: Samples, found: list[Found]) -> Outcome:
    """What was found of one reply in its scene."""
    shift = round(AROUND * SAMPLE_RATE)
    begin, end = reply.begin + shift, reply.end + shift
    hits = [one for one in found if one.begin < end and one.end > begin]
    noise = (len(sound) - (end - begin)) / SAMPLE_RATE
    false = len(found) - len(hits)
    if not hits:
        return Outcome(None, None, None, None, false, noise)
    cut_begin = max(0, hits[0].begin - begin) / SAMPLE_RATE
    early = max(0, begin - hits[0].begin) / SAMPLE_RATE
    cut_end = max(0, end - hits[0].end) / SAMPLE_RATE
    late = (hits[0].declared - end) / SAMPLE_RATE if cut_end <= TOLERATED else None
    return Outcome(cut_begin, early, cut_end, late, false, noise)


def row(outcomes: list[Outcome]) -> str:
    """The figures of a line of the table."""
    begins = [one.cut_begin for one in outcomes if one.cut_begin is not None] or NOTHING
    early = [one.early for one in outcomes if one.early is not None] or NOTHING
    ends = [one.cut_end for one in outcomes if one.cut_end is not None] or NOTHING
    late = [one.late for one in outcomes if one.late is not None] or NOTHING
    minutes = sum(one.noise for one in outcomes) / 60
    cells = [
        str(len(outcomes)),
        str(sum(one.cut_begin is None for one in outcomes)),
        f"{sum(cut > TOLERATED for cut in begins)}, {sum(cut > TOLERATED for cut in ends)}",
        f"{1000 * np.percentile(begins, 95):.0f}, {1000 * np.percentile(ends, 95):.0f}",
        f"{np.percentile(late, 50):.2f}, {np.percentile(late, 95):.2f}",
        f"{np.percentile(early, 95):.1f}",
        f"{sum(one.false for one in outcomes) / minutes:.1f}",
    ]
    return " | ".join(cells)


def main() -> None:
    """Run the benchmark."""
    kept = Path(platformdirs.user_cache_dir("gloveside")) / "benchmark-voices"
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--speech", type=Path, help="folder of human speech (see human.py)")
    options.add_argument("--voices", type=Path, default=kept, help="where what voices say is kept")
    options.add_argument("--only", default="", help="noises whose name holds this")
    options.add_argument("--every", type=int, default=1, help="take every so manieth reply")
    chosen = options.parse_args()
    speakers = Speakers(chosen.voices)
    replies = {"synthetic": list(synthetic(speakers))[:: chosen.every]}
    people = talk(Part.TEST, speakers, FORMER)
    if chosen.speech:
        replies["human"] = list(recorded(chosen.speech))[:: chosen.every]
        people.append([samples for _, samples in human.unrelated(Part.TEST, chosen.speech)])
    conditions: list[tuple[str, Maker, float]] = [
        ("clean (pink 50 dB)", pink, 50.0),
        *((f"pink {ratio} dB", pink, float(ratio)) for ratio in (20, 10, 5)),
        *((f"hum {ratio} dB", hum, float(ratio)) for ratio in (10, 5)),
        *((f"impacts {ratio} dB", impacts, float(ratio)) for ratio in (20, 10)),
        *((f"babble {ratio} dB", babble(people), float(ratio)) for ratio in (20, 10, 5)),
    ]
    detectors: dict[str, tuple[Callable[[], Detector], type[Endpointer]]] = {
        "voice activity": (_voice_activity, Endpointer),
        "… all near": (_voice_activity, AllAreNear),
        "noise floor": (NoiseFloor, Endpointer),
    }
    print("| replies | noise | detector | cases | missed | cut | lost | declared | early | false |")
    print("| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    for kind, members in replies.items():
        length = max(len(one.samples) for one in members) + 2 * round(AROUND * SAMPLE_RATE)
        for noise, maker, ratio in conditions:
            if chosen.only not in noise:
                continue
            sounds = [scene(one, maker(length, at), ratio) for at, one in enumerate(members)]
            for name, (detector, endpointer) in detectors.items():
                outcomes = [
                    outcome(one, sound, list(utterances(sound, detector(), endpointer)))
                    for one, sound in zip(members, sounds, strict=True)
                ]
                print(f"| {kind} | {noise} | {name} | {row(outcomes)} |", flush=True)


def _voice_activity() -> Detector:
    return VoiceActivity.load(models_folder() / "silero-vad")


if __name__ == "__main__":
    main()
