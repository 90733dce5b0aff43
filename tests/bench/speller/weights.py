"""The weights of a network that learns: begun afresh, or from one that was taught before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jax
import jax.numpy as jnp
import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.speller.alphabet import ALPHABET

__all__ = ["Plan", "Weights", "fresh", "taught_before", "widened", "write"]

LETTERS = len(ALPHABET) + 1

NO_WEIGHTS = ("reads", "taught", "dilations")
"""What else stands in a network's file."""

UNLIKE = 0.02
"""By how much twins differ when a network is widened, for else they would learn the same."""

Weights = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Plan:
    """How a network learns.

    Args:
        taps: frames that each convolution sees; odd.
        width: values of a frame between convolutions.
        dilations: of each convolution.
        kept: shares of what comes in, and of what each convolution adds, that are not dropped.
        steps: batches.
        pace: the highest rate of learning.
    """

    taps: int
    width: int
    dilations: tuple[int, ...]
    kept: tuple[float, float]
    steps: int
    pace: float


def fresh(plan: Plan, frames: NDArray[np.float32]) -> Weights:
    """A network that has learnt nothing, and takes what comes in for as strong as in these frames.

    Args:
        plan: of what size.
        frames: some, shape (frames, values).
    """
    keys = iter(jax.random.split(jax.random.PRNGKey(0), len(plan.dilations) + 1))
    drawn = jax.nn.initializers.he_normal()
    weights = {
        "mean": jnp.array(frames.mean(0)),
        "scale": jnp.array(1 / (frames.std(0) + 1e-3)),
        "weights-letters": 0.1 * drawn(next(keys), (plan.width, LETTERS)),
        "offsets-letters": jnp.zeros(LETTERS),
    }
    for at in range(len(plan.dilations)):
        shape = (plan.taps, frames.shape[1] if at == 0 else plan.width, plan.width)
        weights[f"weights-{at}"] = drawn(next(keys), shape) * (1.0 if at == 0 else 0.5)
        weights[f"offsets-{at}"] = jnp.zeros(plan.width)
    return weights


def taught_before(file: Path, plan: Plan) -> Weights:
    """The weights of a network that was written, widened to a plan.

    Raises:
        ValueError: it is wider or has other convolutions or taps, so that it cannot grow to the
            plan.
    """
    with np.load(file, allow_pickle=False) as kept:
        dilations = tuple(int(apart) for apart in kept["dilations"])
        weights = {
            name: jnp.array(kept[name], jnp.float32)
            for name in kept.files
            if name not in NO_WEIGHTS
        }
    if plan.dilations[: len(dilations)] != dilations:
        raise ValueError(f"{file}: convolutions {dilations} do not begin {plan.dilations}")
    if (taps := len(weights["weights-0"])) != plan.taps:
        raise ValueError(f"{file}: its convolutions see {taps} frames, not {plan.taps}")
    return widened(weights, plan)


def widened(weights: Weights, plan: Plan) -> Weights:
    """A larger network that spells as the smaller one does.

    Values of a frame are doubled, and what goes on from them halved (Chen, Goodfellow and Shlens,
    ICLR 2016); a convolution that is new adds nothing yet.

    Raises:
        ValueError: the network is wider than the plan.
    """
    width = len(weights["offsets-0"])
    if width > plan.width:
        raise ValueError(f"a network of {width} values cannot be widened to {plan.width}")
    if width == plan.width and f"offsets-{len(plan.dilations) - 1}" in weights:
        return weights
    chance = np.random.default_rng(0)
    of = np.concatenate([np.arange(width), chance.integers(0, width, plan.width - width)])
    shared = jnp.array(1 / np.bincount(of)[of], jnp.float32)[:, None]

    def unlike(values: Any) -> Any:
        return values * (1 + UNLIKE * chance.standard_normal(values.shape))

    larger = {
        "mean": weights["mean"],
        "scale": weights["scale"],
        "weights-letters": unlike(weights["weights-letters"][of] * shared),
        "offsets-letters": weights["offsets-letters"],
    }
    for at in range(len(plan.dilations)):
        if (name := f"weights-{at}") not in weights:
            larger[name] = jnp.zeros((plan.taps, plan.width, plan.width))
            larger[f"offsets-{at}"] = jnp.zeros(plan.width)
            continue
        before = weights[name] if at == 0 else weights[name][:, of] * shared
        larger[name] = unlike(before[:, :, of])
        larger[f"offsets-{at}"] = weights[f"offsets-{at}"][of]
    return larger


def write(file: Path, dilations: Sequence[int], weights: Weights, reads: str, words: str) -> None:
    """The network's file.

    Args:
        file: where.
        dilations: of each convolution.
        weights: by name.
        reads: what it reads: `BANDS`, or the SHA-256 of an encoder.
        words: on what it was taught.
    """
    arrays: dict[str, Any] = {
        "reads": np.array(reads),
        "taught": np.array(words),
        "dilations": np.array(tuple(dilations)),
        **{name: np.asarray(value, np.float16) for name, value in weights.items()},
    }
    np.savez_compressed(file, **arrays)
