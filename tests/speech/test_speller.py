"""The speller: letters from frames, and the sentences that they spell.

The probability of a text is compared with its definition, the sum over all sequences of frames
that give it: Graves, Fernández, Gomez and Schmidhuber, ICML 2006, equation 3.
"""

from __future__ import annotations

import hashlib
import itertools
import math
from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.language.answers import AskContacts, AskNumber, AskYesNo, grammar
from assistant.language.english import english
from assistant.language.grammar import Grammar, OneOf, Rule, Sequence, Term
from assistant.speech.errors import ModelError
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.speller.alignment import (
    BLANK,
    Frames,
    frames_of,
    log_likelihoods,
    nothing,
)
from assistant.speech.moonshine.speller.alphabet import ALPHABET
from assistant.speech.moonshine.speller.bands import VALUES
from assistant.speech.moonshine.speller.judge import LEAST, SpellingJudge, can_spell
from assistant.speech.moonshine.speller.network import BANDS, OF_BANDS, OF_ENCODER, Network
from assistant.speech.moonshine.speller.search import Terms, only, spelled_best
from assistant.speech.moonshine.speller.speller import UNSPELLED, Speller, SpellingJudges

MODEL = models_folder() / "moonshine-tiny-en"
needs_model = pytest.mark.skipif(
    not (MODEL / "encoder_model.ort").is_file(),
    reason=f"no model in {MODEL}: gloveside model fetch",
)
LETTERS = "abe"
NUMBERS = [BLANK, *(ALPHABET.index(letter) + 1 for letter in LETTERS)]


def few_letters(chance: np.random.Generator, count: int) -> Frames:
    """Frames in which only the blank and the letters a, b and e are likely."""
    values = np.full((count, len(ALPHABET) + 1), -np.inf)
    values[:, NUMBERS] = chance.normal(0.0, 1.5, (count, len(NUMBERS)))
    return frames_of(values)


def spelled_by(frames: Frames) -> dict[str, float]:
    """The probability of every text by its definition."""
    total: dict[str, float] = defaultdict(float)
    for said in itertools.product(range(len(NUMBERS)), repeat=len(frames)):
        probability = math.prod(
            float(frames[at, NUMBERS[letter]]) for at, letter in enumerate(said)
        )
        text = "".join(LETTERS[one - 1] for one, _ in itertools.groupby(said) if one)
        total[text] += probability
    return total


frames_and_seed = st.tuples(st.integers(1, 5), st.integers(0, 10_000))


@settings(max_examples=30)
@given(frames_and_seed)
def test_a_text_is_as_likely_as_all_the_ways_to_spell_it(drawn: tuple[int, int]) -> None:
    frames = few_letters(np.random.default_rng(drawn[1]), drawn[0])
    by_definition = spelled_by(frames)
    texts = [text for text in by_definition if text]
    expected = np.log([by_definition[text] for text in texts])
    assert log_likelihoods(frames, texts) == pytest.approx(expected)


@settings(max_examples=30)
@given(frames_and_seed)
def test_a_beginning_is_as_likely_as_all_texts_that_begin_so(drawn: tuple[int, int]) -> None:
    frames = few_letters(np.random.default_rng(drawn[1]), drawn[0])
    by_definition = spelled_by(frames)
    # Whatever follows has all the frames that are left, as each of them says something.
    whole = sum(by_definition.values())
    assert whole == pytest.approx(math.prod(float(row.sum()) for row in frames))
    for text in ("a", "ab", "aa", "bae"):
        spelled = nothing(scaled(frames)).then(scaled(frames), [text])
        begins = sum(p for said, p in by_definition.items() if said.startswith(text))
        assert spelled.begun[0] == pytest.approx(begins / whole)


def scaled(frames: Frames) -> Frames:
    """Frames whose probabilities add up to one, as the definition of a beginning wants."""
    return np.asarray(frames / frames.sum(axis=1, keepdims=True))


def test_a_letter_twice_needs_a_frame_between() -> None:
    frames = few_letters(np.random.default_rng(3), 2)
    assert log_likelihoods(frames, ["aa"])[0] == -math.inf
    assert log_likelihoods(frames, ["ab"])[0] > -math.inf


def test_texts_of_different_lengths_are_spelled_together_as_alone() -> None:
    frames = few_letters(np.random.default_rng(4), 6)
    texts = ["a", "abe", "ba", "beab"]
    alone = [float(log_likelihoods(frames, [text])[0]) for text in texts]
    assert log_likelihoods(frames, texts) == pytest.approx(alone)


def test_a_character_outside_the_alphabet_is_refused() -> None:
    with pytest.raises(KeyError):
        log_likelihoods(few_letters(np.random.default_rng(5), 2), ["é"])


SMALL = Grammar(
    (
        Rule(
            "small",
            Sequence(
                OneOf(Term("a"), Term("bab"), Term("be")), OneOf(Term("a"), Term("b"), Term("ab e"))
            ),
            interpret=lambda tags: None,
        ),
        Rule("alone", OneOf(Term("be"), Term("e")), interpret=lambda tags: None),
    )
)
SENTENCES = [f"{a} {b}" for a in ("a", "bab", "be") for b in ("a", "b", "ab e")] + ["be", "e"]


@settings(max_examples=50)
@given(st.tuples(st.integers(4, 14), st.integers(0, 10_000)))
def test_the_search_finds_what_is_spelled_best_of_all_sentences(drawn: tuple[int, int]) -> None:
    chance = np.random.default_rng(drawn[1])
    frames = frames_of(chance.normal(0.0, 1.0, (drawn[0], len(ALPHABET) + 1)))
    likely = log_likelihoods(frames, SENTENCES)
    order = [SENTENCES[at] for at in np.argsort(-likely, kind="stable")]
    found = [" ".join(term.spoken for term in terms) for terms in spelled_best(SMALL, frames, 3)]
    assert found == order[:3]


def frames_that_say(text: str) -> Frames:
    """Frames that say a text plainly, each letter and a blank after it."""
    values = np.full((2 * len(text), len(ALPHABET) + 1), -8.0)
    for at, letter in enumerate(text):
        values[2 * at, ALPHABET.index(letter) + 1] = values[2 * at + 1, BLANK] = 0.0
    return frames_of(values)


@pytest.mark.parametrize(
    "text",
    ["one and two closed three and four open", "all four closed", "hold it", "three open"],
)
def test_what_is_spelled_plainly_is_proposed_first(text: str) -> None:
    contacts = grammar(AskContacts((1, 2, 3, 4)), english())
    judge = SpellingJudge(contacts, frames_that_say(text))
    best = judge.proposals()[0]
    assert " ".join(term.spoken for term in best) == text
    assert only([best]).as_said(text) == text


def test_a_text_is_weighed_as_it_is_said_however_it_is_written() -> None:
    contacts = grammar(AskContacts((1, 2)), english())
    judge = SpellingJudge(contacts, frames_that_say("one and two closed"))
    plain, figures, other = judge.spelled(
        ["one and two closed", "Won and 2 closed.", "one and two open"]
    )
    assert plain == figures
    assert plain > -1.0
    assert LEAST <= other < plain - 5.0


def test_every_word_of_the_english_book_can_be_spelled_but_not_of_any_language() -> None:
    for question in (AskContacts((1, 2)), AskYesNo(), AskNumber("turns")):
        assert can_spell(grammar(question, english()))
    german = Rule("states", Term("geöffnet"), interpret=lambda tags: None)
    assert not can_spell(Grammar((german,)))


@pytest.mark.parametrize("file", [OF_ENCODER, OF_BANDS])
def test_a_network_computes_convolutions_as_defined(file: Path) -> None:
    """Each output is the sum over some frames, `apart` from each other (numpy has no dilation)."""
    network = Network.load(file)
    chance = np.random.default_rng(7)
    frames = chance.standard_normal((30, len(network.mean))).astype(np.float32)
    values = (frames - network.mean) * network.scale
    for at, ((weights, offsets), apart) in enumerate(
        zip(network.convolutions, network.dilations, strict=True)
    ):
        convolved = np.tile(offsets, (len(values), 1)).astype(np.float64)
        for frame, tap in itertools.product(range(len(values)), range(len(weights))):
            seen = frame + (tap - len(weights) // 2) * apart
            if 0 <= seen < len(values):
                convolved[frame] += values[seen] @ weights[tap]
        # Hendrycks and Gimpel 2016, section 2, in its exact form: x times the normal distribution.
        normal = 0.5 * (1 + np.vectorize(math.erf)(convolved / math.sqrt(2)))
        values = convolved * normal if at == 0 else values + convolved * normal
    weights, offsets = network.letters
    expected = frames_of(values @ weights + offsets)
    assert network.spell(frames) == pytest.approx(expected, abs=0.03)


def test_the_networks_name_what_they_read_and_were_taught_on() -> None:
    of_encoder, of_bands = Network.load(OF_ENCODER), Network.load(OF_BANDS)
    assert len(of_encoder.reads) == len(hashlib.sha256().hexdigest())
    assert of_bands.reads == BANDS
    assert len(of_bands.mean) == VALUES
    for network in (of_encoder, of_bands):
        assert "voices" in network.taught
    assert OF_ENCODER.stat().st_size + OF_BANDS.stat().st_size < 4_000_000


def test_only_the_bands_are_spelled_for_another_encoder() -> None:
    other = Speller.load(hashlib.sha256(b"another").hexdigest())
    assert other.of_encoder is None
    sound = np.random.default_rng(9).standard_normal(8_000).astype(np.float32)
    contacts = grammar(AskContacts((1, 2)), english())
    judges = other.judges(sound, np.zeros((1, 20, 288), np.float32), contacts)
    spelled = judges.spelled(["one closed"])[0]
    assert spelled.by_encoder == UNSPELLED
    assert LEAST <= spelled.by_bands <= 0.0
    assert judges.proposals() == judges.by_bands.proposals()


def test_both_networks_propose_and_neither_twice() -> None:
    contacts = grammar(AskContacts((1, 2)), english())
    one, two = (
        SpellingJudge(contacts, frames_that_say(text)) for text in ("one closed", "two open")
    )
    proposed = [" ".join(term.spoken for term in terms) for terms in both(one, two)]
    assert proposed[0] == "one closed"
    assert "two open" in proposed
    assert both(one, one) == one.proposals()


def both(by_encoder: SpellingJudge, by_bands: SpellingJudge) -> list[Terms]:
    return SpellingJudges(by_encoder, by_bands).proposals()


@needs_model
def test_the_network_of_the_default_encoder_is_the_one_that_is_shipped() -> None:
    encoder = (MODEL / "encoder_model.ort").read_bytes()
    assert Network.load(OF_ENCODER).reads == hashlib.sha256(encoder).hexdigest()


@pytest.mark.parametrize("content", [None, b"", b"no archive", OF_BANDS.read_bytes()[:9_000]])
def test_a_missing_or_damaged_network_is_named_with_the_remedy(
    tmp_path: Path, content: bytes | None
) -> None:
    file = tmp_path / "of-bands.npz"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(ModelError, match=r"of-bands\.npz.*install gloveside again"):
        Network.load(file)


def test_an_archive_that_lacks_a_part_is_named_too(tmp_path: Path) -> None:
    file = tmp_path / "of-bands.npz"
    np.savez(file, reads=np.array(BANDS), dilations=np.array([1]))
    with pytest.raises(ModelError, match=r"of-bands\.npz"):
        Network.load(file)
