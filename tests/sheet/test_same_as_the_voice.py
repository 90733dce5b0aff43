"""Every sentence that the voice can say for a step stands on the sheet, at that step."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from assistant.language.english import english
from assistant.language.recognition import Recognition
from assistant.procedure.fit import reached_on
from assistant.procedure.model import Hold, Reference, Template
from assistant.procedure.papers import read_papers
from assistant.procedure.program import Node
from assistant.rig.as_found import built, found_wrong
from assistant.rig.motor import Motor
from assistant.rig.soundless_job import play
from assistant.rig.technician import Slip, Technician, TechnicianLost, plate_of
from assistant.session.core import Session
from assistant.session.effects import Begun, Deviated, Listen, Say
from assistant.speech.typed import understood
from tests.procedure.shipped import KF_07, KF_12, PROCEDURES
from tests.sheet.printed import BLANK, MAIN_FILES, UNITS, Printed, printed, stands_in, words
from tests.units import PAPERS


def templates_of(node: Node) -> list[Template]:
    reason = [node.step.action.reason] if isinstance(node.step.action, Hold) else []
    texts = [node.step.say, node.step.deviation, *reason]
    return [*(notice.text for notice in node.step.notices), *(text for text in texts if text)]


@pytest.mark.parametrize("unit", UNITS.values(), ids=UNITS)
@pytest.mark.parametrize("procedure", MAIN_FILES, ids=lambda path: path.stem)
def test_every_text_of_every_step_stands_at_its_step(procedure: Path, unit: Path | None) -> None:
    paper = printed(procedure, unit)
    numbers = {name: number for number, name in enumerate(paper.program.nodes, 1)}
    for node in reached_on(paper.program, paper.unit):
        sentences = paper.sentences(numbers[node.name])
        for template in templates_of(node):
            # The words of the file; a value of the unit sheet in words, any other as a blank.
            wanted = "".join(
                re.escape(" ".join(f"_{piece}_".split()))[1:-1]
                if isinstance(piece, str)
                else ".+"
                if is_on_the_sheet(paper, node, piece)
                else re.escape(BLANK)
                for piece in template.pieces
            )
            before, behind = r"(Warning\. |Caution\. )?", r"( Push stop\..*)?( On hold\..*)?"
            said = re.compile(before + wanted.removesuffix("\\ ") + behind)
            assert any(map(said.fullmatch, sentences)), (node.name, template.pieces, sentences)


def is_on_the_sheet(paper: Printed, node: Node, reference: Reference) -> bool:
    head = reference.path[0]
    return paper.unit is not None and (head == "unit" or head in node.scope.rotors)


def hearing(technician: Technician, listen: Listen) -> Recognition:
    """By words; whoever checks has not seen the first readings."""
    reply = "no" if listen.step == "apart" else technician.reply()
    return understood(reply, listen.grammar, "rehearsal")


SLIPS = {
    "none": (),
    "misread": (
        Slip("open-end/set/read", "one closed two open three and four open", noticed=False),
        Slip("prove-open/before", "one and two closed three and four open", noticed=False),
        Slip(
            "closed-end/set/check-left", "five and six open seven and eight closed", noticed=False
        ),
        Slip("test/lamps-in-travel", "green", noticed=False),
    ),
}


@pytest.mark.parametrize("slips", SLIPS)
@pytest.mark.parametrize("unit", [KF_07, KF_12], ids=lambda path: path.stem)
@pytest.mark.parametrize(
    "name", ["set-geared-limits.yaml", "second-check.yaml", "stroke-time-check.yaml"]
)
def test_what_is_said_in_whole_jobs_stands_at_its_step(name: str, unit: Path, slips: str) -> None:
    """Played on the rig: what the session really said, compared with the printed page."""
    paper = printed(PROCEDURES / name, unit)
    assert paper.unit is not None
    rig = built(paper.unit, found_wrong(paper.unit))
    wanted = {key: text for key, text in PAPERS.items() if key in paper.program.procedure.papers}
    session = Session(paper.program, paper.unit, english(), read_papers(paper.program, wanted))
    technician = Technician(rig, plate_of(paper.unit), Motor(rig, seconds=51.0), SLIPS[slips])
    numbers = {step: number for number, step in enumerate(paper.program.nodes, 1)}
    whole = words(paper.page)
    compared = 0
    try:
        for _event, effects in play(session, technician, hearing, most=300):
            number = None
            for effect in effects:
                match effect:
                    case Begun(step):
                        number = numbers[step]
                        sentences = paper.sentences(number)
                    case Say(text) | Deviated(text) if number is not None:
                        # What the session asks for of its own accord stands at the top.
                        assert stands_in(text, sentences) or text in whole, (number, text)
                        compared += 1
    except TechnicianLost:
        # A slip can lead where the simulated technician knows no way; what was said is compared.
        assert slips != "none"
    assert compared > 20
