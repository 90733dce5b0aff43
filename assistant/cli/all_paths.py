"""The report on every way through a procedure, as a table or as JSON."""

from __future__ import annotations

import json
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from assistant.cli.complaint import Exit
from assistant.cli.voices import open_renderer
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.covering import cover
from assistant.rehearsal.playing import Arc
from assistant.rehearsal.routes import Routes, Spread, routes_of, spread
from assistant.speech import wav
from assistant.speech.voice.rendering import Renderer

__all__ = ["walk_all_paths"]

Length = Callable[[str], float]
"""How long a sentence takes, in seconds."""


def walk_all_paths(bench: Bench, voice: str, *, as_json: bool) -> Exit:
    """Play every way through, and report; a step that is never reached is a problem.

    Args:
        bench: what is rehearsed.
        voice: ``off`` to measure no spoken minutes, ``on``, or the folder where rendered speech
            is kept.
        as_json: whether the report is one JSON object.
    """
    routes = routes_of(cover(bench, _told))
    _clear()
    with _length(voice) as length:
        seconds = None if length is None else [path.seconds(length) for path in routes.paths]
    if as_json:
        print(json.dumps(_as_json(bench, routes, seconds), ensure_ascii=False, indent=2))
    else:
        for line in _lines(bench, routes, seconds):
            print(line)
    return Exit.PROBLEMS if routes.steps else Exit.DONE


def _told(played: int, taken: int) -> None:
    if sys.stderr.isatty():
        print(f"\r{played} jobs played, {taken} ways on taken", end="", file=sys.stderr, flush=True)


def _clear() -> None:
    if sys.stderr.isatty():
        print("\r\x1b[K", end="", file=sys.stderr)


@contextmanager
def _length(voice: str) -> Iterator[Length | None]:
    """What measures a sentence on its rendered sound; None where the voice is off."""
    if voice == "off":
        yield None
    elif voice == "on":
        with open_renderer() as renderer:
            yield _measured_with(renderer)
    else:
        with Renderer(Path(voice)) as renderer:
            yield _measured_with(renderer)


def _measured_with(renderer: Renderer) -> Length:
    known: dict[str, float] = {}

    def length(text: str) -> float:
        if text not in known:
            known[text] = wav.seconds(renderer.render(text))
        return known[text]

    return length


def _ended(routes: Routes, numbers: list[float]) -> Spread | None:
    """The spread over the paths that come to the end."""
    pairs = zip(routes.paths, numbers, strict=True)
    return spread(number for path, number in pairs if path.ends)


def _questions(routes: Routes) -> Spread | None:
    return _ended(routes, [float(path.questions) for path in routes.paths])


# In words


def _lines(bench: Bench, routes: Routes, seconds: list[float] | None) -> Iterator[str]:
    yield f"{bench.program.procedure.title}{_on(bench)}"
    yield ""
    yield f"{'path':>4} {'questions':>9} {'spoken':>9}  {'ends':<8} what goes otherwise"
    for number, path in enumerate(routes.paths, 1):
        spoken = "-" if seconds is None else _minutes(seconds[number - 1])
        ends = "done" if path.ends else "on hold"
        head = f"{number:>4} {path.questions:>9} {spoken:>9}  {ends:<8} "
        yield textwrap.fill(path.about, 110, initial_indent=head, subsequent_indent=" " * len(head))
    yield ""
    yield from _sums(routes, seconds)
    yield from _left_over(routes)


def _on(bench: Bench) -> str:
    return "" if bench.unit is None else f", on {bench.unit.tag}"


def _minutes(seconds: float) -> str:
    return f"{seconds / 60:.1f} min"


def _sums(routes: Routes, seconds: list[float] | None) -> Iterator[str]:
    ended = sum(path.ends for path in routes.paths)
    yield (
        f"{len(routes.paths)} paths, of {routes.played} jobs that were played; {ended} come to the "
        "end, the others to a hold that stays. Least, median and most of those that end:"
    )
    if questions := _questions(routes):
        yield (
            f"  questions       {questions.least:.0f}, {questions.typical:.0f}, "
            f"{questions.most:.0f}"
        )
    if seconds is None:
        yield "  spoken minutes  not measured: the voice is off"
    elif spoken := _ended(routes, seconds):
        yield (
            f"  spoken minutes  {_minutes(spoken.least)}, {_minutes(spoken.typical)}, "
            f"{_minutes(spoken.most)} (from rendered speech, the program's side alone)"
        )


def _left_over(routes: Routes) -> Iterator[str]:
    yield (
        f"Ways on: {len(routes.shown)} as the rig shows; {len(routes.put_in)} by an answer, an "
        f"error or papers put in; {len(routes.missing)} not brought about; "
        f"{len(routes.elsewhere)} not of this unit."
    )
    if routes.gave_up:
        yield "The search ended at its limit; what is left over may be more than it need be."
    yield f"Steps reached: {routes.reached}."
    if routes.missing:
        yield "Not brought about, and so not rehearsed:"
        yield from (f"  {step} → {outcome}" for step, outcome in routes.missing)
    if routes.steps:
        yield "Steps never reached:"
        yield from (f"  {step}" for step in routes.steps)


# As JSON


def _as_json(bench: Bench, routes: Routes, seconds: list[float] | None) -> dict[str, object]:
    return {
        "procedure": bench.program.procedure.name,
        "revision": bench.program.procedure.revision,
        "unit": None if bench.unit is None else bench.unit.tag,
        "jobs_played": routes.played,
        "search_ended_at_its_limit": routes.gave_up,
        "questions": _spread(_questions(routes)),
        "spoken_seconds": None if seconds is None else _spread(_ended(routes, seconds)),
        "paths": [
            {
                "otherwise": path.about,
                "questions": path.questions,
                "spoken_seconds": None if seconds is None else round(seconds[index], 1),
                "ends": path.ends,
                "last_step": path.step,
            }
            for index, path in enumerate(routes.paths)
        ],
        "steps_reached": routes.reached,
        "steps_never_reached": list(routes.steps),
        "ways_on": {
            "as_the_rig_shows": _arcs(routes.shown),
            "put_in": _arcs(routes.put_in),
            "not_brought_about": _arcs(routes.missing),
            "not_of_this_unit": _arcs(routes.elsewhere),
        },
    }


def _spread(found: Spread | None) -> dict[str, float] | None:
    if found is None:
        return None
    named = {"least": found.least, "median": found.typical, "most": found.most}
    return {name: round(number, 1) for name, number in named.items()}


def _arcs(arcs: tuple[Arc, ...]) -> list[dict[str, str]]:
    return [{"step": step, "outcome": outcome} for step, outcome in arcs]
