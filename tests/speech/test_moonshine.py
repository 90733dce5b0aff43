from __future__ import annotations

import math
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from assistant.language.answers import AskContacts, AskNumber, AskYesNo, grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import Command, ContactStates, Meaning, Quantity, Word
from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import ModelError
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.confidence import BORROWED_LEVEL, BOUNDS, Calibration, Evidence
from assistant.speech.moonshine.encoder_decoder import EncoderDecoder
from assistant.speech.moonshine.readings import readings, unspelled
from assistant.speech.moonshine.recogniser import BORROWED, LONGEST_UTTERANCE, UNHEARD, Moonshine
from assistant.speech.moonshine.rival import Rival
from assistant.speech.moonshine.search import Path as Found
from assistant.speech.moonshine.second_hearing import BothHearings, slower
from assistant.speech.moonshine.speller.speller import Spelling
from assistant.speech.voice.rendering import Renderer
from assistant.trade.contacts import ContactState

MODEL = models_folder() / "moonshine-tiny-en"
needs_model = pytest.mark.skipif(
    not (MODEL / "encoder_model.ort").is_file(),
    reason=f"no model in {MODEL}: gloveside model fetch",
)

LARGER = models_folder() / "moonshine-base-en"
needs_larger = pytest.mark.skipif(
    not (LARGER / "encoder_model.ort").is_file(),
    reason=f"no model in {LARGER}: gloveside model fetch moonshine-base-en",
)

BOOK = english()
CONTACTS = grammar(AskContacts((1, 2, 3, 4)), BOOK)
YES_NO = grammar(AskYesNo(), BOOK)
TURNS = grammar(AskNumber("turns"), BOOK)


@pytest.fixture(scope="module")
def recogniser(tmp_path_factory: pytest.TempPathFactory) -> Moonshine:
    return Moonshine.load(MODEL, tmp_path_factory.mktemp("prior"))


@pytest.fixture(scope="module")
def voice(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Samples]:
    """Says a text in the program's own voice."""
    renderer = Renderer(tmp_path_factory.mktemp("voice"))
    return lambda text: wav.read(renderer.render(text))


CLOSED, OPEN = ContactState.CLOSED, ContactState.OPEN


@needs_model
@pytest.mark.parametrize(
    ("under", "text", "meaning"),
    [
        (CONTACTS, "one and two closed", ContactStates.of({1: CLOSED, 2: CLOSED})),
        (CONTACTS, "one closed two open", ContactStates.of({1: CLOSED, 2: OPEN})),
        (CONTACTS, "hold", Command(Word.HOLD)),
        (YES_NO, "yes", Command(Word.YES)),
        (YES_NO, "no", Command(Word.NO)),
        (TURNS, "twenty five turns", Quantity(25.0, "turns")),
    ],
)
def test_a_spoken_reply_is_understood(
    recogniser: Moonshine,
    voice: Callable[[str], Samples],
    under: Grammar,
    text: str,
    meaning: Meaning,
) -> None:
    heard = recogniser.recognise(voice(text), under)
    assert heard.accepted() == meaning
    assert heard.engine == "moonshine-tiny-en"
    assert under.parse(heard.text) == meaning


@needs_larger
def test_the_larger_model_serves_as_well(voice: Callable[[str], Samples]) -> None:
    recogniser = Moonshine.load(LARGER)
    heard = recogniser.recognise(voice("one and two closed"), CONTACTS)
    assert heard.accepted() == ContactStates.of({1: CLOSED, 2: CLOSED})
    assert heard.engine == f"moonshine-base-en, {BORROWED}"
    noise = (0.03 * np.random.default_rng(5).standard_normal(SAMPLE_RATE)).astype(np.float32)
    assert recogniser.recognise(noise, CONTACTS).accepted() is None


@needs_model
def test_a_model_without_a_calibration_of_its_own_says_so_and_is_believed_less(
    voice: Callable[[str], Samples], monkeypatch: pytest.MonkeyPatch
) -> None:
    another = replace(Calibration.load(), encoder="0" * 64)
    monkeypatch.setattr(Calibration, "load", lambda: another)
    heard = Moonshine.load(MODEL).recognise(voice("one and two closed"), CONTACTS)
    assert heard.engine == f"moonshine-tiny-en, {BORROWED}"
    assert heard.level == BORROWED_LEVEL > another.level


@needs_model
@pytest.mark.parametrize(("logit_of_one", "stated", "hearings"), [(0.0, 1.0, 2), (3.5, 3.5, 1)])
def test_only_a_doubtful_reading_is_heard_again(
    logit_of_one: float,
    stated: float,
    hearings: int,
    voice: Callable[[str], Samples],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    nothing = dict.fromkeys(BOUNDS, 0.0)
    both = BothHearings(offset=1.0, less_sure=0.0, surer=0.0)
    calibration = replace(Calibration.load(), offset=logit_of_one, weights=nothing, both=both)
    monkeypatch.setattr(Calibration, "load", lambda: calibration)
    recogniser, lengths = Moonshine.load(MODEL), []
    weigh = recogniser.weigh

    def weighed(samples: Samples, under: Grammar) -> Evidence | None:
        lengths.append(len(samples))
        return weigh(samples, under)

    monkeypatch.setattr(recogniser, "weigh", weighed)
    said = voice("one and two closed")
    heard = recogniser.recognise(said, CONTACTS)
    assert heard.confidence == pytest.approx(1.0 / (1.0 + math.exp(-stated)))
    assert lengths == [len(said), len(slower(said))][:hearings]


@needs_larger
def test_a_beginning_decoded_at_once_is_as_likely_as_piece_by_piece() -> None:
    # The cache must not change what is computed. The larger model computes in float32; the default
    # one rounds activations over the whole batch, so there it holds only within about a nat.
    graphs = EncoderDecoder(LARGER)
    noise = np.random.default_rng(8).standard_normal(SAMPLE_RATE).astype(np.float32) * 0.05
    empty = graphs.decode(graphs.encode(noise))
    stepwise = empty.extend([0, 0], [400, 500]).extend([1, 0], [600, 700])
    at_once = graphs.decode(empty.encoding, [(500, 600), (400, 700)])
    assert stepwise.following == pytest.approx(at_once.following, abs=1e-3)


@needs_model
@pytest.mark.parametrize(
    "text",
    [
        "the crane driver is having his lunch in the yard",
        "please leave a message for the office after the tone",
    ],
)
def test_other_talk_is_no_reply(
    recogniser: Moonshine, voice: Callable[[str], Samples], text: str
) -> None:
    for under in (CONTACTS, YES_NO, TURNS):
        assert recogniser.recognise(voice(text), under).accepted() is None


@needs_model
@pytest.mark.parametrize("level", [0.003, 0.03, 0.3])
def test_noise_is_no_reply(recogniser: Moonshine, level: float) -> None:
    noise = np.random.default_rng(5).standard_normal(SAMPLE_RATE) * level
    for under in (CONTACTS, YES_NO):
        assert recogniser.recognise(noise.astype(np.float32), under).accepted() is None


@needs_model
@pytest.mark.parametrize(
    "samples",
    [
        np.zeros(0, np.float32),
        np.ones(10, np.float32),
        np.zeros(SAMPLE_RATE, np.float32),
        np.full(SAMPLE_RATE, np.nan, np.float32),
        np.full(SAMPLE_RATE, np.inf, np.float32),
    ],
    ids=["empty", "short", "zeros", "nan", "infinite"],
)
def test_audio_that_cannot_hold_a_word_has_no_reading(
    recogniser: Moonshine, samples: Samples
) -> None:
    heard = recogniser.recognise(samples, YES_NO)
    assert (heard.text, heard.meaning, heard.confidence) == ("", None, 0.0)
    assert heard.seconds == len(samples) / SAMPLE_RATE


@needs_model
def test_the_shortest_and_longer_than_the_longest_audio_pass(recogniser: Moonshine) -> None:
    noise = np.random.default_rng(6).standard_normal((LONGEST_UTTERANCE + 3) * SAMPLE_RATE)
    samples = (0.01 * noise).astype(np.float32)
    for length in (1_599, 1_600, 1_601, len(samples)):
        heard = recogniser.recognise(samples[:length], YES_NO)
        assert heard.seconds == pytest.approx(length / SAMPLE_RATE)
        assert heard.accepted() is None
        assert heard.text.endswith(UNHEARD) is (length > LONGEST_UTTERANCE * SAMPLE_RATE)


@needs_model
def test_the_same_audio_gives_the_same_with_and_without_a_kept_prior(
    recogniser: Moonshine, voice: Callable[[str], Samples]
) -> None:
    samples = voice("three open")
    first = recogniser.recognise(samples, CONTACTS)
    again = recogniser.recognise(samples, CONTACTS)
    fresh = Moonshine.load(MODEL).recognise(samples, CONTACTS)
    assert again == first
    assert (fresh.text, fresh.meaning) == (first.text, first.meaning)
    assert fresh.confidence == pytest.approx(first.confidence, abs=1e-3)


def test_a_missing_model_is_named_with_the_remedy(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match=r"encoder_model\.ort.*gloveside model fetch"):
        Moonshine.load(tmp_path)


@needs_model
def test_a_damaged_model_is_named_with_the_remedy(tmp_path: Path) -> None:
    for file in MODEL.iterdir():
        if file.is_file():
            shutil.copy(file, tmp_path / file.name)
    (tmp_path / "decoder_model_merged.ort").write_bytes(b"not a model")
    with pytest.raises(ModelError, match=r"decoder_model_merged\.ort.*gloveside model fetch"):
        Moonshine.load(tmp_path)


def path(text: str, heard: float, unheard: float) -> Found:
    tokens = tuple(map(ord, text))
    return Found(tokens, frozenset(), heard, np.array([unheard], np.float32))


BADLY, WELL = Spelling(-9.0, -9.0), Spelling(0.0, 0.0)


def written(tokens: tuple[int, ...]) -> str:
    return "".join(map(chr, tokens))


def test_ways_to_write_one_meaning_add_up() -> None:
    half = math.log(0.5)
    found = readings(
        [path("Yes.", half, -5.0), path("yes", math.log(0.25), -5.0), path("No.", -4.0, -1.0)],
        written,
        YES_NO.parse,
        unspelled,
    )
    assert [one.meaning for one in found] == [Command(Word.YES), Command(Word.NO)]
    assert found[0].heard == pytest.approx(math.log(0.75))
    assert found[0].text == "Yes."


def test_a_sentence_that_means_nothing_stands_for_itself() -> None:
    found = readings([path("one open one closed", -1.0, -9.0)], written, CONTACTS.parse, unspelled)
    assert [one.meaning for one in found] == [None]


def test_what_is_spelled_better_wins_where_the_decoder_cannot_tell() -> None:
    found = readings(
        [path("Yes.", -1.0, -5.0), path("No.", -1.0, -5.0)],
        written,
        YES_NO.parse,
        lambda texts: [
            Spelling(-9.0, -9.0) if text == "Yes." else Spelling(0.0, 0.0) for text in texts
        ],
    )
    assert [one.meaning for one in found] == [Command(Word.NO), Command(Word.YES)]


# Common practice, no source: commands are rarer than answers, and "hold" has to work always.
@pytest.mark.parametrize(("command", "first"), [("Go back.", Word.YES), ("Hold.", Word.HOLD)])
def test_a_command_has_to_be_heard_better_than_an_answer_but_for_hold(
    command: str, first: Word
) -> None:
    found = readings(
        [path(command, -1.0, -5.0), path("Yes.", -1.5, -5.0)], written, YES_NO.parse, unspelled
    )
    assert found[0].meaning == Command(first)


def test_where_nobody_spells_a_reading_is_believed_less() -> None:
    sentences = [path("Yes.", -1.0, -9.0), path("No.", -9.0, -9.0)]
    alone = readings(sentences, written, YES_NO.parse, unspelled)
    seconded = readings(sentences, written, YES_NO.parse, lambda texts: [WELL for _ in texts])
    stated = [
        Calibration.load().confidence_by_one(Evidence(best, other, Rival((), -1.0)))
        for best, other in (alone, seconded)
    ]
    assert stated[0] < stated[1]
