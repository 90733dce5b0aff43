"""How long the prompts are, measured from their WAV files.

Run by hand: ``python tests/bench/prompts.py [--rate WORDS_PER_MINUTE]``. Every sentence that the
session says in rehearsals of the flagship procedure, with slips that reach its side branches, and
every text of a step that needs no value, is rendered and measured. The floor is 12 s a prompt.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator
from pathlib import Path

from assistant.language.english import english
from assistant.procedure.load import load_program
from assistant.procedure.model import Hold
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.rig.actuator import Actuator
from assistant.rig.gearing import Gearing
from assistant.rig.rehearsal import rehearse
from assistant.rig.technician import Slip, Technician
from assistant.session.core import Session
from assistant.session.effects import Effect, Say
from assistant.session.events import Event
from assistant.speech import wav
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit

PROCEDURES = Path(__file__).parents[2] / "procedures"
LONGEST = 12.0

MISREAD = ("one closed two open three and four open", "five closed six open seven and eight open")
SLIPS = (
    (),
    (
        Slip("open-end/read", MISREAD[0], noticed=False),
        Slip("closed-end/read", MISREAD[1], noticed=False),
        Slip("open-end/check-left", "one and two open three and four closed", noticed=False),
        Slip("open-end/try-shafts", "moved", noticed=False),
        Slip("identity/tag", "kilo foxtrot zero nine", noticed=False),
        Slip("identity/revision", "delta", noticed=False),
    ),
    (
        Slip("open-end/to-stop", "help", noticed=False),
        Slip("open-end/read", "help", noticed=False),
        Slip("open-end/check-left", "where am i", noticed=False),
        Slip("closed-end/read", "repeat contacts", noticed=False),
    ),
)


def texts() -> set[str]:
    """Everything that is said."""
    program = load_program(PROCEDURES / "set-geared-limits.yaml")
    said = set(_fixed(program))
    for number in ("07", "12"):
        unit = load_unit(PROCEDURES / "units" / f"kf-{number}.yaml")
        for slips in SLIPS:
            said |= _rehearsed(program, unit, slips)
    return said


def _fixed(program: Program) -> Iterator[str]:
    for node in program.nodes.values():
        action = node.step.action
        templates = [notice.text for notice in node.step.notices]
        templates += [node.step.say] if node.step.say else []
        templates += [action.reason] if isinstance(action, Hold) else []
        for template in templates:
            if not template.references:
                yield "".join(str(piece) for piece in template.pieces)


def _rehearsed(program: Program, unit: Unit, slips: tuple[Slip, ...]) -> set[str]:
    said: set[str] = set()

    class Listening(Technician):
        def watch(self, event: Event, effects: tuple[Effect, ...]) -> None:
            said.update(effect.text for effect in effects if isinstance(effect, Say))
            Technician.watch(self, event, effects)

    gears = Gearing(38.0, Rotation.COUNTERCLOCKWISE, 55.0)
    for travel in ("opening", "closing"):
        gearings = {
            rotor.name: gears.standing_past(
                rotor.set_while if travel == "opening" else rotor.set_while.opposite
            )
            for rotor in unit.rotors
        }
        plate = {"unit.tag": unit.tag, "unit.revision": unit.revision}
        rehearse(
            Session(program, unit, english()),
            Listening(Actuator(unit, gearings, 40.0), plate, slips),
        )
    return said


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
