"""PocketSphinx held to a grammar, for comparison: ``pip install pocketsphinx``.

Its JSGF compiler writes a rule out at each place that names it, which our graphs are too large for;
so it is given the same graph as what it makes of JSGF, a finite-state grammar, with every path as
likely as any other. It has no word for what is outside the grammar and no confidence that could be
used: everything counts as certain.
"""

from __future__ import annotations

import functools
import importlib
from collections.abc import Iterator
from typing import Any

import numpy as np

from assistant.language.grammar import Grammar, words_of
from assistant.language.recognition import Recognition
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["PocketSphinx", "transitions"]

SPELLED_IN_SOUNDS = {"anticlockwise": "AE N T IY K L AA K W AY Z"}
"""Words that its dictionary lacks, in the sounds of CMU's dictionary."""

_Transition = tuple[int, int, float] | tuple[int, int, float, str]


def transitions(grammar: Grammar) -> tuple[int, list[_Transition]]:
    """The end state and the transitions of the grammar, single words on them; it starts at 0."""
    nodes = _nodes(grammar)
    numbers = {node: number for number, node in enumerate(nodes)}
    end = len(nodes)
    found: list[_Transition] = []
    fresh = end
    for node in nodes:
        if grammar.is_end(node):
            found.append((numbers[node], end, 1.0))
        for arc in grammar.arcs(node):
            words = words_of(arc.term.spoken)
            between = [fresh + 1 + step for step in range(len(words) - 1)]
            fresh += len(between)
            states = [numbers[node], *between, numbers[arc.target]]
            steps = zip(states, states[1:], words, strict=False)
            found += [(source, target, 1.0, word) for source, target, word in steps]
    return end, found


def _nodes(grammar: Grammar) -> list[int]:
    found = {grammar.start: None}
    waiting = [grammar.start]
    for node in waiting:
        fresh = dict.fromkeys(arc.target for arc in grammar.arcs(node) if arc.target not in found)
        found.update(fresh)
        waiting.extend(fresh)
    return list(found)


class PocketSphinx:
    """A recogniser with a decoder for each grammar."""

    name = "pocketsphinx"

    def __init__(self) -> None:
        self._library: Any = importlib.import_module("pocketsphinx")
        self._decoder = functools.lru_cache(64)(self._compile)

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """The words heard and what the grammar makes of them."""
        decoder = self._decoder(grammar)
        whole = (np.clip(samples, -1.0, 1.0) * 32767.0).astype("<i2")
        decoder.start_utt()
        decoder.process_raw(whole.tobytes(), full_utt=True)
        decoder.end_utt()
        best = decoder.hyp()
        text = best.hypstr if best else ""
        certain = 1.0 if text else 0.0
        seconds = len(samples) / SAMPLE_RATE
        return Recognition(text, grammar.parse(text), certain, seconds, self.name)

    def _compile(self, grammar: Grammar) -> Any:
        decoder = self._library.Decoder(samprate=SAMPLE_RATE, lm=None, loglevel="FATAL")
        end, found = transitions(grammar)
        for word in _words(found):
            if decoder.lookup_word(word) is None:
                decoder.add_word(word, SPELLED_IN_SOUNDS[word], True)
        decoder.add_fsg("reply", decoder.create_fsg("reply", 0, end, found))
        decoder.activate_search("reply")
        return decoder


def _words(found: list[_Transition]) -> Iterator[str]:
    yield from {transition[3] for transition in found if len(transition) == 4}
