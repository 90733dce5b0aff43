"""How long the prompts are, measured from their WAV files.

Run by hand: ``python -m tests.bench.prompts [--rate WORDS_PER_MINUTE]``. Every sentence that the
session says in rehearsals of the flagship on the shipped units, without an error and with every
single error of the campaign, and every text of a shipped step that needs no value, is rendered and
measured; so is every one on every way through the shipped procedures, where at each question and in
each hold every command is said and it is silent once, twice and up to the hold. The floor is 12 s a
prompt.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator
from pathlib import Path

from assistant.language.english import english
from assistant.procedure.load import load_program
from assistant.procedure.papers import read_papers
from assistant.procedure.program import Program
from assistant.procedure.rules.spoken import spoken_at
from assistant.procedure.unit_sheet import load_unit
from assistant.rehearsal.covering import cover
from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.rig.mistakes import Mistake
from assistant.rig.motor import Motor
from assistant.rig.soundless_job import in_meanings, play
from assistant.rig.technician import Technician, TechnicianLost, plate_of
from assistant.session.core import Session
from assistant.session.effects import Begun, Effect, Listen, Request, Say
from assistant.speech import wav
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit
from tests.campaign.jobs import Place, flagship, mistakes_at
from tests.session.everything_said import SHIPPED, bench_of, said_in
from tests.units import PAPERS

PROCEDURES = Path(__file__).parents[2] / "procedures"
LONGEST = 12.0


def texts() -> set[str]:
    """Everything that is said."""
    said: set[str] = set()
    for file in PROCEDURES.glob("*.yaml"):
        said |= set(_fixed(load_program(file)))
    for number in ("07", "12"):
        said |= _rehearsed(load_unit(PROCEDURES / "units" / f"kf-{number}.yaml"))
        for name in SHIPPED:
            said |= said_in(played for _job, played in cover(bench_of(name, number)).jobs)
    return said


def _fixed(program: Program) -> Iterator[str]:
    for node in program.nodes.values():
        for spoken in spoken_at(node.step):
            if not spoken.template.references:
                yield spoken.text


def _rehearsed(unit: Unit) -> set[str]:
    effects = list(_effects(unit, None))
    said = {effect.text for effect in effects if isinstance(effect, Say)}
    for place in dict.fromkeys(_places(effects)):
        for mistake in mistakes_at(place, unit):
            said |= {effect.text for effect in _effects(unit, mistake) if isinstance(effect, Say)}
    return said


def _places(effects: list[Effect]) -> Iterator[Place]:
    doing = ""
    for effect in effects:
        match effect:
            case Begun(step):
                doing = step
            case Request(act):
                yield Place(doing, act)
            case Listen(step=step, question=question, read_back=None) if question is not None:
                contacts = getattr(question, "contacts", ())
                yield Place(step, type(question).__name__, len(contacts))


def _effects(unit: Unit, mistake: Mistake | None) -> Iterator[Effect]:
    gears = Gearing(38.0, Rotation.COUNTERCLOCKWISE, 55.0)
    gearings = {rotor.name: gears.standing_past(rotor.set_while) for rotor in unit.rotors}
    rig = Actuator(unit, gearings, 40.0)
    fitter = Technician(rig, plate_of(unit), Motor(rig, seconds=60.0), mistake=mistake)
    session = Session(flagship(), unit, english(), read_papers(flagship(), PAPERS))
    try:
        for _event, effects in play(session, fitter, in_meanings):
            yield from effects
    except TechnicianLost:
        return


def main() -> None:
    """Print the longest prompts and how many are too long."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rate", type=int, default=Manner().rate, metavar="WORDS_PER_MINUTE")
    manner = Manner(rate=parser.parse_args().rate)
    with tempfile.TemporaryDirectory() as folder, Renderer(Path(folder)) as renderer:
        lengths = {text: wav.seconds(renderer.render(text, manner)) for text in texts()}
    longest = sorted(lengths, key=lambda text: lengths[text], reverse=True)
    for text in longest[:8]:
        print(f"{lengths[text]:5.1f} s  {text}")
    over = sum(seconds > LONGEST for seconds in lengths.values())
    print(f"{len(lengths)} prompts at {manner.rate} words a minute, {over} over {LONGEST:g} s")


if __name__ == "__main__":
    main()
