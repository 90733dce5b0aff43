"""Kill ``gloveside run`` at random moments, resume, and count what was lost.

Run by hand: ``python -m tests.bench.kills --kills 200 --seed 1``. Prints a table.

Each job is one of two ends by keyboard, killed (SIGKILL) again and again until it is finished. The
process is killed in one of three ways, drawn at random:

- *any moment*: from outside, some milliseconds after some sentence, or while it starts.
- *before sync*: by itself, when an entry was written and not yet brought to the disk. The system
  lives on, so the line stays.
- *power cut*: the same, and of the line that was not brought to the disk only a random part is
  left, from nothing to all but the newline.

What it does not do: cut the power. That an fsync which answered is kept is the disk's promise.
"""

from __future__ import annotations

import argparse
import enum
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.cli.complaint import Exit
from assistant.cli.conduct import WORDS_FOR_THE_ORDER
from assistant.journal import chain
from tests.cli.command import KF_07, ROOT, two_ends
from tests.session.job import TO_READING

__all__ = ["Kill", "Way", "kills_of_a_job"]

REPLIES = (
    *TO_READING,
    *("one and two closed three and four open", "correct"),
    # No turns: the pace, and with it the next question, must not hang on how fast a start is.
    *("done", "mark", "mark zero", "correct", "mark"),
    *("one and two closed three and four open", "correct", "locked"),
    *("counterclockwise", "correct"),
    *("five and six open seven and eight closed", "correct"),
    *("done", "mark", "mark zero", "correct"),
    *("five and six closed seven and eight open", "correct", "locked"),
)
"""A whole job."""

DIES_BEFORE_SYNC = """
import os, signal, sys
left, sync = int(sys.argv.pop(1)), os.fsync
def dying(handle):
    global left
    if os.readlink(f"/proc/self/fd/{handle}").endswith("journal.jsonl"):
        left -= os.fstat(handle).st_size > 0
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
    sync(handle)
os.fsync = dying
from assistant.cli.main import main
sys.exit(main())
"""
"""The command, which kills itself at the n-th entry, between write and fsync."""


class Way(enum.StrEnum):
    """How a process ends."""

    ANY_MOMENT = "any moment"
    BEFORE_SYNC = "before sync"
    POWER_CUT = "power cut"


@dataclass(frozen=True, slots=True)
class Kill:
    """One kill and what it did.

    Args:
        way: how the process was killed.
        lines: whole lines in the journal afterwards.
        torn: bytes of a torn last line.
        lost: sentences said aloud of which the journal knows nothing.
    """

    way: Way
    lines: int
    torn: int
    lost: tuple[str, ...]


def kills_of_a_job(folder: Path, chance: random.Random, most: int = 7) -> Iterator[Kill]:
    """Do one job through any number of kills; checks at the end that it is whole.

    Args:
        folder: empty; the job's.
        chance: draws the ways and the moments.
        most: entries or sentences until a process is killed, at most.

    Raises:
        AssertionError: something was lost, asked twice or skipped.
    """
    before: list[bytes] = []
    torn = b""
    pieces: list[bytes] = []
    while True:
        way = chance.choice(list(Way))
        code, aloud, told = _process(folder, way, before, chance.randint(0, most), chance.random())
        _require("Traceback" not in told, told)
        # Whoever was killed before it spoke may not have come to say so.
        _require(not aloud or ("set aside" in told) == bool(torn), told)
        whole, left = _lines(folder)
        _require(whole[: len(before)] == before, "an entry that was on the disk is gone")
        if code == 0 or (code == Exit.BAD_USE and _finished(before)):
            break
        _require(code == -signal.SIGKILL, told)
        if way is Way.POWER_CUT and len(whole) > len(before):
            _tear(folder, whole[-1], chance)
            whole, left = _lines(folder)
        if left and (left != torn or whole != before):
            pieces.append(left)
        known = [sentence for line in whole[len(before) :] for sentence in _said(line)]
        yield Kill(way, len(whole), len(left), tuple(_unknown(aloud, known)))
        before, torn = whole, left
    _require_whole(folder, whole, pieces)


def _process(
    folder: Path, way: Way, before: Sequence[bytes], moment: int, pause: float
) -> tuple[int, list[str], str]:
    """Start or resume the job, with the replies that it lacks; exit code, speech, complaints."""
    options = (
        *("run", str(two_ends()), "--unit", str(KF_07), "--job", str(folder)),
        *("--ears", "typed", "--voice", "off"),
    )
    start = ["-m", "assistant"]
    if way is not Way.ANY_MOMENT:
        start = ["-c", DIES_BEFORE_SYNC, str(max(moment, 1))]
    with tempfile.TemporaryFile("w+") as complaints:
        process = subprocess.Popen(
            [sys.executable, *start, *options],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=complaints,
            text=True,
            cwd=ROOT,
        )
        assert process.stdin and process.stdout
        process.stdin.write("".join(f"{reply}\n" for reply in REPLIES[_heard(before) :]))
        process.stdin.close()
        aloud: list[str] = []
        if way is Way.ANY_MOMENT:
            aloud = _kill(process, moment, pause)
        aloud += process.stdout.read().splitlines()
        code = process.wait()
        complaints.seek(0)
        return code, aloud, complaints.read()


def _kill(process: subprocess.Popen[str], sentences: int, pause: float) -> list[str]:
    """Kill within 8 ms of so many sentences; without any, within the first second."""
    assert process.stdout
    aloud: list[str] = []
    while len(aloud) < sentences and (line := process.stdout.readline()):
        aloud.append(line.removesuffix("\n"))
    time.sleep(0.008 * pause if sentences else 0.2 + 0.8 * pause)
    process.kill()
    return aloud


def _tear(folder: Path, line: bytes, chance: random.Random) -> None:
    file = folder / "journal.jsonl"
    os.truncate(file, file.stat().st_size - len(line) + chance.randrange(len(line)))


def _lines(folder: Path) -> tuple[list[bytes], bytes]:
    """The whole lines, and what is left of a torn one."""
    file = folder / "journal.jsonl"
    lines = chain.split_lines(file.read_bytes()) if file.exists() else []
    torn = lines.pop() if lines and not lines[-1].endswith(b"\n") else b""
    return lines, torn


def _said(line: bytes) -> list[str]:
    said: list[str] = json.loads(line).get("said", [])
    return said


def _finished(lines: Sequence[bytes]) -> bool:
    """Whether the last entry ends the job; nothing is left to resume then."""
    return bool(lines) and json.loads(lines[-1]).get("finished") is True


def _heard(lines: Sequence[bytes]) -> int:
    return sum(json.loads(line)["kind"] == "heard" for line in lines)


def _unknown(aloud: Sequence[str], known: Sequence[str]) -> list[str]:
    """What was said aloud and is not in the journal, but for the words of its root."""
    rest = iter(known)
    kept = (sentence for sentence in aloud if not sentence.startswith(WORDS_FOR_THE_ORDER))
    return [sentence for sentence in kept if sentence not in rest]


def _require_whole(folder: Path, lines: Sequence[bytes], pieces: Sequence[bytes]) -> None:
    entries: list[dict[str, Any]] = [json.loads(line) for line in lines]
    heard = [entry["heard"]["text"] for entry in entries if entry["kind"] == "heard"]
    # An answer that was asked for twice, or a question that was skipped, would shift the replies.
    _require(heard == list(REPLIES), f"heard {heard}")
    _require(_finished(lines), "the job is not finished")
    _require(chain.check(list(lines)) == [], "the chain is broken")
    kept = Counter(file.read_bytes() for file in folder.glob("journal.torn-*"))
    _require(Counter(pieces) <= kept, "a torn piece was not set aside")


def _require(sound: bool, what: str) -> None:
    if not sound:
        raise AssertionError(what)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    return parser.parse_args()


def _main() -> None:
    args = _arguments()
    chance = random.Random(args.seed)
    kills: list[Kill] = []
    jobs = 0
    while len(kills) < args.kills:
        with tempfile.TemporaryDirectory(prefix="kills-") as folder:
            kills += kills_of_a_job(Path(folder), chance)
            jobs += 1
    print(f"{jobs} jobs finished whole, {len(kills)} kills, seed {args.seed}")
    print(f"{'way':<14}{'kills':>6}{'before line 1':>15}{'torn lines':>12}{'lost':>6}")
    for way in Way:
        mine = [kill for kill in kills if kill.way is way]
        count = Counter(first=0)
        count.update("first" for kill in mine if kill.lines == 0)
        count.update("torn" for kill in mine if kill.torn)
        count.update("lost" for kill in mine if kill.lost)
        print(f"{way:<14}{len(mine):>6}{count['first']:>15}{count['torn']:>12}{count['lost']:>6}")


if __name__ == "__main__":
    _main()
