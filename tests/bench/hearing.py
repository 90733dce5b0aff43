"""How well replies are heard: ``python -m tests.bench.hearing --help``.

Prints tables in Markdown. *Understood* is the share of replies whose meaning was accepted and
right; *unclear* was not accepted and would be asked again; *wrong* was accepted and is not what was
said; *swapped* is the part of wrong in which a contact's state is the opposite of what was said.

Human speech is not part of the project: name a folder of it (see `human`). Voices and baselines
that are not installed are left out with a message; see `engines` and `ears` for what to install.
Ours and the model without a grammar differ in time by the search. Let a run of the same cases come
before one whose times and memory count: then what is said and the prior of non-speech are kept.
"""

from __future__ import annotations

import argparse
import itertools
import resource
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

if not __package__:  # run as a script, only its own folder is where modules are looked for
    sys.path.insert(0, str(Path(__file__).parents[2]))

import platformdirs

from assistant.speech.devices.voice_activity import VoiceActivity
from assistant.speech.ears import Recogniser, Samples
from assistant.speech.errors import ModelError
from assistant.speech.models.catalogue import models_folder
from tests.bench.cases import JOB, Case, cases, groups
from tests.bench.chart import chart, understood_by_ratio
from tests.bench.conditions import CLEAN, IMPAIRED, RATIOS, conditions
from tests.bench.ears import EARS, Absent, Models, load
from tests.bench.noises import MACHINES, Maker
from tests.bench.outcomes import Outcome, hear, kept_in_csv
from tests.bench.parts import Part
from tests.bench.stretches import STRETCH, STRETCHES, Timed, listened, per_hour, stretch
from tests.bench.tables import cells, reliability, speed
from tests.bench.talk import MOST_PEOPLE, babble, people
from tests.bench.voices import VOICES, Speakers

NO_REPLIES = ("human words that answer nothing here", "unrelated human sentences")
"""Groups that are heard clean only: there is nothing in them to be understood."""


def main() -> None:
    """Run the benchmark."""
    chosen = _options()
    detector = _detector() if chosen.minutes else None  # first: its lack must not end a long run
    speakers = Speakers(chosen.voices)
    talkers = speakers.able(VOICES[chosen.part])[:MOST_PEOPLE]
    talking = people(chosen.part, speakers, talkers, chosen.speech)
    makers = {**MACHINES, "babble": babble(talking)}
    ears = dict(_ears(chosen.ears, chosen))
    coming = itertools.chain(
        (
            hear(name, ear, case)
            for case in _cases(chosen, speakers, makers)
            for name, ear in ears.items()
        ),
        _stretches(chosen, talking, makers, detector, ears),
    )
    outcomes: list[Outcome] = []
    try:
        for one in kept_in_csv(chosen.csv, coming) if chosen.csv else coming:
            outcomes.append(one)  # each for itself: those before Ctrl-C count
    except KeyboardInterrupt:
        print("Stopped: what was heard until then, without the stretches of other sound.\n")
        chosen.minutes = 0
    if speakers.missing:
        print(f"Left out, not installed: {', '.join(sorted(speakers.missing))}.\n")
    _print_tables(outcomes, chosen.minutes, ears)
    if chosen.chart:
        lines = understood_by_ratio(outcomes, JOB, "ours")
        if not lines:
            raise SystemExit("No chart: nothing was heard at a ratio of speech to noise by ours.")
        chosen.chart.write_text(chart("Replies understood the first time", lines), "utf-8")


def _print_tables(outcomes: Sequence[Outcome], minutes: float, ears: Iterable[str]) -> None:
    replies = [one for one in outcomes if not one.group.startswith(STRETCH)]
    print("\n".join(cells(replies)), end="\n\n")
    if minutes:
        print("\n".join(per_hour(outcomes, minutes, ears)), end="\n\n")
    print("\n".join(speed(outcomes)), end="\n\n")
    print("\n".join(reliability([one for one in replies if one.ear == "ours"])))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\nPeak memory of the process, with what makes the sounds: {memory:.0f} MiB.")


def _cases(
    chosen: argparse.Namespace, speakers: Speakers, makers: Mapping[str, Maker]
) -> Iterator[Case]:
    for group in groups(chosen.part, speakers, chosen.limit, chosen.speech, chosen.draw):
        if chosen.groups and not any(name in group.name for name in chosen.groups):
            continue
        wanted = conditions(chosen.noises, chosen.snr)
        for condition in [CLEAN] if group.name in NO_REPLIES else wanted:
            print(f"{group.name}, {condition}", file=sys.stderr)
            yield from cases(group, condition, chosen.part, makers)


def _stretches(
    chosen: argparse.Namespace,
    people: Sequence[Sequence[Samples]],
    makers: Mapping[str, Maker],
    detector: VoiceActivity | None,
    ears: Mapping[str, Recogniser],
) -> Iterator[Outcome]:
    """What the ears give the session in long stretches of other sound."""
    if detector is None:
        return
    for kind in STRETCHES:
        print(f"{chosen.minutes:g} minutes of {kind}", file=sys.stderr)
        sound = stretch(kind, chosen.part, chosen.minutes, people, makers)
        for name, ear in ears.items():
            yield from listened(kind, sound, chosen.part, detector, Timed(name, ear))


def _detector() -> VoiceActivity:
    try:
        return VoiceActivity.load(models_folder() / "silero-vad")
    except ModelError as error:
        raise SystemExit(f"{error}; or leave the stretches out with --minutes 0") from error


def _ears(names: Sequence[str], chosen: argparse.Namespace) -> Iterator[tuple[str, Recogniser]]:
    models = Models(chosen.model, chosen.cache, chosen.vosk, chosen.whisper)
    for name in names:
        before = _memory()
        try:
            yield name, load(name, models)
        except Absent as absent:
            print(f"Left out: {absent}", file=sys.stderr)
            continue
        print(f"{name}: loading took {_memory() - before:.0f} MiB", file=sys.stderr)


def _memory() -> float:
    """Of the process, now [MiB]; 0 where the system does not tell."""
    status = Path("/proc/self/statm")
    pages = int(status.read_text("ascii").split()[1]) if status.exists() else 0
    return pages * resource.getpagesize() / 2**20


def _options() -> argparse.Namespace:
    kept = Path(platformdirs.user_cache_dir("gloveside")) / "benchmark-voices"
    noises = [*MACHINES, "babble", *IMPAIRED]
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    add = options.add_argument
    add("--part", type=Part, default=Part.TEST, help="development or test (default)")
    add("--speech", type=Path, help="folder of human speech")
    add("--groups", type=_words, help="those whose name contains one of these, comma between")
    add("--noises", type=_words, default=noises, help=f"of {', '.join(noises)}")
    add("--snr", type=_ratios, default=(None, *RATIOS), help="clean,20,10,5,0 or some of them [dB]")
    add("--limit", type=int, default=100, help="cases in a cell at most (default: 100)")
    add("--draw", type=int, default=0, help="another number draws other cases")
    add("--ears", type=_words, default=["ours"], help=f"of {','.join(EARS)}")
    add("--minutes", type=float, default=2.0, help="length of each stretch of other sound; 0: none")
    add("--voices", type=Path, default=kept, help="folder where what voices say is kept")
    add("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    add("--cache", type=Path, help="folder of the non-speech prior")
    add("--vosk", type=Path, help="folder of a Vosk model")
    add("--whisper", type=Path, help="folder of a faster-whisper model")
    add("--csv", type=Path, help="write every case to this file, as it comes")
    add("--chart", type=Path, help="draw what was understood by ratio and noise to this SVG file")
    chosen = options.parse_args()
    for named, known in ((chosen.ears, EARS), (chosen.noises, noises)):
        if unknown := ", ".join(sorted(set(named) - set(known))):
            options.error(f"there is no {unknown}; there are {', '.join(known)}")
    return chosen


def _words(text: str) -> list[str]:
    return [word.strip() for word in text.split(",")]


def _ratios(text: str) -> tuple[float | None, ...]:
    return tuple(None if word == "clean" else float(word) for word in _words(text))


if __name__ == "__main__":
    main()
