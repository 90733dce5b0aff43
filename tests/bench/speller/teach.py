"""Teach the speller: ``python -m tests.bench.speller.teach --voices FOLDER``.

The loss is that of connectionist temporal classification (see `speller/alignment.py`) for each
letter. The network is written to the file that comes with the program, with the words of
``--taught``, which have to say on what.
"""

from __future__ import annotations

import argparse
import hashlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import jax
import jax.numpy as jnp
import numpy as np
import optax
from numpy.typing import NDArray

from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.encoder_decoder import EncoderDecoder
from assistant.speech.moonshine.speller.alphabet import ALPHABET
from assistant.speech.moonshine.speller.network import DILATIONS, FILE
from tests.bench.parts import Part
from tests.bench.speller.lessons import SAID, Lesson, lessons, of_nothing
from tests.bench.talk import babble, talk
from tests.bench.voices import VOICES, Speakers

WIDTH = 144
TAPS = 5
STEPS = 3_000
TOGETHER = 48
LENGTHS = (60, 90, 130, 180, 240)
"""Frames to which lessons are filled up, so that few shapes are compiled; longer ones are left."""

LONGEST_TEXT = 60
LETTERS = len(ALPHABET) + 1

Weights = dict[str, Any]


def fresh(width_in: int, lesson_frames: NDArray[np.float32]) -> Weights:
    """A network that has learnt nothing."""
    keys = iter(jax.random.split(jax.random.PRNGKey(0), len(DILATIONS) + 1))
    drawn = jax.nn.initializers.he_normal()
    weights = {
        "mean": jnp.array(lesson_frames.mean(0)),
        "scale": jnp.array(1 / (lesson_frames.std(0) + 1e-3)),
        "weights-letters": 0.1 * drawn(next(keys), (WIDTH, LETTERS)),
        "offsets-letters": jnp.zeros(LETTERS),
    }
    for at in range(len(DILATIONS)):
        shape = (TAPS, width_in if at == 0 else WIDTH, WIDTH)
        weights[f"weights-{at}"] = drawn(next(keys), shape) * (1.0 if at == 0 else 0.5)
        weights[f"offsets-{at}"] = jnp.zeros(WIDTH)
    return weights


def spelled(weights: Weights, frames: Any, real: Any, key: Any) -> Any:
    """The logits of blank and letters, as `Network.spell` computes them, with dropout."""
    key, drawn = jax.random.split(key)
    values = (frames - weights["mean"]) * weights["scale"] * real
    values = values * _dropped(drawn, 0.9, (len(frames), 1, frames.shape[2]))
    for at, apart in enumerate(DILATIONS):
        convolved = jax.lax.conv_general_dilated(
            values,
            weights[f"weights-{at}"],
            (1,),
            "SAME",
            rhs_dilation=(apart,),
            dimension_numbers=("NWC", "WIO", "NWC"),
        )
        convolved = jax.nn.gelu(convolved + weights[f"offsets-{at}"])
        if at == 0:
            values = convolved * real
            continue
        key, drawn = jax.random.split(key)
        values = (values + convolved * _dropped(drawn, 0.85, convolved.shape)) * real
    return values @ weights["weights-letters"] + weights["offsets-letters"]


def _dropped(key: Any, kept: float, shape: tuple[int, ...]) -> Any:
    return jax.random.bernoulli(key, kept, shape) / kept


def loss(weights: Weights, batch: tuple[Any, ...], key: Any) -> Any:
    """Nats for each letter of the texts."""
    frames, count, letters, length = batch
    real = (jnp.arange(frames.shape[1])[None] < count[:, None]).astype(jnp.float32)
    beyond = (jnp.arange(letters.shape[1])[None] >= length[:, None]).astype(jnp.float32)
    logits = spelled(weights, frames, real[..., None], key)
    return (optax.ctc_loss(logits, 1 - real, letters, beyond) / jnp.maximum(length, 4)).mean()


def batches(given: Sequence[Lesson], chance: np.random.Generator) -> Iterator[tuple[Any, ...]]:
    """All the lessons, those of like length together."""
    order = sorted(
        range(len(given)), key=lambda at: given[at][1].shape[1] // 20 + 1.5 * chance.random()
    )
    groups = [order[at : at + TOGETHER] for at in range(0, len(order), TOGETHER)]
    chance.shuffle(groups)
    for group in groups:
        chosen = [given[at] for at in (group * TOGETHER)[:TOGETHER]]
        longest = next(n for n in LENGTHS if n >= max(one.shape[1] for _, one in chosen))
        frames = np.stack(
            [np.pad(one[0], ((0, longest - one.shape[1]), (0, 0))) for _, one in chosen]
        ).astype(np.float32)
        numbers = [_numbers(text) for text, _ in chosen]
        letters = np.stack([np.pad(one, (0, LONGEST_TEXT - len(one))) for one in numbers])
        counts = np.array([one.shape[1] for _, one in chosen])
        yield frames, counts, letters, np.array([len(one) for one in numbers])


def _numbers(text: str) -> NDArray[np.int32]:
    return np.array([ALPHABET.index(letter) + 1 for letter in text], np.int32)


def _fits(lesson: Lesson) -> bool:
    text, encoding = lesson
    return encoding.shape[1] <= LENGTHS[-1] and len(text) <= LONGEST_TEXT


def taught(given: Sequence[Lesson]) -> Weights:
    """A network that has learnt the lessons."""
    chance = np.random.default_rng(0)
    some = [given[at][1][0] for at in chance.permutation(len(given))[:300]]
    weights = fresh(some[0].shape[1], np.concatenate(some).astype(np.float32))
    pace = optax.warmup_cosine_decay_schedule(0.0, 2e-3, 100, STEPS)
    learner = optax.chain(optax.clip_by_global_norm(1.0), optax.adamw(pace, weight_decay=1e-3))
    state = learner.init(weights)

    def step(weights: Weights, state: Any, batch: Any, key: Any) -> tuple[Weights, Any, Any]:
        nats, slope = jax.value_and_grad(loss)(weights, batch, key)
        change, state = learner.update(slope, state, weights)
        return optax.apply_updates(weights, change), state, nats

    compiled = jax.jit(step)
    steps = 0
    while True:
        for batch in batches(given, chance):
            weights, state, nats = compiled(weights, state, batch, jax.random.PRNGKey(steps))
            steps += 1
            if steps % 100 == 0:
                print(f"step {steps} of {STEPS}: {float(nats):.3f} nats a letter", flush=True)
            if steps == STEPS:
                return dict(weights)


def main() -> None:
    """Make the lessons, learn them, and write the network."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    options.add_argument("--voices", type=Path, required=True, help="folder of what was said")
    options.add_argument("--taught", required=True, help="on what, in words")
    chosen = options.parse_args()
    graphs = EncoderDecoder(chosen.model)
    part = Part.DEVELOPMENT
    noise = babble(talk(part, Speakers(chosen.voices), VOICES[part]))
    given = [
        lesson
        for seed, engine in enumerate(SAID)
        for lesson in lessons(graphs, noise, engine, seed)
    ]
    given += of_nothing(graphs, noise, len(SAID))
    weights = taught([lesson for lesson in given if _fits(lesson)])
    encoder = (chosen.model / "encoder_model.ort").read_bytes()
    arrays: dict[str, Any] = {
        "encoder": np.array(hashlib.sha256(encoder).hexdigest()),
        "taught": np.array(chosen.taught),
        **{name: np.asarray(value, np.float16) for name, value in weights.items()},
    }
    np.savez_compressed(FILE, **arrays)


if __name__ == "__main__":
    main()
