"""A rehearsal at the keyboard, or by voice: what the writer types, and what is shown for it."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.hearing import Hearing, open_ears
from assistant.cli.keyboard import read_line
from assistant.cli.rig_window import RigWindow
from assistant.cli.speaker import Speaker, speaker_with
from assistant.cli.transcript import Transcript
from assistant.cli.trips import print_trips
from assistant.cli.voices import open_renderer, open_voice
from assistant.cli.watched_files import WatchedFiles
from assistant.language.meaning import Meaning
from assistant.language.recognition import Recognition
from assistant.language.speaking import say_meaning
from assistant.procedure.load import sources_of
from assistant.procedure.problems import FileRefused
from assistant.procedure.values import say
from assistant.rehearsal.bench import Bench
from assistant.rehearsal.covering import reach
from assistant.rehearsal.following import follow
from assistant.rehearsal.handling import HANDLINGS, HandlingError, read_handling
from assistant.rehearsal.jumping import Jump, StepError, find_step, jump
from assistant.rehearsal.mishaps import MISHAPS, read_mishap, step_of
from assistant.rehearsal.playing import play
from assistant.rehearsal.rehearsal import Exchange, Rehearsal
from assistant.rig.actuator import RigError
from assistant.rig.technician import TechnicianLost
from assistant.session.effects import Listen, Request
from assistant.speech.ears import Ears, Ended, Silence, Spoken
from assistant.speech.typed import understood
from assistant.speech.voice.voices import MuteVoice

__all__ = ["Rehearsing"]

HELP = """\
  Enter            answers as the rig shows, once what was asked for is done on it
  any words        answer as a technician would; what was asked for is done first
  /do              do what is asked for, without answering, and see what the rig shows
  /look            the rig as it stands
  /go STEP         come to a step: what lies before it is played, answered as the rig shows
  /steps [TEXT]    the steps, or those with TEXT in their names
  /what-if ERROR   have this error made now; without an error: which there are
  /silence         say nothing for as long as the program waits
  /away MINUTES    be away, and start the program again
  /quit            end the rehearsal; nothing is kept
On the rig, in place of what is asked for:"""


class _Quit(Exception):  # noqa: N818 - it is no error
    """The writer has seen enough."""


@dataclass
class Rehearsing:
    """A rehearsal under way.

    Args:
        args: the command line.
        load: loads what is rehearsed, as its files stand at the moment.
    """

    args: argparse.Namespace
    load: Callable[[], Bench]
    files: WatchedFiles = field(default_factory=WatchedFiles)
    rehearsal: Rehearsal = field(init=False)
    transcript: Transcript = field(init=False)
    speaker: Speaker = field(init=False)
    ears: Ears | None = field(default=None, init=False)
    window: RigWindow = field(default_factory=RigWindow, init=False)

    def run(self) -> Exit:
        """Rehearse until the job is over and the writer too, or until nothing more is typed."""
        self._watch_files()
        bench = self.load()
        with contextlib.ExitStack() as stack:
            self.speaker = self._open_speaker(stack)
            if self.args.ears != "typed":
                hearing = Hearing(self.args.ears, self.args.recogniser)
                self.ears = stack.enter_context(open_ears(hearing))
            self._announce(bench)
            self.transcript = Transcript(bench.program, sys.stdout)
            self.rehearsal = Rehearsal(bench, self._show)
            self._show_rig()
            with contextlib.suppress(_Quit):
                while self._turn():
                    pass
        return self._end()

    def _open_speaker(self, stack: contextlib.ExitStack) -> Speaker:
        if self.args.voice == "off":
            return speaker_with(MuteVoice())
        renderer = stack.enter_context(open_renderer())
        return speaker_with(open_voice(self.args.voice, renderer))

    def _announce(self, bench: Bench) -> None:
        print("A rehearsal on a simulated actuator. No record is kept, and it proves nothing.")
        papers = ", ".join(f"{name} {say(value)}" for name, value in bench.papers.items())
        if papers:
            print(f"Papers, invented where none were given: {papers}.")
        rotors = ", ".join(
            f"{name} {found.setting}, opening {found.rotation}"
            for name, found in bench.found.items()
        )
        if rotors:
            print(f"Rotors as found: {rotors}.")
        print("Enter answers as the rig shows; /help tells the rest.")

    def _end(self) -> Exit:
        rig = self.rehearsal.technician.rig
        if self.rehearsal.session.finished:
            if rig is not None:
                print_trips("As left", rig)
            print("The job is done. Nothing of it was kept.")
            return Exit.DONE
        print(f"The rehearsal ended at {self.rehearsal.session.step}. Nothing of it was kept.")
        return Exit.HELD

    # One turn: a line or a reply, and what comes of it

    def _turn(self) -> bool:
        """Take a reply or a command; whether to go on."""
        self._reload_if_changed()
        listen = self.rehearsal.listen
        if listen is None:
            return self._after_the_end()
        if self.ears is not None:
            return self._listen(self.ears, listen)
        line = read_line(self._words)
        if line is None:
            return False
        self._take(line)
        return True

    def _after_the_end(self) -> bool:
        if self.ears is not None:
            return False
        print("The job is over. /go STEP goes back into it; Enter ends.")
        line = read_line(self._words)
        if line and line.startswith("/"):
            self._take(line)
            return True
        return False

    def _take(self, line: str) -> None:
        """Take a line that was typed; what is wrong with it is told, and nothing is lost."""
        if self._reload_if_changed() and not line.startswith("/"):
            told = f"“{line}” was not taken" if line else "Nothing was answered"
            print(f"{told}: read what is asked now.")
            return
        try:
            if line.startswith("/"):
                self._command(line[1:].split())
            elif line:
                self._say(line)
            else:
                self._answer()
        except (HandlingError, StepError, RigError, TechnicianLost) as error:
            print(f"  {error}")

    def _listen(self, ears: Ears, listen: Listen) -> bool:
        self._work_ahead()
        try:
            reply = ears.listen(listen.grammar, listen.patience)
        except KeyboardInterrupt:
            print("\nThe keyboard, for one line:")
            line = read_line(self._words)
            if line is not None:
                self._take(line)
            return line is not None
        match reply:
            case Ended():
                return False
            case Silence():
                self.transcript.tell("heard", "nothing")
                self.rehearsal.silence()
            case Spoken(recognition):
                words = f"“{recognition.text}” ({recognition.confidence:.2f})"
                self._hear(recognition, words, listen)
        return True

    def _say(self, line: str) -> None:
        listen = self.rehearsal.listen
        if listen is None:
            raise TechnicianLost("the job is over: nothing is asked")
        self._hear(understood(line, listen.grammar, "typed"), f"“{line}”", listen)

    def _hear(self, recognition: Recognition, words: str, listen: Listen) -> None:
        why = self.rehearsal.prepare(recognition)
        self._show_rig()
        if why:
            print(f"  what is asked for was not done: {why}")
        meant = _meant(recognition.accepted(), listen)
        self.transcript.tell("you", f"{words} → {meant}")
        self.rehearsal.say(recognition)

    def _answer(self) -> None:
        listen = self.rehearsal.listen
        answer = self.rehearsal.true_answer()
        self._show_rig()
        taken = "taken" if listen is None or listen.read_back is None else "as it was answered"
        how = "as the rig shows" if answer.seen else taken
        self.transcript.tell("you", f"{say_meaning(answer.meaning)} ({how})")
        self.rehearsal.give(answer.meaning)

    def _work_ahead(self) -> None:
        """By voice nobody types /do: what is asked for is done before it is listened for."""
        if self.ears is not None and self.rehearsal.technician.to_do:
            with contextlib.suppress(TechnicianLost):
                self.rehearsal.work()
            self._show_rig()

    # Commands

    def _command(self, words: list[str]) -> None:
        name, *told = words or ["help"]
        if name in HANDLINGS:
            self.rehearsal.handle(read_handling(words, self.rehearsal.bench.unit))
            self._show_work()
            return
        command = _COMMANDS.get(name)
        if command is None:
            raise HandlingError(f"there is no /{name}; /help tells what there is")
        command(self, told)

    def _help(self, _told: list[str]) -> None:
        print(HELP)
        for name, what in HANDLINGS.items():
            print(f"  /{name} {what}".rstrip())

    def _do(self, _told: list[str]) -> None:
        if not self.rehearsal.technician.to_do:
            print("  nothing is asked for that is not done yet")
            return
        self.rehearsal.work()
        self._show_work()

    def _look(self, _told: list[str]) -> None:
        technician = self.rehearsal.technician
        if technician.rig is None:
            raise TechnicianLost("this procedure is on no unit: there is no rig to look at")
        self.window.show_whole(technician.rig)

    def _steps(self, told: list[str]) -> None:
        text = " ".join(told)
        names = [name for name in self.rehearsal.bench.program.nodes if text in name]
        for name in names:
            here = "  ← here" if name == self.rehearsal.session.step else ""
            print(f"  {name}{here}")
        if not names:
            print(f"  no step has “{text}” in its name")

    def _what_if(self, told: list[str]) -> None:
        if not told:
            for name, kind in MISHAPS.items():
                print(f"  {name:<16} {kind}")
            return
        mistake = read_mishap(told, self.rehearsal.session.step)
        mistake = step_of(mistake, self.rehearsal.technician)
        self.rehearsal.err(mistake)
        print(f"  at {mistake.step}, {mistake.kind}: Enter makes it, if there is occasion")

    def _silence(self, _told: list[str]) -> None:
        self.rehearsal.silence()

    def _away(self, told: list[str]) -> None:
        if len(told) != 1 or not told[0].isdecimal() or len(told[0]) > 5:
            raise HandlingError("write it '/away MINUTES', for example '/away 15'")
        self.rehearsal.come_back(60.0 * int(told[0]))

    def _quit(self, _told: list[str]) -> None:
        raise _Quit

    def _go(self, told: list[str]) -> None:
        if len(told) != 1:
            raise StepError("write it '/go STEP'; '/steps' lists them")
        rehearsal = self.rehearsal
        step = find_step(told[0], rehearsal.bench.program.nodes, rehearsal.session.step)
        way = jump(self.rehearsal, step)
        if way is None:
            self._go_by_departures(step)
            return
        for line in _told_of(way):
            print(f"  {line}")
        self._stand_in(way.rehearsal)

    def _go_by_departures(self, step: str) -> None:
        print(f"  What the rig shows does not lead to {step}. Looking for what does …", flush=True)
        job = reach(self.rehearsal.bench, step)
        if job is None:
            raise StepError(f"nothing was found that leads to {step}; you are where you were")
        played = play(job.bench, job.departures, until=step)
        print(f"  Played from the beginning to {step}, with: {job}")
        self._stand_in(played.rehearsal)

    # What is shown

    def _show(self, exchange: Exchange) -> None:
        self.transcript.show(exchange.effects)
        for effect in exchange.effects:
            self.speaker.do(effect)
            if isinstance(effect, Request):
                self.transcript.tell("to do", _in_words(effect))

    def _show_rig(self) -> bool:
        """Show the rig if anything of it has changed; whether it has."""
        rig = self.rehearsal.technician.rig
        return rig is not None and self.window.show_changes(rig)

    def _show_work(self) -> None:
        """Show what some work came to."""
        if not self._show_rig():
            print("  done; no contact, rod or lamp stands otherwise, nor the valve")

    def _stand_in(self, rehearsal: Rehearsal) -> None:
        """Go on with another rehearsal, and show where it stands."""
        rehearsal.watch = self._show
        self.rehearsal = rehearsal
        self.transcript = Transcript(rehearsal.bench.program, sys.stdout)
        self._show_rig()
        self._show(rehearsal.last)

    def _words(self) -> list[str]:
        """What a line may be completed to."""
        commands = [f"/{name}" for name in (*_COMMANDS, *HANDLINGS)]
        return [*commands, *self.rehearsal.bench.program.nodes, *MISHAPS]

    # The files

    def _watch_files(self) -> None:
        main = self.args.procedure
        files = {main}
        with contextlib.suppress(FileRefused):
            files |= {main.parent / name for name in sources_of(main)}
        if self.args.unit is not None:
            files.add(self.args.unit)
        self.files.look(files)

    def _reload_if_changed(self) -> bool:
        """Load the files anew if one was edited, and keep the place; whether it was done."""
        if not self.files.changed:
            return False
        self.files.look()
        try:
            bench = self.load()
        except FileRefused as refused:
            for problem in refused.problems:
                print(problem)
            print("The files have changed and cannot be used so: the old ones go on.")
            return False
        except Complaint as complaint:
            print(f"{complaint}\nThe files have changed and cannot be used so: the old ones go on.")
            return False
        self._watch_files()
        before = self.rehearsal.session.step
        followed = follow(bench, self.rehearsal.log, before)
        print("The files have changed: loaded anew, and what you answered was played again.")
        for note in followed.notes():
            print(f"  {note}")
        now = followed.rehearsal.session.step
        print(f"  You are at {now}{', as before' if now == before else f', and were at {before}'}.")
        self._stand_in(followed.rehearsal)
        return True


def _in_words(request: Request) -> str:
    """What is asked to be done on the rig."""
    told = ", ".join(say(value) for value in request.arguments.values())
    return f"{request.act}: {told}" if told else str(request.act)


def _meant(meaning: Meaning | None, listen: Listen) -> str:
    if meaning is not None:
        return say_meaning(meaning)
    return "kept as it was said" if listen.keeps_words else "not understood"


def _told_of(way: Jump) -> Iterator[str]:
    where = "From the beginning" if way.from_start else "On from here"
    count = len(way.answered)
    yield f"{where}, {count} question{'' if count == 1 else 's'} answered in your stead."
    if way.taken:
        taken = ", ".join(f"{step} {say_meaning(meaning)}" for step, meaning in way.taken)
        yield f"Not shown by the rig, but taken: {taken}."


_COMMANDS: Mapping[str, Callable[[Rehearsing, list[str]], None]] = {
    "help": Rehearsing._help,
    "do": Rehearsing._do,
    "look": Rehearsing._look,
    "go": Rehearsing._go,
    "steps": Rehearsing._steps,
    "what-if": Rehearsing._what_if,
    "silence": Rehearsing._silence,
    "away": Rehearsing._away,
    "quit": Rehearsing._quit,
}
