from __future__ import annotations

import os
import random
import re
from pathlib import Path

import pytest

from assistant.language.answers import (
    AskContacts,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    confirming,
    grammar,
)
from assistant.language.english import english
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.pieces import PieceError, Pieces

MODEL = models_folder() / "moonshine-tiny-en"
TOKENIZER_JSON = os.environ.get("GLOVESIDE_TOKENIZER_JSON", "")

needs_model = pytest.mark.skipif(
    not (MODEL / "tokenizer.bin").is_file(), reason=f"no model in {MODEL}: gloveside model fetch"
)
needs_reference = pytest.mark.skipif(
    not TOKENIZER_JSON or not Path(TOKENIZER_JSON).is_file(),
    reason="name the makers' tokenizer.json (in the wheel useful-moonshine-onnx, folder "
    "moonshine_onnx/assets) in GLOVESIDE_TOKENIZER_JSON",
)

SPECIAL = ("<unk>", "<s>", "</s>")


def pieces_of(*texts: str) -> Pieces:
    return Pieces(text.encode() for text in (*SPECIAL, *texts))


def test_neighbours_with_the_lowest_joint_number_join_first() -> None:
    # byte-pair encoding by rank (Sennrich et al. 2016, algorithm 1): of "ab" (7) and "bc" (8) in
    # "abc" the pair learnt first joins, and "abc" is never reached from "bc"
    pieces = pieces_of("▁", "a", "b", "c", "ab", "bc")
    assert pieces.glued("abc") == (7, 6)
    assert pieces_of("▁", "a", "b", "c", "bc", "ab").glued("abc") == (4, 7)


def test_a_word_begins_with_its_space() -> None:
    pieces = pieces_of("▁", "o", "▁o")
    assert pieces.segment("o") == (5,)
    assert pieces.glued("o") == (4,)


def test_a_character_outside_the_vocabulary_is_named() -> None:
    with pytest.raises(PieceError, match="cannot write 'é' in ' é'"):
        pieces_of("▁").segment("é")


def test_a_character_without_a_piece_is_written_in_bytes() -> None:
    # byte fallback as in SentencePiece: é is C3 A9 in UTF-8
    singles = [bytes([value]) for value in range(256)]
    pieces = Pieces([*map(str.encode, SPECIAL), *singles, "▁".encode(), b"a"])
    assert pieces.segment("aé") == (259, 260, 3 + 0xC3, 3 + 0xA9)
    assert pieces.text(pieces.segment("aé")) == "aé"


def test_two_byte_lengths_are_read(tmp_path: Path) -> None:
    # low part first, value = second x 128 + first - 128: 300 = 2 x 128 + 44, so 172 and 2
    file = tmp_path / "tokenizer.bin"
    entries = [b"\x05<unk>", b"\x03<s>", b"\x04</s>", b"\x03\xe2\x96\x81", b"\xac\x02" + b"x" * 300]
    file.write_bytes(b"".join(entries))
    assert Pieces.load(file).text((4,)) == "x" * 300


@pytest.mark.parametrize("data", [b"", b"\x03a", b"\x01a\x01b\x01c\x01d", b"\xff"])
def test_a_broken_vocabulary_is_refused_with_its_name(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "tokenizer.bin"
    file.write_bytes(data)
    with pytest.raises(PieceError, match=r"tokenizer\.bin: .*fetch the model again"):
        Pieces.load(file)


def sentences() -> list[str]:
    """Sentences of the job, plain and as a model may case and punctuate them."""
    book = english()
    grammars = [
        grammar(AskContacts((1, 2, 3, 4)), book),
        grammar(AskContacts((5, 6)), book),
        grammar(AskNumber("turns"), book),
        grammar(AskNumber("%"), book),
        grammar(AskRotation(), book),
        grammar(AskSpelling(), book),
        confirming(AskYesNo(), book),
    ]
    plain = [sentence for one in grammars for sentence in one.sentences(300)]
    figures = ["네 é", "KF 07.", "1, 2 closed", "12 turns", "2.4%", "twenty-five turns", "x-ray"]
    cased = [sentence.capitalize() + "." for sentence in plain]
    paused = [re.sub(r" (and|is|are) ", r", \1 ", sentence) for sentence in plain]
    return [*plain, *cased, *paused, *figures]


@pytest.mark.parametrize("model", ["moonshine-tiny-en", "moonshine-base-en"])
def test_text_comes_back_from_its_pieces(model: str) -> None:
    file = models_folder() / model / "tokenizer.bin"
    if not file.is_file():
        pytest.skip(f"no model {model}: gloveside model fetch {model}")
    pieces = Pieces.load(file)
    for sentence in sentences():
        assert pieces.text(pieces.segment(sentence)) == sentence


@needs_model
@needs_reference
def test_segmentation_is_the_makers_own() -> None:
    # reference: the tokenizers library on the makers' tokenizer.json
    pieces = Pieces.load(MODEL / "tokenizer.bin")
    reference = pytest.importorskip("tokenizers").Tokenizer.from_file(TOKENIZER_JSON)
    for sentence in sentences():
        assert (1, *pieces.segment(sentence)) == tuple(reference.encode(sentence).ids), sentence


@needs_model
@needs_reference
def test_segmentation_of_random_words_is_the_makers_own() -> None:
    pieces = Pieces.load(MODEL / "tokenizer.bin")
    reference = pytest.importorskip("tokenizers").Tokenizer.from_file(TOKENIZER_JSON)
    letters = random.Random(7)
    for _ in range(2_000):
        word = "".join(letters.choices("abcdefghijklmnopqrstuvwxyzO0123456789-", k=9))
        assert (1, *pieces.segment(word)) == tuple(reference.encode(word).ids), word
