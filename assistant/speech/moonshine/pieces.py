"""Word pieces: between written text and the token numbers that a decoder reads and writes.

The vocabulary file lists the pieces in the order of their numbers, each as a length byte and its
UTF-8 bytes; a length of 128 or more takes two bytes, the low part first. ``▁`` stands for a space.

Segmentation is byte-pair encoding: of all neighbours that join to a known piece, those whose
joint piece has the lowest number join first, since the pieces are numbered in the order in which
they were learnt. A character that has no piece is written as the bytes of its UTF-8 form; the
pieces of single bytes stand right after the special ones.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from pathlib import Path

__all__ = ["END", "START", "PieceError", "Pieces"]

START = 1
"""The token before the first piece of a sentence."""

END = 2
"""The token after the last piece of a sentence."""

_SPECIAL = 3
_BYTES = 256
_TWO_BYTES = 128


class PieceError(ValueError):
    """A vocabulary file that is none, or text that its pieces cannot write."""


def _entries(data: bytes) -> Iterator[bytes]:
    at = 0
    while at < len(data):
        length = data[at]
        at += 1
        if length >= _TWO_BYTES:
            length = data[at] * _TWO_BYTES + length - _TWO_BYTES
            at += 1
        if at + length > len(data):
            raise IndexError
        yield data[at : at + length]
        at += length


class Pieces:
    """The pieces of one model, in the order of their numbers."""

    def __init__(self, pieces: Iterable[bytes]) -> None:
        self._pieces = tuple(pieces)
        singles = self._pieces[_SPECIAL : _SPECIAL + _BYTES]
        self._has_bytes = singles == tuple(bytes([value]) for value in range(_BYTES))
        # A letter is a byte, too; it is written by its own piece, which comes later.
        self._numbers = {piece: number for number, piece in enumerate(self._pieces)}
        self._segmented: dict[str, tuple[int, ...]] = {}

    @classmethod
    def load(cls, file: Path) -> Pieces:
        """Read the vocabulary file.

        Raises:
            PieceError: the file is cut short or is no vocabulary.
            OSError: the file cannot be read.
        """
        try:
            pieces = cls(_entries(file.read_bytes()))
        except IndexError:
            raise PieceError(
                f"{file}: the vocabulary is cut short; fetch the model again"
            ) from None
        if len(pieces) <= _SPECIAL or "▁".encode() not in pieces._numbers:
            raise PieceError(f"{file}: this is no vocabulary; fetch the model again")
        return pieces

    def __len__(self) -> int:
        return len(self._pieces)

    def segment(self, text: str) -> tuple[int, ...]:
        """Token numbers of written words, with a space before them as in any sentence.

        Raises:
            PieceError: the vocabulary has no piece for a character.
        """
        return self.glued(" " + text)

    def glued(self, text: str) -> tuple[int, ...]:
        """Token numbers of text that follows without a space.

        Raises:
            PieceError: the vocabulary has no piece for a character.
        """
        if text not in self._segmented:
            parts = self._join([character.encode() for character in text.replace(" ", "▁")])
            numbers = (number for part in parts for number in self._write(part, text))
            self._segmented[text] = tuple(numbers)
        return self._segmented[text]

    def _join(self, parts: list[bytes]) -> list[bytes]:
        while True:
            joint = [self._numbers.get(a + b) for a, b in itertools.pairwise(parts)]
            known = [(number, place) for place, number in enumerate(joint) if number is not None]
            if not known:
                return parts
            _, place = min(known)
            parts[place : place + 2] = [parts[place] + parts[place + 1]]

    def _write(self, piece: bytes, text: str) -> Iterable[int]:
        if piece in self._numbers:
            return (self._numbers[piece],)
        if self._has_bytes:
            return (_SPECIAL + value for value in piece)
        raise PieceError(f"the model cannot write {piece.decode()!r} in {text!r}")

    def text(self, tokens: Iterable[int]) -> str:
        """What the tokens write; special tokens write nothing.

        >>> pieces = Pieces(map(str.encode, ["<unk>", "<s>", "</s>", "▁", "▁o", "pen"]))
        >>> pieces.text((1, 4, 5, 2))
        'open'
        """
        written = b"".join(self._pieces[token] for token in tokens if token >= _SPECIAL)
        return written.decode("utf-8", "replace").replace("▁", " ").strip()
