"""Teach the speller: ``python -m tests.bench.speller.teach EAR --said FOLDER --voices FOLDER``.

The ear is the encoder or the bands (see `speller/bands.py`): each has a network of its own. The
loss is that of connectionist temporal classification (see `speller/alignment.py`) for each letter.
What the bands show is cheap: a process beside makes lessons without end. What the encoder hears is
not: a fixed number of lessons is encoded first and learnt again and again. The network is written
to the file that comes with the program, with the words of ``--taught``, which have to say on what.
"""

from __future__ import annotations

import argparse
import hashlib
import itertools
import multiprocessing
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from multiprocessing.queues import Queue
from pathlib import Path
from typing import Any

import jax
import jax.numpy as jnp
import numpy as np
import optax

from assistant.speech.ears import Samples
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.encoder_decoder import EncoderDecoder
from assistant.speech.moonshine.speller.alphabet import ALPHABET
from assistant.speech.moonshine.speller.bands import bands
from assistant.speech.moonshine.speller.network import BANDS, OF_BANDS, OF_ENCODER
from tests.bench.parts import Part
from tests.bench.speller.lessons import (
    LENGTHS,
    LONGEST_TEXT,
    Frames,
    Lesson,
    lessons,
    together,
)
from tests.bench.speller.say import plain
from tests.bench.speller.spoiling import Stock
from tests.bench.speller.strange import stranger
from tests.bench.speller.weights import Plan, Weights, fresh, taught_before, write
from tests.bench.talk import babble, talk
from tests.bench.voices import VOICES, Speakers

Batch = tuple[Any, ...]


def spelled(plan: Plan, weights: Weights, frames: Any, real: Any, key: Any) -> Any:
    """The logits of blank and letters, as `Network.spell` computes them, with dropout."""
    key, drawn = jax.random.split(key)
    values = (frames - weights["mean"]) * weights["scale"] * real
    values = values * _dropped(drawn, plan.kept[0], (len(frames), 1, frames.shape[2]))
    for at, apart in enumerate(plan.dilations):
        convolved = _convolved(values, weights[f"weights-{at}"], apart)
        convolved = jax.nn.gelu(convolved + weights[f"offsets-{at}"])
        if at == 0:
            values = convolved * real
            continue
        key, drawn = jax.random.split(key)
        values = (values + convolved * _dropped(drawn, plan.kept[1], convolved.shape)) * real
    return values @ weights["weights-letters"] + weights["offsets-letters"]


def _convolved(values: Any, weights: Any, apart: int) -> Any:
    """As one product; the library's own convolution is slower on a processor."""
    reach = len(weights) // 2 * apart
    padded = jnp.pad(values, ((0, 0), (reach, reach), (0, 0)))
    taps = [padded[:, at * apart :][:, : values.shape[1]] for at in range(len(weights))]
    return jnp.concatenate(taps, axis=2) @ weights.reshape(-1, weights.shape[2])


def _dropped(key: Any, kept: float, shape: tuple[int, ...]) -> Any:
    return jax.random.bernoulli(key, kept, shape) / kept


def loss(plan: Plan, weights: Weights, batch: Batch, key: Any) -> Any:
    """Nats for each letter of the texts."""
    frames, count, letters, length = batch
    real = (jnp.arange(frames.shape[1])[None] < count[:, None]).astype(jnp.float32)
    beyond = (jnp.arange(letters.shape[1])[None] >= length[:, None]).astype(jnp.float32)
    logits = spelled(plan, weights, frames, real[..., None], key)
    return (optax.ctc_loss(logits, 1 - real, letters, beyond) / jnp.maximum(length, 4)).mean()


def _begun(plan: Plan, some: Batch) -> Weights:
    frames = [row[:count] for row, count in zip(some[0], some[1], strict=True)]
    return fresh(plan, np.concatenate(frames))


def filled(chosen: Sequence[Lesson]) -> Batch:
    """Frames and letters of a batch, and how many of each are real."""
    counts = np.array([len(frames) for _, frames in chosen])
    longest = next(length for length in LENGTHS if length >= counts.max())
    frames = np.zeros((len(chosen), longest, chosen[0][1].shape[1]), np.float32)
    letters = np.zeros((len(chosen), LONGEST_TEXT), np.int32)
    for row, (text, heard) in enumerate(chosen):
        frames[row, : len(heard)] = heard
        letters[row, : len(text)] = [ALPHABET.index(letter) + 1 for letter in text]
    return frames, counts, letters, np.array([len(text) for text, _ in chosen])


def taught(plan: Plan, weights: Weights, batches: Iterator[Batch]) -> Iterator[Weights]:
    """The network each time that it has learnt so many batches (`KEPT`), and at the end."""
    pace = optax.warmup_cosine_decay_schedule(0.0, plan.pace, 100, plan.steps)
    learner = optax.chain(optax.clip_by_global_norm(1.0), optax.adamw(pace, weight_decay=1e-3))
    state = learner.init(weights)

    def step(weights: Weights, state: Any, batch: Batch, key: Any) -> tuple[Weights, Any, Any]:
        nats, slope = jax.value_and_grad(partial(loss, plan))(weights, batch, key)
        change, state = learner.update(slope, state, weights)
        return optax.apply_updates(weights, change), state, nats

    compiled = jax.jit(step)
    lately: list[Any] = []
    for number in range(1, plan.steps + 1):
        weights, state, nats = compiled(weights, state, next(batches), jax.random.PRNGKey(number))
        lately.append(nats)
        if number % 50 == 0:
            mean = float(np.mean(lately[-50:]))
            print(f"step {number} of {plan.steps}: {mean:.3f} nats a letter", flush=True)
        if number % KEPT == 0 or number == plan.steps:
            yield weights


@dataclass(frozen=True, slots=True)
class Sources:
    """Folders: of what was said by `say`, of what the benchmark's voices said, and of the model."""

    said: Path
    voices: Path
    model: Path

    def lessons(self, heard: Callable[[Samples], Frames], seed: int) -> Iterator[Lesson]:
        """Lessons without end, in the noises of the development part."""
        part = Part.DEVELOPMENT
        talking = talk(part, Speakers(self.voices), VOICES[part])
        return lessons(plain(self.said), Stock.made(babble(talking)), heard, seed)

    @property
    def encoder(self) -> str:
        """SHA-256 of the model's encoder."""
        return hashlib.sha256((self.model / "encoder_model.ort").read_bytes()).hexdigest()


OF_THE_BANDS = Plan(
    3, 224, (1, 1, 2, 4, 8, 1, 2, 4, 8, 1), kept=(1.0, 0.9), steps=3_200, pace=1.5e-3
)
OF_THE_ENCODER = Plan(5, 144, (1, 1, 2, 4), kept=(0.9, 0.85), steps=3_000, pace=2e-3)

KEPT = 500
"""Batches after which the network is written, so that one that is stopped has learnt something."""

ENCODED = 14_000
"""Lessons of the encoder. Three times as many, a wider network and more batches spell the voices of
the lessons far better, and others no better: see the README."""

WAITING, REMEMBERED = 20, 150
"""Batches of the bands that wait to be learnt, and that may be learnt again."""


def encoded(sources: Sources) -> Iterator[Batch]:
    """Batches of what the encoder hears, the same lessons again and again."""
    graphs = EncoderDecoder(sources.model)
    heard = sources.lessons(lambda samples: graphs.encode(samples)[0], seed=0)
    given = list(itertools.islice(heard, ENCODED))
    return map(filled, together(itertools.cycle(given), seed=0))


def shown(sources: Sources) -> Iterator[Batch]:
    """Batches of what the bands show: a new one if there is one, else one of those before."""
    context = multiprocessing.get_context("spawn")
    queue: Queue[list[Lesson]] = context.Queue(WAITING)
    context.Process(target=_beside, args=(queue, sources), daemon=True).start()
    chance = random.Random(0)
    before: list[Batch] = []
    while True:
        if not before or not queue.empty():
            before = [*before[-REMEMBERED:], filled(queue.get())]
            yield before[-1]
        else:
            yield chance.choice(before)


def _beside(queue: Queue[list[Lesson]], sources: Sources) -> None:
    chance = np.random.default_rng(1)
    heard = sources.lessons(lambda samples: stranger(bands(samples), chance), seed=1)
    for batch in together(heard, seed=1):
        queue.put(batch)


def main() -> None:
    """Learn, and write the network."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("ear", choices=("bands", "encoder"))
    options.add_argument("--said", type=Path, required=True, help="folder of what say.py kept")
    options.add_argument("--voices", type=Path, required=True, help="folder of the benchmark's")
    options.add_argument("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    options.add_argument("--taught", required=True, help="on what, in words")
    options.add_argument(
        "--further", type=Path, help="go on with a network that was taught, widened to the plan"
    )
    options.add_argument("--into", type=Path, help="file to write, if not the one that ships")
    options.add_argument("--steps", type=int, help="batches, if not as planned")
    options.add_argument("--pace", type=float, help="highest rate of learning, if not as planned")
    chosen = options.parse_args()
    sources = Sources(chosen.said, chosen.voices, chosen.model)
    plan, file, reads, batches = (
        (OF_THE_BANDS, OF_BANDS, BANDS, shown(sources))
        if chosen.ear == "bands"
        else (OF_THE_ENCODER, OF_ENCODER, sources.encoder, encoded(sources))
    )
    plan = replace(plan, steps=chosen.steps or plan.steps, pace=chosen.pace or plan.pace)
    begun = taught_before(chosen.further, plan) if chosen.further else _begun(plan, next(batches))
    for weights in taught(plan, begun, batches):
        write(chosen.into or file, plan.dilations, weights, reads, chosen.taught)


if __name__ == "__main__":
    main()
