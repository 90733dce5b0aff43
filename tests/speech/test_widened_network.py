"""A network that is widened for more lessons spells as it did before.

That twins whose share is halved change nothing: Chen, Goodfellow and Shlens, ICLR 2016.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("jax", reason="teaching needs the package jax")

import jax

from tests.bench.speller import weights as networks
from tests.bench.speller.teach import spelled

NARROW = networks.Plan(3, 6, (1, 1, 2), kept=(1.0, 1.0), steps=1, pace=1e-3)
WIDE = replace(NARROW, width=9, dilations=(1, 1, 2, 4))
FRAMES = np.random.default_rng(0).standard_normal((2, 12, 5)).astype(np.float32)
REAL = np.ones((2, 12, 1), np.float32)


def letters(plan: networks.Plan, weights: networks.Weights) -> np.ndarray:
    return np.asarray(spelled(plan, weights, FRAMES, REAL, jax.random.PRNGKey(0)))


def test_a_widened_network_spells_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    narrow = networks.fresh(NARROW, FRAMES[0])
    monkeypatch.setattr(networks, "UNLIKE", 0.0)
    before, after = letters(NARROW, narrow), letters(WIDE, networks.widened(narrow, WIDE))
    assert np.abs(before).max() > 0.1
    np.testing.assert_allclose(after, before, atol=1e-4)


def test_twins_differ_for_else_they_would_learn_the_same() -> None:
    wide = networks.widened(networks.fresh(NARROW, FRAMES[0]), WIDE)
    columns = np.asarray(wide["weights-0"]).reshape(-1, WIDE.width)
    assert len(np.unique(columns, axis=1).T) == WIDE.width


def test_a_network_of_the_plan_is_left_as_it_is() -> None:
    narrow = networks.fresh(NARROW, FRAMES[0])
    assert networks.widened(narrow, NARROW) is narrow


@pytest.mark.parametrize(
    ("plan", "why"),
    [
        (replace(NARROW, width=5), "cannot be widened to 5"),
        (replace(NARROW, dilations=(1, 2, 2)), "do not begin"),
        (replace(NARROW, taps=5), "see 3 frames, not 5"),
    ],
)
def test_a_network_that_cannot_grow_to_the_plan_is_refused(
    plan: networks.Plan, why: str, tmp_path: Path
) -> None:
    file = tmp_path / "network.npz"
    weights = networks.fresh(NARROW, FRAMES[0])
    networks.write(file, NARROW.dilations, weights, "bands", "nothing")
    with pytest.raises(ValueError, match=why):
        networks.taught_before(file, plan)
