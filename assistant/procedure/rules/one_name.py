"""One name for one thing.

Who hears "shaft" and then "spindle" looks for a second thing. Source: DOE-STD-1029-92 (CN1 1998),
section 4: the same word for the same thing throughout; which names are of one thing is common
practice, no source.

``names`` are the names of one thing, separated by commas, a line for each thing; ``also-names``
adds lines. In the whole procedure with its parts the one that is spoken first is kept. Only these
names are compared. A short one counts with its article: "the spindle" is taken for another name of
the shaft, "the valve spindle" for another thing, which no list can know.

Passes::

    - step: one
      say: Look at the shaft.
    - step: two
      say: Turn the shaft. Say done.
      ask: done

Fails::

    - step: one
      say: Look at the shaft.
    - step: two
      say: Turn the spindle. Say done.
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.sentences import phrase_in
from assistant.procedure.rules.spoken import Spoken, each_once, spoken_at
from assistant.procedure.rules.subject import Subject

__all__ = ["RULE"]

_NAMES = (
    "shaft, shafts, the spindle, the spindles",
    "handwheel, handwheels, hand wheel, the wheel",
    "setting rod, setting rods, rod lever, setting lever, setting pin",
    "rotor, rotors, the drum, the drums, the cam, the cams",
    "lamp, lamps, the light, the lights, indicator light, indicator lights",
    "cover, covers, the lid, the lids",
    "supply, supplies, the mains",
    "checker, the verifier",
    "counterclockwise, anticlockwise, anti-clockwise",
)


def _check(subject: Subject, settings: Settings) -> Iterator[Finding]:
    texts = [one for node in each_once(subject.program) for one in spoken_at(node.step)]
    for line in settings.words("names"):
        names = tuple(name.strip().lower() for name in line.split(",") if name.strip())
        yield from _others(texts, names)


def _others(texts: list[Spoken], names: tuple[str, ...]) -> Iterator[Finding]:
    """The places at which a thing is called otherwise than where it was named first."""
    kept = ""
    first: Spoken | None = None
    for one in texts:
        found = phrase_in(one.text, names)
        if found is None:
            continue
        if first is None:
            kept, first = found, one
        other = phrase_in(one.text, [name for name in names if not _same(name, kept)])
        if other is not None:
            message = (
                f"'{other}' is called '{kept}' at {first.template.place}: use one name for one "
                "thing"
            )
            yield Finding(one.template.place, message)


def _same(one: str, other: str) -> bool:
    """Whether two names differ only in that one is that of several."""
    return one.rstrip("s").removesuffix("ie").removesuffix("y") == (
        other.rstrip("s").removesuffix("ie").removesuffix("y")
    )


RULE = ProgramRule("one-name", Level.WARNING, _check, {"names": _NAMES})
