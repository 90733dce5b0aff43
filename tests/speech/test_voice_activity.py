"""Voice activity: the model on speech of espeak-ng and on noise."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.speech import wav
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import ModelError
from assistant.speech.models.catalogue import models_folder
from assistant.speech.voice.voices import Renderer

MODEL = models_folder() / "silero-vad"
needs_the_model = pytest.mark.skipif(
    not MODEL.is_dir(), reason=f"no model in {MODEL}: gloveside model fetch"
)


def probabilities(sound: Samples, detector: VoiceActivity | None = None) -> list[float]:
    detector = detector or VoiceActivity.load(MODEL)
    starts = range(0, len(sound) - BLOCK + 1, BLOCK)
    return [detector.probability(sound[at : at + BLOCK]) for at in starts]


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> Samples:
    pytest.importorskip("espeakng_loader", reason="the voice needs the package espeakng-loader")
    with Renderer(tmp_path_factory.mktemp("said")) as renderer:
        return wav.read(renderer.render("one and two closed, three and four open"))


@needs_the_model
def test_speech_is_found(said: Samples) -> None:
    found = probabilities(said)
    assert sum(one >= 0.5 for one in found) > 0.6 * len(found)


@needs_the_model
def test_hum_and_hiss_are_no_speech() -> None:
    time = np.arange(3 * SAMPLE_RATE) / SAMPLE_RATE
    hum = sum(np.sin(2 * np.pi * 50 * number * time) / number for number in range(1, 20))
    hiss = np.random.default_rng(1).standard_normal(len(time))
    for noise in (0.1 * np.asarray(hum), 0.1 * hiss, 0.0 * hiss):
        assert max(probabilities(noise.astype(np.float32))) < 0.5


@needs_the_model
@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf, 1e30])
def test_values_that_are_no_sound_are_no_speech_and_do_no_harm(value: float, said: Samples) -> None:
    detector = VoiceActivity.load(MODEL)
    wrong = np.full(SAMPLE_RATE, value, np.float32)
    assert max(probabilities(wrong, detector)) < 0.5
    assert max(probabilities(said, detector)) > 0.9


@needs_the_model
def test_blocks_that_do_not_fill_its_windows_are_put_together(said: Samples) -> None:
    # by how the model takes sound: windows of 512 samples, whatever the pieces
    whole, pieces = VoiceActivity.load(MODEL), VoiceActivity.load(MODEL)
    sound = said[: 512 * 20]
    in_windows = [whole.probability(part) for part in np.split(sound, 20)]
    in_pieces = [pieces.probability(part) for part in np.split(sound, 80)]
    assert in_pieces[3::4] == in_windows


def test_a_missing_or_broken_file_is_named_with_the_remedy(tmp_path: Path) -> None:
    folder = tmp_path / "silero-vad"
    folder.mkdir()
    for _ in range(2):
        with pytest.raises(ModelError, match=r"silero_vad_16k_op15\.onnx.*model fetch silero-vad"):
            VoiceActivity.load(folder)
        (folder / "silero_vad_16k_op15.onnx").write_bytes(b"no graph")
