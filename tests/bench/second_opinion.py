"""Whether a second recogniser helps: ``python -m tests.bench.second_opinion --help``.

A second recogniser is asked about what decides something (contacts, rotations, numbers, lamps,
spellings). A reply counts only where ours accepts it and the second heard the same. Against that
stands ours alone, at the level of confidence at which it accepts as many right ones: only if the
pair then accepts fewer wrong ones has the second opinion told anything.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.language.meaning import Command, Meaning
from assistant.language.recognition import CONFIDENCE_LEVEL
from assistant.speech.models.catalogue import models_folder
from assistant.speech.moonshine.confidence import Calibration
from tests.bench.cases import JOB, Case, cases, groups
from tests.bench.conditions import conditions
from tests.bench.ears import EARS, Models, load
from tests.bench.noises import MACHINES
from tests.bench.outcomes import Outcome, hear
from tests.bench.parts import Part
from tests.bench.talk import MOST_PEOPLE, babble, talk
from tests.bench.voices import VOICES, Speakers

__all__ = ["Heard", "Rule", "rules", "table"]

NOISES = ("pink", "hum", "impacts", "babble")


@dataclass(frozen=True, slots=True)
class Heard:
    """What both recognisers made of one reply."""

    ours: Outcome
    second: Outcome

    @property
    def agree(self) -> bool:
        """Whether both heard the same."""
        return self.ours.best is not None and self.ours.best == self.second.best

    @property
    def right(self) -> bool:
        """Whether ours heard what was said."""
        return self.ours.best == self.ours.said


Rule = Callable[[Heard], bool]
"""Whether a reply counts."""


def _alone(level: float) -> Rule:
    return lambda heard: heard.ours.best is not None and heard.ours.confidence >= level


def _with_consent(level: float) -> Rule:
    return lambda heard: heard.agree and heard.ours.confidence >= level


def _no_veto(level: float) -> Rule:
    """The second need not have heard anything, but nothing else."""
    return lambda heard: _alone(level)(heard) and (heard.agree or heard.second.best is None)


def _either(low: float, high: float) -> Rule:
    """Consent lets less confidence do."""
    return lambda heard: _alone(high)(heard) or _with_consent(low)(heard)


def rules(heard: Sequence[Heard], level: float = CONFIDENCE_LEVEL) -> Iterator[tuple[str, Rule]]:
    """Each rule with its name; after each with a second opinion, ours alone with as many right.

    Args:
        heard: what both made of the replies.
        level: the confidence from which on ours counts.
    """
    yield f"ours alone at {level:g}", _alone(level)
    for name, rule in (
        (f"ours at {level:g} and the second heard the same", _with_consent(level)),
        (f"ours at {level:g} and the second heard nothing else", _no_veto(level)),
        (f"ours at {level:g}, or at 0.2 and the second heard the same", _either(0.2, level)),
        ("ours at 0.9, or at 0.2 and the second heard the same", _either(0.2, 0.9)),
        ("ours at 0.9, or at 0.5 and the second heard the same", _either(0.5, 0.9)),
    ):
        yield name, rule
        equal = _level_for(heard, sum(rule(one) and one.right for one in heard))
        yield f"as many right: ours alone at {equal:.3f}", _alone(equal)


def _level_for(heard: Sequence[Heard], right: int) -> float:
    """The level at which ours alone accepts so many right ones, or as few more as can be."""
    levels = sorted((one.ours.confidence for one in heard if one.right), reverse=True)
    return levels[right - 1] if 0 < right <= len(levels) else math.inf if right == 0 else 0.0


def table(heard: Sequence[Heard], level: float = CONFIDENCE_LEVEL) -> Iterator[str]:
    """What each rule accepts; `level` as in `rules`."""
    yield "| rule | replies | right accepted | wrong accepted |"
    yield "| --- | ---: | ---: | ---: |"
    for name, rule in rules(heard, level):
        accepted = [one for one in heard if rule(one)]
        right = sum(one.right for one in accepted)
        yield f"| {name} | {len(heard)} | {right} | {len(accepted) - right} |"


def _decides(meaning: Meaning | None) -> bool:
    return meaning is not None and not isinstance(meaning, Command)


def _heard(chosen: argparse.Namespace) -> Iterator[Heard]:
    speakers = Speakers(chosen.voices)
    talking = talk(chosen.part, speakers, speakers.able(VOICES[chosen.part])[:MOST_PEOPLE])
    makers = {**MACHINES, "babble": babble(talking)}
    models = Models(chosen.model, chosen.cache)
    ours, second = load("ours", models), load(chosen.second, models)
    drawn = groups(chosen.part, speakers, chosen.limit, None, chosen.draw)
    (group,) = (one for one in drawn if one.name == JOB)

    def both(case: Case) -> Heard:
        return Heard(hear("ours", ours, case), hear(chosen.second, second, case))

    for condition in conditions(NOISES, (None, 10.0, 5.0)):
        print(condition, file=sys.stderr)
        for case in cases(group, condition, chosen.part, makers):
            if _decides(case.item.said):
                yield both(case)


def main() -> None:
    """Ask both and print the table."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--part", type=Part, default=Part.DEVELOPMENT)
    options.add_argument("--second", choices=EARS, default="pocketsphinx")
    options.add_argument("--limit", type=int, default=100, help="replies in a condition at most")
    options.add_argument("--draw", type=int, default=0)
    options.add_argument("--voices", type=Path, required=True, help="where voices are kept")
    options.add_argument("--model", type=Path, default=models_folder() / "moonshine-tiny-en")
    options.add_argument("--cache", type=Path, help="folder of the non-speech prior")
    chosen = options.parse_args()
    heard: list[Heard] = []
    try:
        for one in _heard(chosen):
            heard.append(one)  # each for itself: those before Ctrl-C count
    except KeyboardInterrupt:
        print("Stopped: what was heard until then.\n")
    level = Calibration.load().level
    print("\n".join(table(heard, level)))
    for right, how in ((True, "rightly"), (False, "wrongly")):
        mine = [one for one in heard if _alone(level)(one) and one.right is right]
        agreed = sum(one.agree for one in mine)
        print(f"\nOf {len(mine)} that ours accepted {how}, the second heard {agreed} the same.")


if __name__ == "__main__":
    main()
