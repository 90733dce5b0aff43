"""What is read back can be corrected in one breath, whatever is asked; what is not counts at once.

Source: three-part exchange, DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import pytest

from assistant.language.english import english
from assistant.language.meaning import (
    Called,
    Choice,
    ContactStates,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
)
from assistant.language.questions import (
    AskChoice,
    AskContacts,
    AskedByStep,
    AskLamps,
    AskNumber,
    AskRotation,
    AskSpelling,
)
from assistant.procedure.asks import READ_BACK
from assistant.procedure.load import load_program
from assistant.procedure.model import Ask, AskKind
from assistant.session.dialogue import Dialogue
from assistant.session.replies import Answered, Speaks
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

CLOSED, OPEN = ContactState.CLOSED, ContactState.OPEN
SHIPPED = sorted(Path(__file__).parents[2].glob("procedures/*.yaml"))

CORRECTIONS = [
    (
        AskContacts((1, 2)),
        "both open",
        "wrong, one closed",
        ContactStates.of({1: CLOSED, 2: OPEN}),
        "I heard one closed, two open. Correct?",
    ),
    (
        AskRotation(),
        "clockwise",
        "wrong, counterclockwise",
        ShaftTurn(Rotation.COUNTERCLOCKWISE),
        "I heard counterclockwise. Correct?",
    ),
    (
        AskNumber("turns"),
        "nine turns",
        "no, five",
        Quantity(5, "turns"),
        "I heard five turns. Correct?",
    ),
    (
        AskNumber("turns", called=("mark", "end")),
        "mark fifty turns",
        "wrong, end fifteen turns",
        Called("end", Quantity(15, "turns")),
        "I heard end, fifteen turns. Correct?",
    ),
    (
        AskLamps((("closed lamp", "green"), ("open lamp", "red"))),
        "both",
        "wrong, only the green",
        Lit(("closed lamp",)),
        "I heard closed lamp lit. Correct?",
    ),
    (
        AskSpelling(),
        "kilo five",
        "wrong, kilo niner",
        Spelling("K9"),
        "I heard kilo nine. Correct?",
    ),
    (
        AskChoice(("locked", "moved")),
        "locked",
        "wrong, moved",
        Choice("moved"),
        "I heard moved. Correct?",
    ),
]


@pytest.mark.parametrize(("question", "said", "correction", "right", "read_back"), CORRECTIONS)
@pytest.mark.parametrize("failed", ["", "miss", "bit by bit"])
def test_a_correction_in_one_breath_is_read_back_and_then_counts(
    *,
    question: AskedByStep,
    said: str,
    correction: str,
    right: Meaning,
    read_back: str,
    failed: str,
) -> None:
    dialogue = Dialogue(question, ("What now?",), reads_back=True, book=english())
    if failed == "miss":
        dialogue.miss()

    def say(text: str) -> object:
        meaning = dialogue.listening_to.parse(text)
        assert meaning is not None, text
        return dialogue.hear(meaning)

    say(said)
    if failed == "bit by bit":
        dialogue.silence()
        dialogue.miss()
    assert say(correction) == Speaks((read_back,))
    assert say("correct") == Answered(right)


def test_a_choice_counts_at_once_where_it_is_not_read_back() -> None:
    dialogue = Dialogue(AskChoice(("locked", "moved")), ("?",), reads_back=False, book=english())
    assert dialogue.hear(Choice("locked")) == Answered(Choice("locked"))


def test_which_questions_of_the_shipped_procedures_are_read_back() -> None:
    kinds: dict[AskKind, set[bool]] = defaultdict(set)
    for path in SHIPPED:
        for node in load_program(path).nodes.values():
            if isinstance(ask := node.step.action, Ask):
                kinds[ask.kind].add(ask.read_back)
    assert {kind for kind, told in kinds.items() if True in told} == READ_BACK
    assert all(len(told) == 1 for told in kinds.values())
