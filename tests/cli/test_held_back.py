"""What is said of an answer with which somebody does not agree. Common practice, no source."""

from __future__ import annotations

from assistant.cli.held_back import to_take_again
from assistant.journal.verdicts import judged
from tests.journal.test_as_found import FOUND, SWEPT, journal
from tests.journal.test_proofs import ADVICE


def test_nobody_is_sent_back_to_a_reading_as_found_once_a_shaft_was_turned() -> None:
    verdict = judged(2, "find/read", "JT", agrees=False)
    before = to_take_again(journal(SWEPT, FOUND, verdict))
    assert before.startswith("Say go back until you are asked again at find, read.")
    turned = to_take_again(journal(SWEPT, FOUND, ADVICE, verdict))
    assert turned.startswith("Do not go back.")
    assert "That person has to review the job again." in turned
