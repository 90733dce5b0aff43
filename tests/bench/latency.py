"""How soon after the end of speech the answer is there: ``python -m tests.bench.latency --help``.

Replies of about three seconds in six synthetic voices are fed to the ears of the microphone at the
pace of real time, block by block through a queue. *At the pause* is the time from the arrival of
the block that makes the pause long enough to be the end until the answer is there; *at the end* is
what recognising the same samples takes if it only begins then. Each reply is heard twice: *the
first time* the prior of non-speech of what may be said there is not known yet, unless a folder of
it is named. Times depend on what else the machine does: the load is printed with them.
"""

from __future__ import annotations

import argparse
import os
import queue
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import platformdirs

from assistant.language.answers import AskContacts, AskNumber, AskSpelling
from assistant.language.grammar import Grammar
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.ears import SAMPLE_RATE, Samples, Spoken
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.recogniser import Moonshine
from tests.bench.noises import pink
from tests.bench.replies import Said
from tests.bench.voices import FORMER, Speakers

LONG = (
    Said("one and two closed three and four open", AskContacts((1, 2, 3, 4))),
    Said("one closed two open three open four closed", AskContacts((1, 2, 3, 4))),
    Said("five and six are open seven and eight are closed", AskContacts((5, 6, 7, 8))),
    Said("one hundred and twenty five and a half turns", AskNumber("turns")),
    Said("kilo foxtrot zero seven", AskSpelling()),
)
"""Replies of two to four seconds; the last may go on, and is waited for."""


class RealTime:
    """A source of sound that gives each block when its time has come.

    Attributes:
        arrived: when each block came [s, monotonic].
        taken: how many of them were taken.
    """

    def __init__(self, sound: Samples) -> None:
        self.arrived: list[float] = []
        self.taken = self.overflows = 0
        self._sound = sound
        self._queue: queue.Queue[Samples] = queue.Queue()

    def discard(self) -> None:
        """Begin to speak."""
        threading.Thread(target=self._speak, daemon=True).start()

    def _speak(self) -> None:
        begun = time.monotonic()
        for at in range(0, len(self._sound) - BLOCK + 1, BLOCK):
            time.sleep(max(0.0, begun + (at + BLOCK) / SAMPLE_RATE - time.monotonic()))
            self.arrived.append(time.monotonic())
            self._queue.put(self._sound[at : at + BLOCK])

    def blocks(self) -> Iterator[Samples]:
        """The blocks, waiting for each."""
        while True:
            block = self._queue.get(timeout=2.0)
            self.taken += 1
            yield block


def stream(speech: Samples, seed: int) -> Samples:
    """Speech with a second before it and two after, in faint noise."""
    around = np.zeros(2 * SAMPLE_RATE, np.float32)
    sound = np.concatenate([around[SAMPLE_RATE:], speech, around])
    return np.asarray(sound + np.float32(0.001) * pink(len(sound), seed), np.float32)


def at_the_pause(recogniser: Moonshine, sound: Samples, grammar: Grammar) -> tuple[float, Spoken]:
    """Seconds from the arrival of the last block that was needed, and the reply."""
    source = RealTime(sound)
    detector = VoiceActivity.load(models_folder() / "silero-vad")
    reply = MicrophoneEars(source, detector, recogniser).listen(grammar, 5.0)
    answered = time.monotonic()
    assert isinstance(reply, Spoken), reply
    return answered - source.arrived[source.taken - 1], reply


def percentiles(name: str, values: list[float], unit: str, floor: str) -> str:
    """A line of the table."""
    middle, high = np.percentile(values, [50, 95])
    return f"| {name} | {len(values)} | {middle:.3f} {unit} | {high:.3f} {unit} | {floor} |"


def main() -> None:
    """Run the benchmark."""
    kept = Path(platformdirs.user_cache_dir("gloveside"))
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    options.add_argument("--voices", type=Path, default=kept / "benchmark-voices")
    options.add_argument("--cache", type=Path, help="folder of the non-speech prior")
    chosen = options.parse_args()
    recogniser = Moonshine.load(chosen.model, chosen.cache)
    speakers = Speakers(chosen.voices)
    first, used, unused, factors, lengths = [], [], [], [], []
    for said in LONG:
        for number, voice in enumerate(FORMER):
            sound = stream(speakers.say(said.text, voice), number)
            first.append(at_the_pause(recogniser, sound, said.grammar)[0])
            waited, reply = at_the_pause(recogniser, sound, said.grammar)
            assert reply.samples is not None
            begun = time.perf_counter()
            again = recogniser.recognise(reply.samples, said.grammar)
            taken = time.perf_counter() - begun
            assert again == reply.recognition
            used.append(waited)
            unused.append(taken)
            lengths.append(len(reply.samples) / SAMPLE_RATE)
            factors.append(taken / lengths[-1])
    print("| from the declared end to the answer | replies | median | p95 | floor (p95) |")
    print("| --- | ---: | ---: | ---: | ---: |")
    print(percentiles("at the pause", used, "s", "0.060 s"))
    print(percentiles("at the pause, the first time", first, "s", "-"))
    print(percentiles("at the end", unused, "s", "0.250 s"))
    print(percentiles("real-time factor", factors, "", "0.12"))
    print(percentiles("length of the replies", lengths, "s", "-"))
    print(f"\n{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f}.")


if __name__ == "__main__":
    main()
