"""Human recordings, which are not part of the project: a folder with ``manifest.tsv``.

Its columns are file and text; the files stand in ``commands`` (single words), ``numbers-au``
(numbers) and ``unrelated`` (sentences that are no replies).
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

from assistant.speech import wav
from assistant.speech.ears import Samples
from tests.bench.parts import Part

__all__ = ["speaker", "unrelated", "words"]

NUMBERS = "numbers-au"


def words(part: Part, folder: Path) -> Iterator[tuple[str, str]]:
    """Files of single words and numbers, and what is said in them.

    A speaker belongs to one part by the last bit of the number in the file's name; the one speaker
    of numbers belongs to the test.
    """
    for file, text in _manifest(folder):
        if not file.startswith("unrelated/"):
            one = speaker(file)
            odd = one == NUMBERS or int(one, 16) % 2 == 1
            if odd == (part is Part.TEST):
                yield file, text


def speaker(file: str) -> str:
    """Who says a word or number: the number in the file's name, or the one speaker of numbers.

    >>> speaker("commands/yes-0a7c2a8d_nohash_0.wav"), speaker("numbers-au/12.wav")
    ('0a7c2a8d', 'numbers-au')
    """
    kind, _, name = file.partition("/")
    return kind if kind == NUMBERS else name.split("-")[1].split("_")[0]


def unrelated(part: Part, folder: Path) -> list[tuple[str, Samples]]:
    """The sentences of a part with what is said in them; they are dealt to the parts in turn."""
    sentences = [(file, text) for file, text in _manifest(folder) if file.startswith("unrelated/")]
    mine = sentences[1::2] if part is Part.TEST else sentences[::2]
    return [(text, wav.read(folder / file)) for file, text in mine]


def _manifest(folder: Path) -> Iterator[tuple[str, str]]:
    with (folder / "manifest.tsv").open(encoding="utf-8") as manifest:
        for row in csv.DictReader(manifest, delimiter="\t"):
            yield row["file"], row["text"]
