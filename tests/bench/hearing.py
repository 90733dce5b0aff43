"""How well the default recogniser hears: ``python tests/bench/hearing.py --help``.

Prints a table in Markdown. *Understood* is the share of replies whose meaning was accepted and
right; *unclear* was not accepted and would be asked again; *wrong* was accepted and is not what was
said; *swapped* is the part of wrong in which a contact's state is the opposite of what was said.

Human speech is not part of the project: name a folder with ``manifest.tsv`` (columns file and text)
and the folders ``commands`` (single words), ``numbers-au`` (numbers) and ``unrelated`` (sentences
that are no replies).
"""

from __future__ import annotations

import argparse
import csv
import itertools
import resource
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.language.answers import (
    AskContacts,
    AskDone,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    confirming,
    grammar,
)
from assistant.language.english import english
from assistant.language.grammar import Grammar
from assistant.language.meaning import ContactStates, Meaning
from assistant.speech import wav
from assistant.speech.ears import Samples
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.recogniser import Moonshine

if TYPE_CHECKING:
    from tests.bench.synthetic import (
        COUNTS,
        LAMPS_AND_AGREEMENTS,
        PHRASES,
        SPELLED,
        VOICES,
        Phrase,
        noise_only,
        say,
        with_pink_noise,
    )
else:  # run as a script, its folder is where modules are looked for
    from synthetic import (
        COUNTS,
        LAMPS_AND_AGREEMENTS,
        PHRASES,
        SPELLED,
        VOICES,
        Phrase,
        noise_only,
        say,
        with_pink_noise,
    )

SYNTHETIC = {
    "20 phrases": PHRASES,
    "spelled tags": SPELLED,
    "lamps and agreements": LAMPS_AND_AGREEMENTS,
    "counts below one hundred": COUNTS,
}

BOOK = english()
CONTACTS = AskContacts((1, 2, 3, 4))
QUESTIONS: tuple[Question, ...] = (
    CONTACTS,
    AskYesNo(),
    AskRotation(),
    AskNumber("turns"),
    AskSpelling(),
    AskDone(),
)


@dataclass(frozen=True, slots=True)
class Case:
    """Audio, the grammar under which it is heard, and what was said (None: no reply)."""

    group: str
    label: str
    samples: Samples
    grammar: Grammar
    said: Meaning | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the recogniser made of a case."""

    group: str
    label: str
    said: Meaning | None
    text: str
    meaning: Meaning | None
    confidence: float
    seconds: float
    taken: float

    @property
    def verdict(self) -> str:
        """understood, unclear or wrong; right where nothing was said and nothing accepted."""
        if self.meaning is None:
            return "unclear" if self.said is not None else "right"
        return "understood" if self.meaning == self.said else "wrong"

    @property
    def swapped(self) -> bool:
        """Whether a contact was taken for the opposite of what was said."""
        heard, said = self.meaning, self.said
        if not isinstance(heard, ContactStates) or not isinstance(said, ContactStates):
            return False
        states = said.mapping()
        return any(states.get(contact, state) != state for contact, state in heard.states)


def synthetic_cases() -> Iterator[Case]:
    """The twenty phrases of the floor, and others, in six voices, clean and noisy."""
    for ratio in (None, 10.0, 5.0):
        for kind, phrases in SYNTHETIC.items():
            yield from _spoken(phrases, kind, ratio)


def _spoken(phrases: Iterable[Phrase], kind: str, ratio: float | None) -> Iterator[Case]:
    group = f"{kind}, {'clean' if ratio is None else f'pink {ratio:.0f} dB'}"
    for number, phrase in enumerate(phrases):
        under = grammar(phrase.question, BOOK)
        said = under.parse(phrase.text)
        assert said is not None, phrase
        for seed, voice in enumerate(VOICES):
            samples = say(phrase.text, voice)
            if ratio is not None:
                samples = with_pink_noise(samples, ratio, seed=100 * number + seed)
            yield Case(group, f"{phrase.text} ({voice.name})", samples, under, said)


def noise_cases() -> Iterator[Case]:
    """Noise alone, which is no reply."""
    for number, samples in enumerate(noise_only()):
        for question in (CONTACTS, AskYesNo()):
            yield Case("noise alone", f"noise {number}", samples, grammar(question, BOOK), None)


def human_cases(folder: Path) -> Iterator[Case]:
    """Human speech under the grammars of the job."""
    with (folder / "manifest.tsv").open(encoding="utf-8") as manifest:
        for row in csv.DictReader(manifest, delimiter="\t"):
            samples = wav.read(folder / row["file"])
            kind = row["file"].split("/")[0]
            if kind == "unrelated":
                yield from _unrelated(row["text"], samples)
            else:
                yield from _words(kind, row["text"], samples)


def _unrelated(text: str, samples: Samples) -> Iterator[Case]:
    for question in QUESTIONS:
        group = f"unrelated under {type(question).__name__}"
        yield Case(group, text, samples, grammar(question, BOOK), None)
    yield Case("unrelated under a read-back", text, samples, confirming(CONTACTS, BOOK), None)


def _words(kind: str, text: str, samples: Samples) -> Iterator[Case]:
    for question in (AskYesNo(), AskNumber("turns"), CONTACTS):
        under = grammar(question, BOOK)
        said = under.parse(text)
        group = f"{kind}, {'replies' if said is not None else 'no replies'}"
        for noise, heard in (("clean", samples), ("pink 10 dB", with_pink_noise(samples, 10, 5))):
            yield Case(f"{group}, {noise}", text, heard, under, said)


def hear(recogniser: Moonshine, case: Case) -> Outcome:
    """Recognise one case and take the time."""
    begun = time.perf_counter()
    heard = recogniser.recognise(case.samples, case.grammar)
    taken = time.perf_counter() - begun
    return Outcome(
        case.group,
        case.label,
        case.said,
        heard.text,
        heard.accepted(),
        heard.confidence,
        heard.seconds,
        taken,
    )


def table(outcomes: Iterable[Outcome]) -> Iterator[str]:
    """The Markdown table, one line for each group."""
    groups: dict[str, list[Outcome]] = {}
    for outcome in outcomes:
        groups.setdefault(outcome.group, []).append(outcome)
    yield "| what | cases | understood | unclear | wrong | swapped | real-time factor |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: | ---: |"
    for group, members in groups.items():
        verdicts = [member.verdict for member in members]
        replies = sum(member.said is not None for member in members)
        understood = f"{100 * verdicts.count('understood') / replies:.1f} %" if replies else "-"
        unclear = str(verdicts.count("unclear")) if replies else "-"
        wrong = verdicts.count("wrong")
        swapped = sum(member.swapped for member in members)
        factor = sum(member.taken for member in members) / sum(member.seconds for member in members)
        yield (
            f"| {group} | {len(members)} | {understood} | {unclear} | {wrong} | {swapped} "
            f"| {factor:.2f} |"
        )


def write_csv(file: Path, outcomes: Iterable[Outcome]) -> None:
    """Every case in a line of its own."""
    with file.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream)
        writer.writerow(["group", "said", "heard", "verdict", "swapped", "confidence", "seconds"])
        for one in outcomes:
            row = [one.group, one.label, one.text, one.verdict, one.swapped, one.confidence]
            writer.writerow([*row, f"{one.taken:.3f}"])


def main() -> None:
    """Run the benchmark."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--speech", type=Path, help="folder of human speech")
    options.add_argument("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    options.add_argument("--cache", type=Path, help="folder of the non-speech prior")
    options.add_argument("--csv", type=Path, help="write every case to this file")
    chosen = options.parse_args()
    begun = time.perf_counter()
    recogniser = Moonshine.load(chosen.model, chosen.cache)
    loaded = time.perf_counter() - begun
    human = human_cases(chosen.speech) if chosen.speech else ()
    cases = itertools.chain(synthetic_cases(), noise_cases(), human)
    outcomes = [hear(recogniser, case) for case in cases]
    print("\n".join(table(outcomes)))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\nLoaded in {loaded:.2f} s; peak memory of the process {memory:.0f} MiB.")
    if chosen.csv:
        write_csv(chosen.csv, outcomes)


if __name__ == "__main__":
    main()
