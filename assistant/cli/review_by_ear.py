"""A second person hears what was confirmed in a job, and says of each whether it is right.

A recording is played only as it was kept: one that is missing or was changed is told as not heard,
gets no verdict, and nothing is signed over it. What was typed or pressed has no recording: it is
read, and the verdict says so.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.hearing import Hearing, open_ears
from assistant.cli.job_folder import Job
from assistant.cli.run import clock
from assistant.cli.voices import closing_voice, open_renderer, open_voice
from assistant.journal import clips
from assistant.journal.chain import Level
from assistant.journal.confirmations import Confirmation, confirmations
from assistant.journal.entry import Entry, is_finished
from assistant.journal.store import Journal
from assistant.journal.verdicts import (
    HEARD_MEANING,
    READ_MEANING,
    counts_of,
    judged,
    signature_of,
    signed,
    verdicts_by,
)
from assistant.language.answers import AskYesNo, grammar
from assistant.language.english import english
from assistant.language.meaning import Command, Meaning, Word, from_json
from assistant.language.speaking import say_meaning
from assistant.speech import wav
from assistant.speech.ears import Ears, Ended, Spoken
from assistant.speech.voice.voices import SpokenVoice, Voice
from assistant.trade.verification import same_person

__all__ = ["hear"]

PATIENCE = 60.0
"""Seconds of silence after which a confirmation is played again."""

KEEP_AND_ASK = "Keep the job folder as it is, and ask for a copy from before."
"""What to do where a recording is missing or is not as it was kept."""


def hear(args: argparse.Namespace, journal: Journal, job: Job) -> Exit:
    """Take the checker's verdict on each confirmation that the checker has not agreed on yet.

    Args:
        args: of ``gloveside review``.
        journal: of the job, open for writing.
        job: what it ran from.

    Raises:
        Complaint: the checker is the technician of the job.
    """
    papers = journal.entries[0].body.get("job", {}).get("papers", {})
    if same_person(str(papers.get("technician", "")), args.checker):
        raise Complaint(f"{args.checker} is the technician of this job: another person must check")
    proving = {name for name, node in job.program.nodes.items() if node.step.proves}
    points = list(confirmations(journal.entries, proving))
    unheard = _without_sound(args.job, journal.entries, points)
    for seq, why in unheard.items():
        print(f"Line {seq} cannot be heard: {why}.")
    before = verdicts_by(journal.entries, args.checker)
    left = [point for point in points if not _is_agreed(point, before.get(point.seq))]
    with open_renderer() as renderer:
        voice = open_voice(args.voice, renderer)
        with closing_voice(voice), open_ears(Hearing(args.ears, args.recogniser)) as ears:
            hearing = _Hearing(args.job, voice, ears, frozenset(unheard))
            for number, point in enumerate(left, 1):
                try:
                    agrees = hearing.verdict(f"{number} of {len(left)}.", point)
                except _UnheardError:
                    voice.say(f"Not heard. {KEEP_AND_ASK}")
                    continue
                if agrees is None:
                    print("Stopped. The same command goes on with what is left.")
                    return Exit.PROBLEMS if unheard else Exit.DONE
                meaning = _meaning(point)
                entry = judged(point.seq, point.step, args.checker, agrees=agrees, meaning=meaning)
                journal.append(clock(), entry)
    return _sign(args, journal, points)


def _sign(args: argparse.Namespace, journal: Journal, points: Sequence[Confirmation]) -> Exit:
    """Sign a job at its end, all of which can be heard as it was kept; once for the same."""
    if unheard := _without_sound(args.job, journal.entries, points):
        print(f"Not signed, for {len(unheard)} of {len(points)} cannot be heard:")
        for seq, why in unheard.items():
            print(f"  Line {seq}: {why}.")
        print(KEEP_AND_ASK)
        return Exit.PROBLEMS
    if not is_finished(journal.entries):
        print("Not signed yet: the job goes on. Run the same command again when it is at its end.")
        return Exit.DONE
    counts = counts_of(verdicts_by(journal.entries, args.checker).values())
    before = signature_of(journal.entries, args.checker, counts)
    if before is not None:
        print(f"Nothing to hear: {args.checker} signed at line {before.seq}.")
        return Exit.DONE
    journal.append(clock(), signed(args.checker, counts))
    print(f"Signed by {args.checker}: {counts.agreed} agreed, {counts.disagreed} disagreed.")
    return Exit.DONE


def _meaning(point: Confirmation) -> str:
    """What a verdict on it means."""
    return READ_MEANING if point.unrecorded else HEARD_MEANING


def _is_agreed(point: Confirmation, verdict: Entry | None) -> bool:
    """Whether it was agreed on by what there is: where nothing can be heard, nobody heard it."""
    if verdict is None or verdict.body.get("agrees") is not True:
        return False
    return verdict.body.get("meaning") == _meaning(point)


def _without_sound(
    folder: Path, entries: Sequence[Entry], points: Sequence[Confirmation]
) -> dict[int, str]:
    """The lines of the confirmations that cannot be heard as they were kept, each with why."""
    faults = {
        problem.line: problem.what
        for problem in clips.check(folder, entries)
        if problem.level is Level.ERROR
    }
    return {
        point.seq: f"of line {reply.seq}, {faults[reply.seq]}"
        for point in points
        for reply in point.replies
        if reply.seq in faults
    }


class _UnheardError(Exception):
    """A confirmation cannot be heard as it was kept."""


@dataclass(frozen=True, slots=True)
class _Hearing:
    """Plays confirmations, and takes a verdict on each.

    Args:
        folder: of the job.
        voice: asks, and plays.
        ears: take the verdicts.
        unheard: the lines that cannot be heard as they were kept.
    """

    folder: Path
    voice: Voice
    ears: Ears
    unheard: frozenset[int]

    def verdict(self, place: str, point: Confirmation) -> bool | None:
        """Whether the checker agrees; None where no more is said, or the checker says hold.

        Raises:
            _UnheardError: a recording of it is missing, or is not as it was kept.
        """
        self._play(place, point)
        while True:
            match self._reply():
                case None | Command(Word.HOLD):
                    return None
                case Command(Word.YES):
                    return True
                case Command(Word.NO):
                    self.voice.say("You do not agree. Is that so?")
                    if self._reply() == Command(Word.YES):
                        return False
            self._play(place, point)

    def _play(self, place: str, point: Confirmation) -> None:
        self.voice.say(f"{place} {point.asked}")
        if point.seq in self.unheard:
            raise _UnheardError
        for reply in point.replies:
            # Just before it is played, for a review takes long.
            if clips.fault_of(self.folder, reply) is not None:
                raise _UnheardError
            if reply.clip is not None:
                self._play_clip(reply.clip[0])
        if point.unrecorded:
            self.voice.say(f"No recording: {point.unrecorded}.")
        done = "Written" if point.unrecorded else "Confirmed"
        self.voice.say(f"{done}: {say_meaning(from_json(point.answer))}. Do you agree?")

    def _play_clip(self, file: str) -> None:
        if isinstance(self.voice, SpokenVoice):
            self.voice.play(wav.load(self.folder / file))
        else:
            self.voice.say(f"(recording {file})")

    def _reply(self) -> Meaning | None:
        """What was meant; a command that does nothing here where nothing was understood."""
        reply = self.ears.listen(grammar(AskYesNo(), english()), PATIENCE)
        match reply:
            case Spoken(recognition, _):
                return recognition.accepted() or Command(Word.SAY_AGAIN)
            case Ended():
                return None
        return Command(Word.SAY_AGAIN)
