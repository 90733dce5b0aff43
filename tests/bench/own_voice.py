"""How well "hold" is heard while a prompt is said: ``python -m tests.bench.own_voice --help``.

The prompt leaks into the microphone: delayed by a fifth of a second, so many decibels fainter than
it is played, straight or through a small hard room (`rooms`), with pink noise 20 dB below speech.
Into it one of the voices says a word at a moment by chance, as loud as people speak into a headset:
over its first words, in its middle, or so that the word ends about when the prompt does.
*heard*: within 1.5 s after the word, and *after*: how long after it [s]. The other way round,
nobody speaks, and every prompt of the shipped procedures is played through: whatever is then heard
is a *false* hold. Nothing here takes its time: the sound is made, and fed block by block.
"""

from __future__ import annotations

import argparse
from itertools import cycle, product
from pathlib import Path

import numpy as np
import platformdirs

from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.speech import wav
from assistant.speech.devices.hotword import Hotword
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.recogniser import Moonshine
from assistant.speech.voice.rendering import Renderer
from tests.bench import prompts
from tests.bench.mixing import active_level
from tests.bench.noises import pink
from tests.bench.rooms import reverberant
from tests.bench.voices import FORMER, Speakers

WORDS = ("hold", "stop", "hold it")

SPOKEN = 0.05
"""RMS of active speech into a headset."""

FAINT = 0.005
"""RMS of the noise of the place."""

DELAY = SAMPLE_RATE // 5

WITHIN = 1.5

PLACES = ("beginning", "middle", "end")
"""Where in a prompt the word is said."""

FIRST_WORDS = 0.6
"""Before which a word at the beginning begins [s]."""

ABOUT_THE_END = (-0.2, 0.25)
"""When a word at the end ends, from the end of the prompt on [s]."""


def leaked(prompt: Samples, decibels: float, room: bool, seed: int) -> Samples:
    """What is heard of the prompt, and the noise of the place, until a second after it."""
    echo = reverberant(prompt, seed)[: len(prompt)] if room else prompt
    sound = np.concatenate([np.zeros(DELAY, np.float32), echo, np.zeros(SAMPLE_RATE, np.float32)])
    noise = np.float32(FAINT) * pink(len(sound), seed)
    return np.asarray(sound * np.float32(10 ** (decibels / 20)) + noise, np.float32)


class Bench:
    """A recogniser and the prompts."""

    def __init__(self, sounds: list[Samples], cache: Path) -> None:
        self.sounds = sounds
        self._recogniser = Moonshine.load(models_folder() / "moonshine-tiny-en", cache)

    def heard(self, prompt: Samples, sound: Samples) -> float | None:
        """The second at which "hold" was heard, if it was."""
        detector = VoiceActivity.load(models_folder() / "silero-vad")
        hotword = Hotword(prompt, detector, self._recogniser, hold_only(english()))
        for at in range(0, len(sound) - BLOCK + 1, BLOCK):
            is_over = at + BLOCK >= len(prompt) + DELAY
            if is_over and not hotword.is_undecided:
                return None
            hear = hotword.hear_on if is_over else hotword.hear
            if hear(sound[at : at + BLOCK]) is not None:
                return (at + BLOCK) / SAMPLE_RATE
        return None

    def false(self, decibels: float, room: bool) -> int:
        """How many prompts are taken for "hold" or "stop" when nobody speaks."""
        return sum(
            self.heard(prompt, leaked(prompt, decibels, room, seed)) is not None
            for seed, prompt in enumerate(self.sounds)
        )

    def delays(
        self, speakers: Speakers, place: str, decibels: float, room: bool
    ) -> list[float | None]:
        """From the end of each word to when it was heard [s]."""
        long = [one for one in self.sounds if len(one) > 4 * SAMPLE_RATE]
        chance = np.random.default_rng(7)
        found: list[float | None] = []
        for seed, ((word, voice), prompt) in enumerate(
            zip(product(WORDS, FORMER), cycle(long[:: max(1, len(long) // 30)]), strict=False)
        ):
            said = speakers.say(word, voice)
            said = said * np.float32(SPOKEN / active_level(said))
            first, *_, last = np.flatnonzero(np.abs(said) > 0.01)
            said = said[first : last + 1]
            sound = leaked(prompt, decibels, room, seed)
            match place:
                case "beginning":
                    at = int(chance.uniform(0.0, FIRST_WORDS) * SAMPLE_RATE)
                case "middle":
                    at = int(chance.uniform(0.3, 0.7) * (len(prompt) - len(said)))
                case _:
                    at = len(prompt) + int(chance.uniform(*ABOUT_THE_END) * SAMPLE_RATE) - len(said)
            at += DELAY
            sound[at : at + len(said)] += said
            ended = (at + len(said)) / SAMPLE_RATE
            when = self.heard(prompt, sound)
            late = None if when is None else when - ended
            found.append(late if late is not None and 0 <= late <= WITHIN else None)
        return found


def main() -> None:
    """Run the benchmark."""
    kept = Path(platformdirs.user_cache_dir("gloveside"))
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--voices", type=Path, default=kept / "benchmark-voices")
    options.add_argument("--every", type=int, default=1, help="take every so manieth prompt")
    options.add_argument("--leaks", type=float, nargs="+", default=(-20.0, -10.0), metavar="DB")
    chosen = options.parse_args()
    with Renderer(kept / "speech") as renderer:
        texts = sorted(prompts.texts())[:: chosen.every]
        bench = Bench([wav.read(renderer.render(text)) for text in texts], kept / "recogniser")
    speakers = Speakers(chosen.voices)
    print("| leak | room | place | words | heard | after, median | after, p95 |")
    print("| ---: | --- | --- | ---: | ---: | ---: | ---: |")
    for decibels, room, place in product(chosen.leaks, (False, True), PLACES):
        found = bench.delays(speakers, place, decibels, room)
        late = [one for one in found if one is not None] or [float("nan")]
        middle, high = np.percentile(late, [50, 95])
        cells = f"{len(found)} | {sum(one is not None for one in found)} | {middle:.2f} s"
        print(f"{_scene(decibels, room)} {place} | {cells} | {high:.2f} s |", flush=True)
    print("\n| leak | room | prompts | false |")
    print("| ---: | --- | ---: | ---: |")
    for decibels, room in product(chosen.leaks, (False, True)):
        false = f"{len(bench.sounds)} | {bench.false(decibels, room)}"
        print(f"{_scene(decibels, room)} {false} |", flush=True)


def _scene(decibels: float, room: bool) -> str:
    return f"| {decibels:g} dB | {'hard room' if room else 'none'} |"


if __name__ == "__main__":
    main()
