"""``gloveside rehearse``: a writer at the keyboard, in front of the simulated actuator."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.cli.command import FLAGSHIP, KF_07, ROOT, Outcome, gloveside, two_ends

GRAFT = ROOT / "procedures" / "graft-scion.yaml"
ENTER = ""


def rehearse(
    *lines: str, procedure: Path | None = None, more: tuple[str | Path, ...] = ()
) -> Outcome:
    return gloveside(
        *("rehearse", procedure or two_ends(), "--unit", KF_07, "--voice", "off", *more),
        typed="".join(f"{line}\n" for line in lines),
    )


def graft(*lines: str) -> Outcome:
    return gloveside(
        *("rehearse", GRAFT, "--voice", "off"), typed="".join(f"{line}\n" for line in lines)
    )


def test_enter_alone_pages_through_a_whole_job_and_sets_both_rotors() -> None:
    outcome = rehearse(*[ENTER] * 60)
    assert outcome.code == 0, outcome.err
    assert "Both ends are set." in outcome.out
    assert outcome.out.count("right") >= 2
    assert "wrong\n" not in outcome.out
    assert "No record is kept" in outcome.out


def test_contacts_are_shown_to_change_over_in_words() -> None:
    outcome = rehearse("/go open-end/end-stop", "/do", ENTER)
    assert "1 and 2        closed" in outcome.out
    assert "CHANGED, was open" in outcome.out
    assert "open stop" in outcome.out
    assert "clockwise (as the rig shows)" in outcome.out


def test_what_the_rig_does_not_tell_is_only_taken() -> None:
    outcome = rehearse(ENTER)
    assert "yes (taken)" in outcome.out


def test_nothing_is_kept(tmp_path: Path) -> None:
    done = subprocess.run(
        [
            *(sys.executable, "-m", "assistant", "rehearse", str(two_ends())),
            *("--unit", str(KF_07), "--voice", "off"),
        ],
        input="\n" * 60,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
        cwd=tmp_path,
        env={"PYTHONPATH": str(ROOT)},
    )
    assert done.returncode == 0, done.stderr
    assert list(tmp_path.iterdir()) == []


def test_typed_words_answer_as_a_technician_would() -> None:
    outcome = graft("yes", "swollen", "twelve millimetres", "correct")
    assert outcome.code == 3
    assert "It may fail." in outcome.out
    assert "“twelve millimetres” → twelve millimetres" in outcome.out
    assert "The rehearsal ended at long-cut." in outcome.out


def test_a_question_that_would_hold_the_job_is_taken_the_other_way() -> None:
    papers = ("--paper", "checker=JT", "--paper", "technician=RV", "--paper", "work-order=W4")
    outcome = rehearse(
        *["/go apart", ENTER], procedure=FLAGSHIP.with_name("second-check.yaml"), more=papers
    )
    assert "Have you seen or heard the first readings?" in outcome.out
    assert "no (taken)" in outcome.out


def test_a_jump_tells_what_it_skips_and_a_name_that_is_none_what_is_near() -> None:
    outcome = rehearse("/go open-end/reed", "/go read", "/go open-end/read", "/steps read")
    assert "did you mean 'open-end/read'?" in outcome.out
    assert "several steps: open-end/read, closed-end/read" in outcome.out
    # By hand: eight of isolation, two of identity, the seating, the shafts, and the rotation.
    assert "13 questions answered in your stead" in outcome.out
    assert "Not shown by the rig, but taken: " in outcome.out
    assert "open-end/read  ← here" in outcome.out


def test_a_step_off_the_way_is_reached_by_what_has_to_go_otherwise() -> None:
    outcome = rehearse("/go open-end/contradiction")
    assert "What the rig shows does not lead to open-end/contradiction." in outcome.out
    assert "Played from the beginning to open-end/contradiction, with: as found; “" in outcome.out
    assert "A contradiction." in outcome.out


def test_nothing_that_is_typed_gives_a_traceback_or_loses_the_place() -> None:
    nonsense = ("/", "//", "/go", "/go x y", "/what-if x", "/what-if misread", "/crank", "/crank 1")
    more = ("/turn-shaft open clockwise 2", "/away", "/away -3", "/away 99999999", "/jog up", "/do")
    odd = ("\u0000", "''", "{x}", "\\", "/steps {", "é" * 500, "/look x", "/engage half half")
    outcome = rehearse(ENTER, *nonsense, *more, *odd, "yes", "/quit")
    assert outcome.code == 3
    assert "The rehearsal ended at isolation/" in outcome.out


def test_bytes_that_are_no_text_are_only_not_understood() -> None:
    typed = b"\xff\xfe\xc3\n/\xff\nyes\n"
    outcome = gloveside("rehearse", GRAFT, "--voice", "off", typed=typed)
    assert outcome.code == 3
    assert "Traceback" not in outcome.err
    assert "not understood" in outcome.out


def test_a_rig_needs_a_unit() -> None:
    outcome = graft("/look", "/crank 3 opening", "/what-if misread", ENTER)
    assert "there is no rig" in outcome.out
    assert "yes (taken)" in outcome.out


def test_silence_a_break_and_an_error_can_be_rehearsed() -> None:
    lines = ("/go open-end/read", "/silence", "/away 15", "/what-if misread 1", ENTER, ENTER)
    outcome = rehearse(*lines)
    assert "I am listening." in outcome.out
    assert "do valve, rod and shafts stand as you left them?" in outcome.out
    assert "contact misread" in outcome.out


def test_how_the_rotors_are_found_can_be_told() -> None:
    how = ("--rotor", "open=not-yet,counterclockwise", "--rotor", "closed=as-drawn")
    outcome = rehearse("/go open-end/disengage", ENTER, more=how)
    assert "Not changed over yet." in outcome.out
    assert "turn the open shaft counterclockwise" in outcome.out


@pytest.mark.parametrize(
    ("rotor", "essence"),
    [
        ("opn=already", "did you mean 'open'?"),
        ("open=soon", "as-drawn, already, not-yet"),
        ("open=already,left", "clockwise or counterclockwise"),
    ],
)
def test_a_rotor_that_is_none_is_bad_use(rotor: str, essence: str) -> None:
    outcome = rehearse(more=("--rotor", rotor))
    assert outcome.code == 2
    assert essence in outcome.err


def test_without_its_unit_a_procedure_is_refused() -> None:
    outcome = gloveside("rehearse", FLAGSHIP, "--voice", "off")
    assert outcome.code == 2
    assert "needs a unit sheet" in outcome.err


class Writer:
    """A writer at a keyboard who edits the file meanwhile."""

    def __init__(self, procedure: Path) -> None:
        command = [sys.executable, "-m", "assistant", "rehearse", str(procedure), "--voice", "off"]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT
        )
        self.file = procedure
        self.seen = ""

    def types(self, line: str, until: str) -> str:
        """Type a line, and read on until this is seen."""
        assert self.process.stdin
        self.process.stdin.write(f"{line}\n")
        self.process.stdin.flush()
        return self.reads(until)

    def reads(self, until: str) -> str:
        assert self.process.stdout
        told = ""
        for line in self.process.stdout:
            told += line
            if until in line:
                break
        else:
            raise AssertionError(f"{until!r} never came:\n{told}")
        return told

    def edits(self, old: str, new: str) -> None:
        text = self.file.read_text()
        assert old in text
        time.sleep(0.02)  # a stamp that tells the two apart
        self.file.write_text(text.replace(old, new))

    def leaves(self) -> str:
        out, _ = self.process.communicate(timeout=60)
        return out


def writer_at_the_width(folder: Path) -> Writer:
    writer = Writer(Path(shutil.copy(GRAFT, folder)))
    writer.reads("step 1 of")
    writer.types("yes", "step 3 of")
    writer.types("dormant", "step 5 of")
    return writer


def test_the_file_is_changed_and_the_place_is_kept(tmp_path: Path) -> None:
    writer = writer_at_the_width(tmp_path)
    writer.edits("How many millimetres?", "How thick is it in millimetres?")
    told = writer.types("twelve millimetres", "was not taken")
    assert "loaded anew" in told
    assert "You are at width, as before." in told
    assert "How thick is it in millimetres?" in told
    writer.types("twelve millimetres", "Correct?")
    assert "long-cut" in writer.types("correct", "step 6 of")
    writer.leaves()


def test_a_step_is_put_in_before_the_place_and_answered_and_told(tmp_path: Path) -> None:
    writer = writer_at_the_width(tmp_path)
    writer.edits(
        "  - step: buds\n",
        "  - {step: gloves, say: Take your gloves off. Say done., ask: done}\n  - step: buds\n",
    )
    writer.edits('go: {"yes": buds, "no": sharpen}', 'go: {"yes": gloves, "no": sharpen}')
    told = writer.types("/look", "You are at")
    assert "gloves: asked for the first time, and answered as the rig shows" in told
    assert "You are at width, as before." in told
    writer.leaves()


def test_a_broken_file_is_told_as_by_lint_and_the_old_one_goes_on(tmp_path: Path) -> None:
    writer = writer_at_the_width(tmp_path)
    writer.edits("ask: number", "ask: numbr")
    told = writer.types("twelve millimetres", "Correct?")
    assert "graft-scion.yaml:" in told
    assert ": error " in told
    assert "the old ones go on" in told
    linted = gloveside("lint", writer.file)
    assert linted.out.splitlines()[0] in told
    writer.edits("ask: numbr", "ask: number")
    assert "loaded anew" in writer.types("correct", "was not taken")
    assert "step 6 of" in writer.types("correct", "step 6 of")
    writer.leaves()


def test_a_line_that_was_typed_before_the_change_was_read_answers_nothing(tmp_path: Path) -> None:
    writer = writer_at_the_width(tmp_path)
    writer.edits("Measure the rootstock", "Now measure the rootstock")
    assert "Now measure" in writer.types("", "Nothing was answered: read what is asked now.")
    assert "Correct?" in writer.types("twelve millimetres", "Correct?")
    writer.leaves()


def test_an_answer_to_a_question_that_changed_is_not_taken(tmp_path: Path) -> None:
    writer = writer_at_the_width(tmp_path)
    writer.edits("ask: number\n    unit: millimetres\n    least: 4\n    most: 40", "ask: mark")
    writer.edits("    into: width\n    record: {rootstock: width}\n", "")
    writer.types("twelve millimetres", "was not taken")
    writer.leaves()


def test_every_way_of_the_grafting_in_a_table() -> None:
    outcome = gloveside("rehearse", GRAFT, "--all-paths", "--voice", "off")
    assert outcome.code == 0, outcome.err
    assert "not measured: the voice is off" in outcome.out
    assert "0 not brought about" in outcome.out
    assert "“no” at match" in outcome.out


def test_every_way_of_the_grafting_as_json_with_minutes_from_rendered_speech(
    tmp_path: Path,
) -> None:
    outcome = gloveside("rehearse", GRAFT, "--all-paths", "--json", "--voice", tmp_path / "voice")
    assert outcome.code == 0, outcome.err
    report = json.loads(outcome.out)
    assert report["unit"] is None
    assert report["questions"]["least"] == 8
    assert report["paths"][0]["questions"] == 8
    # Eight questions of four to fifteen words at 165 a minute, warnings besides: from memory.
    assert 20 < report["paths"][0]["spoken_seconds"] < 90
    assert report["spoken_seconds"]["least"] > 20
    assert len(list((tmp_path / "voice").glob("*.wav"))) > 10


def test_a_step_that_nothing_reaches_is_a_problem_found(tmp_path: Path) -> None:
    file = tmp_path / "small.yaml"
    file.write_text(
        "procedure: small\ntitle: A small one\nrevision: '1'\nabout: For tests.\nsteps:\n"
        "  - {step: begin, say: Say mark., ask: mark, when: begun}\n"
        "  - {step: stop, say: Say mark., ask: mark, when: stopped}\n"
        "  - step: time\n    compute: stroke-time\n"
        "    from: {unit: unit, begun: begun, stopped: stopped}\n    into: seconds\n"
        "    go: {as-data: end, differs: end, no-data: nowhere, unknown: end}\n"
        "  - {step: nowhere, say: No data.}\n  - {step: end, say: Over., end: job}\n"
    )
    outcome = gloveside(
        *("rehearse", file, "--unit", KF_07, "--all-paths", "--voice", "off", "--json")
    )
    assert outcome.code == 1
    assert json.loads(outcome.out)["steps_never_reached"] == ["nowhere"]


def test_json_alone_is_bad_use() -> None:
    assert gloveside("rehearse", GRAFT, "--json").code == 2
