"""Jobs that take every way on of a procedure, counted by hand where that can be done."""

from __future__ import annotations

from pathlib import Path

from assistant.procedure.load import load_program
from assistant.procedure.papers import read_papers
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.covering import arcs_of, cover, reach
from assistant.rehearsal.playing import play
from assistant.rehearsal.routes import Routes, Spread, routes_of, spread
from assistant.rig.as_found import found_wrong
from tests.rehearsal.jobs import bench, small
from tests.session.job import kf

PROCEDURES = Path(__file__).parents[2] / "procedures"

# By hand: no → the end (1 question); yes → locked (2); yes → moved, up to twice again and then the
# hold, which leads back to the choice (2 + 1 + 1 + 1 = 5 where it is said three times).
COUNTED = """\
  - {step: begin, say: Shall it be?, ask: yes-no, go: {"yes": which, "no": end}}
  - {step: which, say: Which?, ask: choice, choices: [locked, moved], go: {locked: end, moved: no}}
  - {step: no, repeat: which, at-most: 2, otherwise: held}
  - {step: held, hold: It moves again and again., go: which}
  - {step: end, say: Over., end: job}
"""


def routes(of: Bench) -> Routes:
    return routes_of(cover(of))


def test_the_paths_of_a_small_procedure_are_those_counted_by_hand() -> None:
    found = routes(Bench(small(COUNTED), None, {}))
    assert found.missing == ()
    assert found.steps == ()
    assert found.reached == 5
    assert sorted(path.questions for path in found.paths if path.ends) == [1, 2, 5]
    assert set(found.shown) | set(found.put_in) == set(arcs_of(small(COUNTED)))
    # Yes and locked is what is taken where no rig tells; the rest was put in.
    assert set(found.shown) == {("begin", "yes"), ("which", "locked")}


def test_every_way_of_the_grafting_is_taken() -> None:
    program = load_program(PROCEDURES / "graft-scion.yaml")
    papers = read_papers(program, {"grafter": "MK", "row": "7"})
    found = routes(Bench(program, None, papers))
    assert found.missing == ()
    assert found.steps == ()
    # Knife, buds, width, cut, match, tongue, wrap and label where nothing goes otherwise.
    assert found.paths[0].questions == 8


def test_every_way_of_the_timed_stroke_but_without_data_for_it() -> None:
    program = load_program(PROCEDURES / "stroke-time-check.yaml")
    papers = read_papers(program, {"technician": "RV", "work-order": "W417"})
    unit = kf("07")
    found = routes(Bench(program, unit, papers, found_wrong(unit)))
    # KF-07 has a stroke time, so that the outcome without one cannot come about on it.
    assert set(found.missing) == {("open-time", "no-data"), ("close-time", "no-data")}
    # KF-07 seats on torque.
    assert set(found.elsewhere) == {
        ("seating/seats-on-torque", "position"),
        ("seating/seats-on-position", "position"),
    }
    assert found.steps == ()


def test_what_nothing_brings_about_is_named_and_not_counted() -> None:
    # A rotor of KF-07 alone gives a reading: no sheet's stroke is missing on it.
    steps = """\
  - {step: go, say: Say mark., ask: mark, when: begun}
  - {step: stop, say: Say mark., ask: mark, when: stopped}
  - step: time
    compute: stroke-time
    from: {unit: unit, begun: begun, stopped: stopped}
    into: seconds
    go: {as-data: end, differs: end, no-data: nowhere, unknown: end}
  - {step: nowhere, say: No data.}
  - {step: end, say: Over., end: job}
"""
    unit = kf("07")
    found = routes(Bench(small(steps), unit, {}, found_wrong(unit)))
    assert found.steps == ("nowhere",)
    assert ("time", "no-data") in found.missing
    assert not {("time", "no-data"), ("nowhere", "next")} & {*found.shown, *found.put_in}


def test_a_branch_of_another_unit_is_told_apart() -> None:
    steps = """\
  - {step: how, branch: unit.seating, go: {torque: end, position: other}}
  - {step: other, say: On position., go: end}
  - {step: end, say: Over., end: job}
"""
    unit = kf("07")
    found = routes(Bench(small(steps), unit, {}, found_wrong(unit)))
    assert set(found.elsewhere) == {("how", "position"), ("other", "next")}
    assert found.missing == ()
    assert found.steps == ()


def test_a_step_is_reached_by_what_has_to_go_otherwise() -> None:
    # Common practice, no source: a shaft that moves shows a rod that is not engaged.
    job = reach(bench(), "open-end/cannot-engage")
    assert job is not None
    assert not job.as_the_rig_shows


def test_a_job_with_nothing_otherwise_is_finished() -> None:
    played = play(bench(), ())
    assert played.finished
    assert ("open-end/read", "next") in played.arcs
    assert played.said[-1] == "Both ends are set."


def test_the_spread_is_the_least_the_median_and_the_most() -> None:
    assert spread([5, 1, 3, 2]) == Spread(1, 2.5, 5)
    assert spread([]) is None
