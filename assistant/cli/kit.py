"""``gloveside kit``: whether equipment and place are fit for a job."""

from __future__ import annotations

import argparse
import contextlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from datetime import datetime
from pathlib import Path

import assistant
from assistant.cli.chosen_devices import SYSTEM, choose
from assistant.cli.complaint import Complaint, Exit
from assistant.cli.hearing import DETECTOR, ears_on
from assistant.cli.microphone import open_microphone
from assistant.cli.recognisers import RECOGNISERS, add_recogniser, open_recogniser
from assistant.cli.voices import add_voice, closing_voice, open_renderer, open_voice
from assistant.kit.check_up import CheckUp
from assistant.kit.clock import check_clock
from assistant.kit.disk import check_disk
from assistant.kit.findings import Finding, Fitness, conclusion
from assistant.speech import wav
from assistant.speech.devices.named import KINDS
from assistant.speech.errors import DeviceError, SpeechError
from assistant.speech.models.catalogue import catalogue, models_folder
from assistant.speech.models.files import FileState, check
from assistant.speech.voice.rendering import Renderer
from assistant.speech.voice.voices import MuteVoice, PrintedVoice, SpokenVoice, Voice

__all__ = ["arguments", "run"]

HEAR_THIS = "The microphone should hear this sentence, if it hears the loudspeaker."


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument(
        "--jobs",
        type=Path,
        default=Path(),
        metavar="FOLDER",
        help="where job folders will be, for the room on the disk (default: here)",
    )
    for kind in KINDS:
        parser.add_argument(
            f"--{kind}",
            metavar="NAME",
            help=f"use the {kind} with this in its name, now and in every later command; "
            f"'{SYSTEM}' for the system's own choice",
        )
    add_voice(parser, "on")
    add_recogniser(parser)
    parser.add_argument("--json", action="store_true", help="what was found as one JSON object")


def run(args: argparse.Namespace) -> Exit:
    """Check everything, as far as it is there to be checked."""
    found: list[Finding] = []
    with open_renderer() as renderer, contextlib.ExitStack() as closing:
        voice: Voice = MuteVoice()
        try:
            found += _shown(args, _without_devices(args))
            models = list(_shown(args, _models(args)))
            found += models
            _choose(args)
            voice = _voice(args, renderer)
            closing.enter_context(closing_voice(voice))
            if conclusion(models).fitness is Fitness.FIT:
                found += _shown(args, _with_devices(args, voice, renderer))
        except (Complaint, SpeechError) as error:
            subject = "the devices" if isinstance(error, DeviceError | Complaint) else "the voice"
            found += _shown(args, [Finding(subject, Fitness.UNFIT, f"{error}.")])
        whole = conclusion(found)
        if args.json:
            print(json.dumps({"fitness": whole.fitness, "found": [asdict(one) for one in found]}))
        else:
            print(whole.says)
        _speak(voice, [*(one for one in found if one.fitness is not Fitness.FIT), whole])
    return Exit.PROBLEMS if whole.fitness is Fitness.UNFIT else Exit.DONE


def _choose(args: argparse.Namespace) -> None:
    """Use the devices that were named, from now on."""
    for kind in KINDS:
        if (piece := getattr(args, kind)) is not None:
            choose(kind, piece)


def _speak(voice: Voice, findings: Iterable[Finding]) -> None:
    """Say what stands against a start, where it was not only to be printed."""
    if isinstance(voice, PrintedVoice):
        return
    with contextlib.suppress(SpeechError):
        for one in findings:
            voice.say(one.says)


def _shown(args: argparse.Namespace, findings: Iterable[Finding]) -> Iterator[Finding]:
    for one in findings:
        if not args.json:
            print(f"{one.fitness:<9} {one.subject}: {one.says}", flush=True)
        yield one


def _voice(args: argparse.Namespace, renderer: Renderer) -> Voice:
    """The voice; what is printed in its place would stand in the way of JSON."""
    quiet = args.json and args.voice == "off"
    return MuteVoice() if quiet else open_voice(args.voice, renderer)


def _without_devices(args: argparse.Namespace) -> Iterator[Finding]:
    yield check_disk(args.jobs)
    yield check_clock(datetime.now(), datetime.fromtimestamp(_installed().stat().st_mtime))


def _models(args: argparse.Namespace) -> Iterator[Finding]:
    for name in (RECOGNISERS[args.recogniser].model, DETECTOR):
        yield _check_model(name)


def _installed() -> Path:
    """A file of the program that is as old as its installation."""
    return Path(assistant.__file__)


def _check_model(name: str) -> Finding:
    bad = [
        one
        for one in check(catalogue()[name], models_folder() / name)
        if one.state is not FileState.OK
    ]
    if bad:
        says = (
            f"{bad[0].file.name} of the model {name} is {bad[0].state}. "
            f"Run: gloveside model fetch {name}."
        )
        return Finding(f"the model {name}", Fitness.UNFIT, says)
    return Finding(f"the model {name}", Fitness.FIT, "Its files are what they should be.")


def _with_devices(args: argparse.Namespace, voice: Voice, renderer: Renderer) -> Iterator[Finding]:
    """What needs a microphone and a person."""
    recogniser = open_recogniser(args.recogniser)
    sound = wav.load(renderer.render(HEAR_THIS))
    play = voice.play if isinstance(voice, SpokenVoice) else None
    with open_microphone() as microphone:
        ears = ears_on(microphone, recogniser)
        yield from CheckUp(voice, microphone, ears, play, sound).run(datetime.now())
