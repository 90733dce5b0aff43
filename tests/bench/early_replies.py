"""Replies begun before the prompt has ended: ``python -m tests.bench.early_replies --help``.

The prompt leaks into the microphone as in `own_voice`. A reply of a job begins so long before its
end as chance decides, and goes on after it. *from its beginning*: as the program hears it
(`early_reply`); *from the end of the prompt*: as ears hear it that discard what came with the
prompt. The other way round, every prompt is played and nobody speaks: whatever is then held for the
beginning of a reply is *taken for one*. Nothing here takes its time: the sound is made, and fed
block by block.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterator, Sequence
from itertools import cycle, product
from pathlib import Path

import numpy as np
import platformdirs

from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.speech import wav
from assistant.speech.devices.hotword import Hotword
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.ears import SAMPLE_RATE, Samples, Spoken
from assistant.speech.fakes import FakeSoundSource
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.recogniser import Moonshine
from assistant.speech.voice.rendering import Renderer
from tests.bench import prompts
from tests.bench.mixing import active_level
from tests.bench.own_voice import DELAY, SPOKEN, leaked
from tests.bench.replies import Said, sample
from tests.bench.voices import FORMER, Speakers, Voice

EARLIEST, LATEST = 0.8, 0.1
"""Before the end of the prompt, a reply begins at the earliest and at the latest [s]."""

GOES_ON = 0.3
"""Of a reply is said after the prompt at least [s]; a short one begins later for that."""

VERDICTS = ("understood", "asked again", "wrong")


class Bench:
    """A recogniser and the voices."""

    def __init__(self, speakers: Speakers, cache: Path) -> None:
        self._speakers = speakers
        self._recogniser = Moonshine.load(models_folder() / "moonshine-tiny-en", cache)

    def over(self, prompt: Samples, blocks: Iterator[Samples]) -> Hotword:
        """Listen over a prompt and, where somebody speaks at its end, on, as the program does."""
        hotword = Hotword(prompt, self._detector(), self._recogniser, hold_only(english()))
        for number, block in enumerate(blocks, 1):
            if number * BLOCK < len(prompt) + DELAY:
                hotword.hear(block)
                continue
            if hotword.is_undecided:
                hotword.hear_on(block)
            if not hotword.is_undecided:
                break
        return hotword

    def scene(
        self, prompt: Samples, sound: Samples, said: Said, voice: Voice, seed: int
    ) -> Samples:
        """The leaked prompt with the reply over its end."""
        reply = self._speakers.say(said.text, voice)
        active = np.flatnonzero(np.abs(reply) > 0.02 * np.abs(reply).max())
        reply = reply[active[0] : active[-1]] * np.float32(SPOKEN / active_level(reply))
        earliest = min(EARLIEST, len(reply) / SAMPLE_RATE - GOES_ON)
        early = random.Random(seed).uniform(min(LATEST, earliest), earliest)
        at = DELAY + len(prompt) - round(early * SAMPLE_RATE)
        whole = np.pad(sound, (0, max(0, at + len(reply) + 2 * SAMPLE_RATE - len(sound))))
        whole[at : at + len(reply)] += reply
        return whole

    def verdict(self, said: Said, blocks: Sequence[Samples]) -> str:
        """What the ears make of it."""
        ears = MicrophoneEars(FakeSoundSource(blocks), self._detector(), self._recogniser)
        reply = ears.listen(said.grammar, 1.5)
        meaning = reply.recognition.accepted() if isinstance(reply, Spoken) else None
        if meaning is None:
            return "asked again"
        return "understood" if meaning == said.meaning else "wrong"

    def _detector(self) -> VoiceActivity:
        return VoiceActivity.load(models_folder() / "silero-vad")


def in_blocks(sound: Samples) -> list[Samples]:
    """The whole blocks of a sound."""
    return [sound[at : at + BLOCK] for at in range(0, len(sound) - BLOCK + 1, BLOCK)]


def main() -> None:
    """Run the benchmark."""
    kept = Path(platformdirs.user_cache_dir("gloveside"))
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--voices", type=Path, default=kept / "benchmark-voices")
    options.add_argument("--replies", type=int, default=60)
    options.add_argument("--every", type=int, default=1, help="take every so manieth prompt")
    options.add_argument("--leaks", type=float, nargs="+", default=(-20.0, -10.0), metavar="DB")
    chosen = options.parse_args()
    with Renderer(kept / "speech") as renderer:
        texts = sorted(prompts.texts())[:: chosen.every]
        sounds = [wav.read(renderer.render(text)) for text in texts]
    bench = Bench(Speakers(chosen.voices), kept / "recogniser")
    said = sample(chosen.replies, 11)
    print("| leak | room | replies | heard | understood | asked again | wrong |")
    print("| ---: | --- | ---: | --- | ---: | ---: | ---: |")
    for decibels, room in product(chosen.leaks, (False, True)):
        where = f"| {decibels:g} dB | {'hard room' if room else 'none'} |"
        early, late = [], []
        for seed, (one, voice, prompt) in enumerate(zip(said, cycle(FORMER), cycle(sounds))):
            sound = bench.scene(prompt, leaked(prompt, decibels, room, seed), one, voice, seed)
            blocks = iter(in_blocks(sound))
            over = bench.over(prompt, blocks)
            early.append(bench.verdict(one, [*(over.begun or over.heard_on), *blocks]))
            late.append(bench.verdict(one, in_blocks(sound[DELAY + len(prompt) :])))
        for name, verdicts in (("from its beginning", early), ("from the end of the prompt", late)):
            counts = " | ".join(str(verdicts.count(verdict)) for verdict in VERDICTS)
            print(f"{where} {len(verdicts)} | {name} | {counts} |", flush=True)
        taken = sum(
            bool(bench.over(prompt, iter(in_blocks(leaked(prompt, decibels, room, seed)))).begun)
            for seed, prompt in enumerate(sounds)
        )
        print(
            f"{where} {len(sounds)} prompts | nobody speaks | taken for one: {taken} | | |",
            flush=True,
        )


if __name__ == "__main__":
    main()
