"""``gloveside run``: a job for real, or the continuation of one."""

from __future__ import annotations

import argparse
import contextlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from assistant.cli.attend import attend
from assistant.cli.board import BoardLink, add_board, add_board_at, check_board, open_board
from assistant.cli.complaint import Complaint, Exit
from assistant.cli.conduct import Conductor, words_for_the_order
from assistant.cli.headset import open_voice_and_ears
from assistant.cli.hearing import Hearing, add_wake_word, require_models
from assistant.cli.job_folder import Job, create_sources, has_journal, opening_of, replayed
from assistant.cli.manner import Wish, wished
from assistant.cli.microphone import add_talk
from assistant.cli.papers import add_papers, all_papers, given_papers
from assistant.cli.recognisers import add_recogniser
from assistant.cli.record import renew_record
from assistant.cli.speaker import speaker_with
from assistant.cli.stopped import in_words, last_words
from assistant.cli.tones import with_tones
from assistant.cli.unread import drop_unread, tell
from assistant.cli.voices import add_voice, open_renderer
from assistant.journal.clips import digests
from assistant.journal.entry import is_finished, timestamp
from assistant.journal.replay import Happened, ReplayError
from assistant.journal.store import Journal
from assistant.journal.verdicts import open_disagreements
from assistant.language.english import english
from assistant.language.wake_word import WakeWordError, check_wake_word
from assistant.procedure.load import load_program
from assistant.procedure.problems import FileRefused
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.rules.rule import Level
from assistant.procedure.rules.subject import Means
from assistant.procedure.unit_sheet import load_unit
from assistant.session import wording
from assistant.session.core import Session
from assistant.speech.devices.untaken_word import UntakenWord
from assistant.speech.voice.rendering import Renderer
from assistant.speech.voice.voices import SpokenVoice

__all__ = ["arguments", "clock", "run"]

BELL = "\a"

SAID_AGAIN = "They are said again when the device is there again; Ctrl-C ends without that."
"""Of the words at the end of a job."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("procedure", type=Path, metavar="PROCEDURE", help="the procedure's file")
    parser.add_argument(
        "--unit", type=Path, metavar="FILE", help="the unit sheet, if the procedure needs one"
    )
    add_papers(parser)
    parser.add_argument(
        "--job",
        type=Path,
        required=True,
        metavar="FOLDER",
        help="the job folder; continued if begun",
    )
    parser.add_argument(
        "--ears",
        default="mic",
        metavar="mic|typed|FOLDER",
        help="microphone, keyboard lines, or a folder of WAV files in order (default: mic)",
    )
    add_talk(parser)
    add_wake_word(parser)
    add_voice(parser, "on")
    parser.add_argument(
        "--tones",
        choices=("on", "off"),
        default="on",
        help="short tones from the loudspeaker: listening, understood, on hold "
        "(default: %(default)s)",
    )
    add_recogniser(parser)
    add_board(parser)
    add_board_at(parser)


def clock() -> str:
    """The time now, as the journal writes it."""
    return timestamp(datetime.now(UTC))


def run(args: argparse.Namespace) -> Exit:
    """Do the job, or continue it where it stopped."""
    check_board(args)
    _check_wake_word(args)
    require_models(args.ears, args.recogniser)
    journal, job, session, happened = _continue(args) if has_journal(args.job) else _begin(args)
    for one in open_disagreements(journal.entries):
        tell(f"On hold: {one.by} does not agree with {one.what}. To clear it: {one.to_clear}.")
    with journal, open_renderer() as renderer:
        opening = None if journal.entries else opening_of(job)
        stopped = ""
        try:
            with open_board(args, job, journal, happened) as board:
                lasting = _Lasting(session, journal, board, renderer, wished(happened))
                show = partial(_show_failure, lasting)
                with _shown_on(board, session):
                    attend(partial(_opened, args, lasting), opening, show)
        except KeyboardInterrupt:
            stopped = "\nStopped. Everything confirmed is kept."
        except Complaint:
            raise
        except Exception as error:
            drop_unread()
            stopped = f"gloveside: {in_words(error)}"
    if stopped:
        tell(stopped)
    if journal.entries:
        renew_record(args.job)
    if is_finished(journal.entries):  # the session is ahead of it where the last line failed
        if stopped:
            tell(words_for_the_order(journal.root))
        return Exit.DONE
    tell("The job is not finished. The same command continues it.")
    return Exit.HELD


def _show_failure(lasting: _Lasting, failure: str) -> None:
    if is_finished(lasting.journal.entries):  # the board shows the words already
        now = f"The job is finished. {words_for_the_order(lasting.journal.root)} {SAID_AGAIN}"
    else:
        now = wording.STANDS_STILL
        lasting.board.show_failure(failure)
    tell(f"{BELL}gloveside: {failure}. {now}")


@contextlib.contextmanager
def _shown_on(board: BoardLink, session: Session) -> Iterator[None]:
    """Show on the board what ends the job."""
    try:
        yield
    except Exception as error:
        board.show_stopped(last_words(session), in_words(error))
        raise


_Begun = tuple[Journal, Job, Session, list[Happened]]
"""A job that can go on, and what has happened in it."""


@dataclass(frozen=True, slots=True)
class _Lasting:
    """What outlives the devices, when a headset drops out."""

    session: Session
    journal: Journal
    board: BoardLink
    renderer: Renderer
    wish: Wish
    untaken: UntakenWord = field(default_factory=UntakenWord)


@contextlib.contextmanager
def _opened(args: argparse.Namespace, lasting: _Lasting) -> Iterator[Conductor]:
    """What conducts the job, with the devices that the user chose."""
    heard = tuple(digests(lasting.journal.entries))
    hearing = Hearing(
        args.ears, args.recogniser, lasting.board.presses, args.talk, args.wake_word, heard
    )
    both = open_voice_and_ears(args.voice, lasting.renderer, hearing, lasting.untaken)
    with both as (voice, ears):
        conductor = Conductor(
            lasting.session,
            lasting.journal,
            args.job,
            ears,
            speaker_with(voice, lasting.wish),
            clock,
            lasting.board.watchers,
        )
        if args.tones == "on" and isinstance(voice, SpokenVoice):
            conductor.ears, watcher = with_tones(voice, ears)
            conductor.watchers += (watcher,)
        if args.wake_word:
            voice.say(f"Begin each reply with the word {args.wake_word}. Hold needs no word.")
        yield conductor


def _check_wake_word(args: argparse.Namespace) -> None:
    """Refuse a wake word that would not work, before a job is begun."""
    if not args.wake_word:
        return
    if args.ears != "mic":
        raise Complaint("--wake-word is for the microphone: leave it out, or choose --ears mic")
    try:
        check_wake_word(args.wake_word, english())
    except WakeWordError as error:
        raise Complaint(f"{error}; choose another for --wake-word") from error


def _begin(args: argparse.Namespace) -> _Begun:
    job = _new_job(args)
    return Journal.create(args.job), job, job.session(), []


def _new_job(args: argparse.Namespace) -> Job:
    _refuse_unsafe(args.procedure)
    papers = all_papers(args.paper, load_program(args.procedure))
    return create_sources(args.job, args.procedure, args.unit, papers)


def _refuse_unsafe(procedure: Path) -> None:
    """Begin no job by a procedure that breaks a rule of safety.

    A job that is under way goes on by the sources that it began with, whatever is known better now.
    """
    found = lint_file(procedure, Means(english()))
    if errors := [problem for problem in found if problem.level == Level.ERROR]:
        raise FileRefused(errors)


def _continue(args: argparse.Namespace) -> _Begun:
    journal = Journal.open(args.job)
    if journal.torn is not None:
        tell(f"A torn last line was set aside in {journal.torn}.")
    if not journal.entries:
        job = _new_job(args)
        return journal, job, job.session(), []
    try:
        job, session, happened = replayed(args.job, journal.entries)
    except ReplayError as error:
        journal.close()
        raise Complaint(
            f"{journal.file}: {error}; this job cannot be continued, begin a new one"
        ) from error
    _refuse_other(args, job)
    if session.finished:
        journal.close()
        raise Complaint(
            f"{args.job}: this job is finished; 'gloveside record {args.job}' writes its "
            "record, and another folder begins a new job"
        )
    return journal, job, session, happened


def _refuse_other(args: argparse.Namespace, job: Job) -> None:
    """Refuse to go on with a job under the name of another unit, procedure or person."""
    tag = load_unit(args.unit).tag if args.unit else "no unit"
    on = job.unit.tag if job.unit else "no unit"
    if tag != on:
        raise Complaint(
            f"{args.job}: this job is on {on}, and the sheet that was named is of {tag}; "
            "name the sheet of this job's unit, or another job folder"
        )
    name = load_program(args.procedure).procedure.name
    if name != job.program.procedure.name:
        raise Complaint(
            f"{args.job}: this job follows '{job.program.procedure.name}', and {args.procedure} is "
            f"'{name}'; name the procedure of this job, or another job folder"
        )
    for paper, text in given_papers(args.paper).items():
        begun_with = job.papers.get(paper)
        if text.strip() != (begun_with or "").strip():
            raise Complaint(
                f"{args.job}: this job was begun with "
                + (f"{paper}={begun_with}" if begun_with else f"no paper '{paper}'")
                + f", and not with {paper}={text}; leave --paper out, or begin a job of its own in "
                "another folder"
            )
