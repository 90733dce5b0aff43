"""``gloveside verify`` under attack: what was done to a job is named with its line.

The attacks are those that somebody with an editor, or with a copy of this program, can make.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from assistant.journal import chain, clips
from assistant.journal.canonical import digest, encode
from assistant.journal.entry import NO_LINE
from assistant.journal.store import Journal
from tests.cli.command import KF_07, Outcome, gloveside, two_ends
from tests.session.test_commands import REPLIES

Lines = list[bytes]


def job(folder: Path, *replies: str) -> Path:
    gloveside(
        *("run", two_ends(), "--unit", KF_07, "--job", folder),
        *("--ears", "typed", "--voice", "off"),
        typed="".join(f"{reply}\n" for reply in replies),
    )
    return folder


@pytest.fixture(scope="module")
def finished(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return job(tmp_path_factory.mktemp("finished") / "job", *REPLIES)


@pytest.fixture
def copy(finished: Path, tmp_path: Path) -> Path:
    return shutil.copytree(finished, tmp_path / "job")


def read(folder: Path) -> Lines:
    return (folder / "journal.jsonl").read_bytes().splitlines(keepends=True)


def attack(folder: Path, change: Callable[[Lines], Lines]) -> None:
    (folder / "journal.jsonl").write_bytes(b"".join(change(read(folder))))


def told(outcome: Outcome, name: str) -> str:
    """What the command told after a name: ``Root: …``."""
    return next(
        line.removeprefix(f"{name}: ")
        for line in outcome.out.splitlines()
        if line.startswith(f"{name}: ")
    )


def named(outcome: Outcome) -> list[int]:
    """The lines of the journal that the command complained of."""
    assert outcome.code == 1, outcome
    return [
        int(line.split("journal.jsonl:")[1].split(":")[0])
        for line in outcome.out.splitlines()
        if ": error " in line
    ]


def rechained(lines: Lines) -> Lines:
    """The lines with every `seq` and `previous` made to fit: anybody's script can do this."""
    previous, fitted = NO_LINE, []
    for number, line in enumerate(lines, 1):
        fields = {**json.loads(line), "seq": number, "previous": previous}
        fitted.append(encode(fields) + b"\n")
        previous = digest(fitted[-1][:-1])
    return fitted


def test_a_sound_job_is_told_with_its_root_and_passes_with_either_form_of_it(
    finished: Path,
) -> None:
    outcome = gloveside("verify", finished)
    assert outcome.code == 0
    assert f"{len(read(finished))} entries" in outcome.out
    assert "State: at its end.\n" in outcome.out
    assert "Not proved without a root kept elsewhere: that no lines were cut off" in outcome.out
    assert "Never proved: who spoke" in outcome.out
    full, words = told(outcome, "Root"), told(outcome, "Root in words")
    for kept in ([full], [full[:16].upper()], words.split(), [words.replace(" ", ", ")]):
        again = gloveside("verify", finished, "--root", *kept)
        assert again.code == 0, again
        assert "It is the journal whose hash was kept." in again.out
        assert "Not proved without a root" not in again.out
        assert "Never proved: who spoke" in again.out
    assert gloveside("verify", finished, "--last", told(outcome, "Last line")).code == 0


@pytest.mark.parametrize(
    ("kept", "essence"),
    [
        ("closed open closed open", "'closed' is no word of a root"),
        ("acorn albun anchor angel", "did you mean 'album'?"),
        ("acorn album anchor", "four words"),
        ("0123456789abcde", "16 to 64"),
        ("", "four words"),
    ],
)
def test_what_is_no_root_is_refused_with_the_remedy(
    finished: Path, kept: str, essence: str
) -> None:
    outcome = gloveside("verify", finished, "--root", kept)
    assert outcome.code == 2
    assert essence in outcome.err


def test_an_edited_word_is_named(copy: Path) -> None:
    at = next(n for n, line in enumerate(read(copy)) if b'"text":"clockwise"' in line)

    def edit(lines: Lines) -> Lines:
        edited = lines[at].replace(b'"text":"clockwise"', b'"text":"clockwize"')
        return [*lines[:at], edited, *lines[at + 1 :]]

    attack(copy, edit)
    outcome = gloveside("verify", copy)
    # The edited line, at + 1, fits the one before it; the next one no longer fits it.
    assert named(outcome) == [at + 2]
    assert f"does not follow line {at + 1}: one of the two was changed" in outcome.out


@pytest.mark.parametrize("at", [0, 9, 20])
def test_a_dropped_line_is_named(copy: Path, at: int) -> None:
    attack(copy, lambda lines: lines[:at] + lines[at + 1 :])
    assert named(gloveside("verify", copy))[0] == at + 1


def test_two_swapped_lines_are_named(copy: Path) -> None:
    attack(copy, lambda lines: [*lines[:9], lines[10], lines[9], *lines[11:]])
    assert {10, 11} <= set(named(gloveside("verify", copy)))


def test_a_cut_end_is_found_by_what_was_kept(copy: Path) -> None:
    before = gloveside("verify", copy)
    attack(copy, lambda lines: lines[:-2])
    assert gloveside("verify", copy).code == 0  # the chain alone cannot know, and says so
    last = len(read(copy))
    for kept in (
        ["--root", *told(before, "Root in words").split()],
        ["--root", told(before, "Root")],
        ["--last", told(before, "Last line")],
    ):
        assert named(gloveside("verify", copy, *kept)) == [last]


def test_lines_of_another_job_are_named(copy: Path, tmp_path: Path) -> None:
    other = read(job(tmp_path / "other", *REPLIES))
    attack(copy, lambda lines: lines[:12] + other[12:])
    assert named(gloveside("verify", copy))[0] == 13


def test_a_whole_other_journal_is_found_by_the_root(copy: Path, tmp_path: Path) -> None:
    kept = told(gloveside("verify", copy), "Root in words").split()
    other = read(job(tmp_path / "other", *REPLIES))
    attack(copy, lambda _: other)
    assert gloveside("verify", copy).code == 0
    assert named(gloveside("verify", copy, "--root", *kept)) == [len(other)]


def test_a_file_chained_anew_is_found_by_the_root(copy: Path) -> None:
    before = gloveside("verify", copy)

    def soften(lines: Lines) -> Lines:
        # The recogniser's doubt is no decision, so a replay does not see this change.
        return rechained([line.replace(b'"confidence":1', b'"confidence":0.75') for line in lines])

    attack(copy, soften)
    assert gloveside("verify", copy).code == 0
    for kept in (told(before, "Root in words").split(), [told(before, "Root")[:16]]):
        outcome = gloveside("verify", copy, "--root", *kept)
        assert named(outcome) == [len(read(copy))]
        assert "written anew" in outcome.out


def test_a_decision_changed_and_chained_anew_is_found_by_the_replay(copy: Path) -> None:
    at = next(n for n, line in enumerate(read(copy), 1) if b'"confirmed"' in line)

    def decide(lines: Lines) -> Lines:
        fields = json.loads(lines[at - 1])
        fields["confirmed"] = {"open-end/read": {"contacts": {"1": "open"}}}
        return rechained([*lines[: at - 1], encode(fields) + b"\n", *lines[at:]])

    attack(copy, decide)
    assert named(gloveside("verify", copy)) == [at]


def test_lines_added_after_the_end_are_named_by_the_root(copy: Path) -> None:
    kept = told(gloveside("verify", copy), "Root in words").split()
    count = len(read(copy))
    with Journal.open(copy) as journal:
        journal.append("2099-01-01T00:00:00.000Z", {"kind": "heard", "heard": {"text": "yes"}})
    outcome = gloveside("verify", copy, "--root", *kept)
    assert set(named(outcome)) == {count + 1}
    assert f"lines 1 to {count}" in outcome.out


@pytest.fixture
def with_clip(copy: Path) -> tuple[Path, int]:
    """A job one reply of which has a clip; the number of its line."""
    clip = clips.keep(copy, 1, np.zeros(1600, dtype=np.float32))
    lines = read(copy)
    at = next(n for n, line in enumerate(lines) if b'"kind":"heard"' in line)
    fields: dict[str, Any] = {**json.loads(lines[at]), "clip": clip}
    attack(copy, lambda lines: rechained([*lines[:at], encode(fields) + b"\n", *lines[at + 1 :]]))
    assert chain.check(read(copy)) == []
    assert gloveside("verify", copy).code == 0
    return copy, at + 1


def test_a_replaced_clip_is_named(with_clip: tuple[Path, int]) -> None:
    folder, at = with_clip
    file = folder / "clips" / "0001.wav"
    file.write_bytes(file.read_bytes()[:-2] + b"\x01\x00")
    outcome = gloveside("verify", folder)
    assert named(outcome) == [at]
    assert "clips/0001.wav was changed" in outcome.out


def test_a_removed_clip_is_named(with_clip: tuple[Path, int]) -> None:
    folder, at = with_clip
    (folder / "clips" / "0001.wav").unlink()
    assert named(gloveside("verify", folder)) == [at]
    told = json.loads(gloveside("record", folder, "--format", "json", "--output", "-").out)
    assert told["lost_clips"] == [at]
    assert f"1 recording missing or changed, line {at}" in told["open"]


def changed(line: bytes, **fields: Any) -> bytes:
    return encode({**json.loads(line), **fields}) + b"\n"


@pytest.mark.parametrize(
    ("field", "name", "value"),
    [
        ("unit", "tag", "KF-08"),
        ("unit", "drawing", "KF-E-208"),
        ("numbers", "tolerance", {"value": 5, "unit": "%", "origin": "site procedure"}),
        ("numbers", "tolerance", None),
        ("numbers", "no-such-number", {"value": 5, "unit": "%", "origin": "site procedure"}),
        ("procedure", "title", "Another procedure"),
    ],
)
def test_what_the_first_line_tells_of_unit_and_procedure_is_what_the_sources_say(
    copy: Path, field: str, name: str, value: Any
) -> None:
    def forge(lines: Lines) -> Lines:
        told = json.loads(lines[0])[field] | {name: value}
        told = {key: one for key, one in told.items() if one is not None}
        return rechained([changed(lines[0], **{field: told}), *lines[1:]])

    attack(copy, forge)
    outcome = gloveside("verify", copy)
    assert named(outcome) == [1]
    assert f"at '{field}, {name}', and the sources" in outcome.out


def test_an_older_journal_may_tell_fewer_numbers_and_no_other_ones(copy: Path) -> None:
    first = json.loads(read(copy)[0])
    fewer = {key: one for key, one in first["numbers"].items() if key != "tolerance"}
    other = fewer | {"stroke-turns": {"value": 1, "unit": "turns", "origin": "x"}}
    for numbers, code in ((fewer, 0), (other, 1)):
        more = {"format": "gloveside-journal/4", "numbers": numbers}
        changes = changed(read(copy)[0], **more)
        attack(copy, lambda lines, first=changes: rechained([first, *lines[1:]]))  # type: ignore[misc]
        assert gloveside("verify", copy).code == code


def test_a_deviation_that_was_taken_out_is_found_by_the_replay(copy: Path) -> None:
    at = next(n for n, line in enumerate(read(copy), 1) if b'"deviations"' in line)

    def hide(lines: Lines) -> Lines:
        fields = json.loads(lines[at - 1])
        del fields["deviations"]
        return rechained([*lines[: at - 1], encode(fields) + b"\n", *lines[at:]])

    attack(copy, hide)
    outcome = gloveside("verify", copy)
    assert named(outcome) == [at]
    assert "at 'deviations'" in outcome.out


def test_a_deviation_may_be_worded_otherwise(copy: Path) -> None:
    def reword(lines: Lines) -> Lines:
        told = [json.loads(line) for line in lines]
        for one in told:
            if "deviations" in one:
                one["deviations"] = ["Said better."] * len(one["deviations"])
        return rechained([encode(one) + b"\n" for one in told])

    attack(copy, reword)
    assert gloveside("verify", copy).code == 0


def test_a_review_after_the_root_is_not_vouched_for_by_it(copy: Path) -> None:
    kept = told(gloveside("verify", copy), "Root in words").split()
    count = len(read(copy))
    options = ("--checker", "JT", "--ears", "typed", "--voice", "off")
    assert gloveside("review", copy, *options, typed="correct\n" * 40).code == 0
    later = gloveside("verify", copy, "--root", *kept)
    assert later.code == 0
    assert f"Lines 1 to {count} are those whose root was kept; lines {count + 1} to " in later.out
    assert "and that root does not vouch for them." in later.out
    assert "It is the journal whose hash was kept." not in later.out


def test_a_forged_review_is_an_error_with_the_kept_root_too(copy: Path) -> None:
    kept = told(gloveside("verify", copy), "Root in words").split()
    count = len(read(copy))
    with Journal.open(copy) as journal:
        journal.append("2099-01-01T00:00:00.000Z", {"kind": "reviewed", "by": "JT", "agreed": 999})
    for root in ((), ("--root", *kept)):
        assert set(named(gloveside("verify", copy, *root))) == {count + 1}


def test_an_open_disagreement_and_where_a_job_stands_are_told(tmp_path: Path) -> None:
    folder = job(tmp_path / "job", *REPLIES[:3], "hold")
    assert "State: on hold, at isolation/supplies/" in gloveside("verify", folder).out
    options = ("--checker", "JT", "--ears", "typed", "--voice", "off")
    gloveside("review", folder, *options, typed="wrong\nyes\n")
    state = told(gloveside("verify", folder), "State")
    assert "JT does not agree with the confirmation of line 2, at isolation" in state


def test_a_disagreement_holds_a_job_under_way_and_one_at_its_end(
    copy: Path, tmp_path: Path
) -> None:
    under_way = job(tmp_path / "under-way", *REPLIES[:3])
    assert told(gloveside("verify", under_way), "State").startswith("not at its end, at ")
    options = ("--checker", "JT", "--ears", "typed", "--voice", "off")
    for folder, state in ((under_way, "on hold, at isolation"), (copy, "on hold, at its end. JT")):
        assert gloveside("review", folder, *options, typed="wrong\nyes\n").code == 3
        assert told(gloveside("verify", folder), "State").startswith(state)
