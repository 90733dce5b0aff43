"""What is unclear between two answers is asked about, and only that; nothing is guessed.

Common practice, no source, but for the three-part exchange (DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5)
and the confidence level (VoiceXML 2.0).
"""

from __future__ import annotations

import pytest

from assistant.language.answers import grammar
from assistant.language.commands import GLOBAL_WORDS
from assistant.language.english import english
from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Correction,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDone,
    AskedByStep,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
)
from assistant.language.recognition import Unclear
from assistant.session.dialogue import Dialogue
from assistant.session.replies import Answered, Failure, GaveUp, Reply, Speaks, Why
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation
from tests.session.job import TO_READING, Job
from tests.session.unclear import unclear

CLOSED, OPEN = ContactState.CLOSED, ContactState.OPEN
CLOCKWISE, COUNTER = Rotation.CLOCKWISE, Rotation.COUNTERCLOCKWISE
BOOK = english()
PAST = ContactStates.of({1: CLOSED, 2: CLOSED, 3: OPEN, 4: OPEN})
FOUR = AskContacts((1, 2, 3, 4))
LAMPS = AskLamps((("closed lamp", "green"), ("open lamp", "red")))
TURNS = AskNumber("turns", called=("mark", "end"))
TURN_SHAFT = AskNumber("revolutions", called=("mark",), instead=("none",))


def mark(turns: float, unit: str = "turns") -> Called:
    return Called("mark", Quantity(turns, unit))


def states(text: str) -> ContactStates:
    meaning = grammar(FOUR, BOOK).parse(text)
    assert isinstance(meaning, ContactStates)
    return meaning


class Exchange:
    """A question that is talked to in typed words."""

    def __init__(self, question: AskedByStep, reads_back: bool = True) -> None:
        self.dialogue = Dialogue(question, ("What now?",), reads_back, BOOK)
        self.reply: Reply = Speaks(("What now?",))

    def unclear(self, best: Meaning, other: Meaning) -> Exchange:
        self.reply = self.dialogue.hear_unclear(Unclear(best, other))
        return self

    def say(self, *replies: str) -> Exchange:
        for reply in replies:
            meaning = self.dialogue.listening_to.parse(reply)
            self.reply = self.dialogue.miss() if meaning is None else self.dialogue.hear(meaning)
        return self

    @property
    def said(self) -> str:
        assert isinstance(self.reply, Speaks)
        return " ".join(self.reply.sentences)


@pytest.mark.parametrize(
    ("question", "best", "other", "asked", "reply", "read_back"),
    [
        (
            FOUR,
            states("one and two closed three and four open"),
            states("one closed two open three and four open"),
            "Contact two: open or closed?",
            "closed",
            PAST,
        ),
        (
            FOUR,
            states("one two three closed four open"),
            states("one closed two and three open four open"),
            "Once more, contacts two and three?",
            "two closed three open",
            PAST,
        ),
        (
            FOUR,
            states("all closed"),
            states("all open"),
            None,
            "one and two closed three and four open",
            PAST,
        ),
        (
            AskRotation(),
            ShaftTurn(CLOCKWISE),
            ShaftTurn(COUNTER),
            "Clockwise or counterclockwise?",
            "counterclockwise",
            ShaftTurn(COUNTER),
        ),
        (
            AskNumber("turns"),
            Quantity(5, "turns"),
            Quantity(9, "turns"),
            "Five or nine turns?",
            "niner",
            Quantity(9, "turns"),
        ),
        (TURNS, mark(15), mark(50), "Fifteen or fifty turns?", "fifteen turns", mark(15)),
        (
            TURNS,
            mark(4.5),
            mark(5.5),
            "Four and a half turns or five and a half turns?",
            "mark five and a half",
            mark(5.5),
        ),
        (TURNS, mark(5), Called("end", Quantity(5, "turns")), "Mark or end?", "mark", mark(5)),
        (TURNS, mark(120), mark(20), "One hundred and twenty or twenty turns?", "20", mark(20)),
        (
            TURN_SHAFT,
            mark(9, "revolutions"),
            Choice("none"),
            "Mark, nine revolutions or none?",
            "mark nine turns",
            mark(9, "revolutions"),
        ),
        (
            LAMPS,
            Lit(("closed lamp", "open lamp")),
            Lit(("open lamp",)),
            "Closed lamp: lit or dark?",
            "dark",
            Lit(("open lamp",)),
        ),
        (
            LAMPS,
            Lit(("closed lamp",)),
            Lit(("open lamp",)),
            "Closed lamp and open lamp: which is lit?",
            "open lamp",
            Lit(("open lamp",)),
        ),
        (
            AskSpelling(),
            Spelling("KF05"),
            Spelling("KF09"),
            "Five or nine?",
            "five",
            Spelling("KF05"),
        ),
        (
            AskSpelling(),
            Spelling("KF05"),
            Spelling("KM05"),
            "Foxtrot or mike?",
            "kilo mike zero five",
            Spelling("KM05"),
        ),
    ],
)
def test_only_what_is_doubtful_is_asked_and_the_whole_is_read_back(
    *,
    question: AskedByStep,
    best: Meaning,
    other: Meaning,
    asked: str | None,
    reply: str,
    read_back: Meaning,
) -> None:
    exchange = Exchange(question).unclear(best, other)
    if asked is not None:
        assert exchange.said == asked
    assert exchange.dialogue.pending is None
    exchange.say(reply)
    assert exchange.dialogue.pending == read_back
    assert exchange.say("correct").reply == Answered(read_back)


@pytest.mark.parametrize(
    ("question", "best", "other", "asked", "reply", "answer"),
    [
        (
            AskChoice(("locked", "moved")),
            "locked",
            "moved",
            "Locked or moved?",
            "moved",
            Choice("moved"),
        ),
        (AskYesNo(), "yes", "no", "Yes or no?", "no", Command(Word.NO)),
        (AskYesNo(), "yes", "go back", "Yes or go back?", "yes", Command(Word.YES)),
        (AskDone(), "done", "hold", "Done or hold?", "done", Command(Word.DONE)),
        (AskMark(), "mark", "take a note", "Mark or take a note?", "mark", Command(Word.MARK)),
        (
            AskAgreement("checker"),
            "checker correct",
            "checker wrong",
            "Say checker, correct, or checker, wrong.",
            "checker wrong",
            Agreement("checker", agrees=False),
        ),
    ],
)
def test_an_answer_that_is_not_read_back_counts_once_it_is_told_apart(
    *, question: AskedByStep, best: str, other: str, asked: str, reply: str, answer: Meaning
) -> None:
    heard = [grammar(question, BOOK).parse(words) for words in (best, other)]
    assert heard[0] is not None
    assert heard[1] is not None
    exchange = Exchange(question, reads_back=False).unclear(heard[0], heard[1])
    assert exchange.said == asked
    assert exchange.say(reply).reply == Answered(answer)


def test_the_reply_is_heard_under_a_grammar_of_what_can_be_said_then() -> None:
    exchange = Exchange(TURNS).unclear(mark(5), mark(9))
    spoken = exchange.dialogue.listening_to
    understood = {spoken.parse(sentence) for sentence in spoken.sentences()}
    commands = {Command(word) for word in GLOBAL_WORDS}
    assert understood == {mark(5), mark(9), Command(Word.NO)} | commands
    assert spoken.parse("mark six turns") is None


def test_neither_of_the_two_asks_in_full_again() -> None:
    exchange = Exchange(TURNS).unclear(mark(5), mark(9)).say("no")
    assert exchange.said == "Again. What now?"
    assert exchange.say("mark six turns").dialogue.pending == mark(6)


def test_contacts_on_which_both_readings_agree_are_kept_and_read_back() -> None:
    exchange = Exchange(FOUR).unclear(states("one closed two open"), states("one and two closed"))
    assert exchange.said == "Contact two: open or closed?"
    exchange.say("two is open")
    assert exchange.said == "And three and four?"
    exchange.say("both open")
    assert exchange.said == "I heard one closed, two, three and four open. Correct?"
    assert exchange.say("wrong, two closed", "correct").reply == Answered(PAST)


def test_readings_that_differ_only_in_what_was_mentioned_keep_what_both_say() -> None:
    exchange = Exchange(FOUR).unclear(states("one closed"), states("one and two closed"))
    assert exchange.said == "And two, three and four?"


@pytest.mark.parametrize(
    ("question", "answer", "first", "second", "asked", "reply", "right"),
    [
        (
            FOUR,
            "all closed",
            "wrong, three and four open",
            "wrong, three open four closed",
            "Contact four: open or closed?",
            "open",
            PAST,
        ),
        (
            AskNumber("turns"),
            "four turns",
            "wrong, five turns",
            "wrong, nine turns",
            "Five or nine turns?",
            "nine",
            Quantity(9, "turns"),
        ),
    ],
)
def test_a_correction_that_is_unclear_is_told_apart_like_an_answer(
    *,
    question: AskedByStep,
    answer: str,
    first: str,
    second: str,
    asked: str,
    reply: str,
    right: Meaning,
) -> None:
    exchange = Exchange(question).say(answer)
    heard = [exchange.dialogue.listening_to.parse(words) for words in (first, second)]
    assert isinstance(heard[0], Correction)
    assert isinstance(heard[1], Correction)
    exchange.unclear(heard[0], heard[1])
    assert exchange.said == asked
    assert exchange.say(reply).dialogue.pending == right


def test_a_contact_that_one_of_two_corrections_leaves_out_is_asked_for() -> None:
    exchange = Exchange(FOUR).say("one and three open two and four closed")
    exchange.unclear(Correction(states("one closed two open")), Correction(states("one closed")))
    assert exchange.said == "Contact two: open or closed?"
    exchange.say("open")
    assert exchange.said == "I heard one and four closed, two and three open. Correct?"


def test_two_corrections_that_come_to_the_same_are_read_back() -> None:
    exchange = Exchange(FOUR).say("one and three open two and four closed")
    exchange.unclear(Correction(states("one and two closed")), Correction(states("one closed")))
    assert exchange.said == "I heard one, two and four closed, three open. Correct?"
    assert exchange.say("correct").reply == Answered(states("one, two and four closed, three open"))


def test_correct_against_go_back_at_a_read_back() -> None:
    exchange = Exchange(FOUR).say("one and two closed three and four open")
    exchange.unclear(Command(Word.YES), Command(Word.GO_BACK))
    assert exchange.said == "Correct or go back?"
    assert exchange.say("correct").reply == Answered(PAST)


def test_what_has_nothing_to_be_told_apart_by_is_asked_again() -> None:
    exchange = Exchange(FOUR).unclear(states("one closed"), Command(Word.HOLD))
    assert exchange.said == "I did not understand. Contacts one, two, three and four?"
    exchange = Exchange(AskSpelling()).unclear(Spelling("KF07"), Spelling("GM07"))
    assert exchange.said == "I did not understand. Spell it, letter by letter."


def test_unclear_again_is_taken_apart_and_then_given_up() -> None:
    five_or_nine = mark(5), mark(9)
    exchange = Exchange(TURNS).unclear(*five_or_nine).unclear(*five_or_nine)
    assert exchange.said == "Digit by digit. For fifteen say mark, one five."
    exchange.unclear(*five_or_nine)
    assert exchange.reply == GaveUp(Failure(Why.UNCLEAR, 3))


def test_in_a_job_two_meanings_below_the_level_are_told_apart() -> None:
    job = unclear(Job().say(*TO_READING[:-2]), "clockwise", "counterclockwise")
    assert job.said == "Clockwise or counterclockwise?"
    assert not job.confirmed
    job.say("counterclockwise")
    assert job.listen.read_back == ShaftTurn(COUNTER)
    assert [effect.answer for effect in job.say("correct").confirmed] == [ShaftTurn(COUNTER)]


@pytest.mark.parametrize(("confidence", "asks"), [(0.19, False), (0.20, True), (0.49, True)])
def test_what_is_hardly_heard_is_not_even_unclear(confidence: float, asks: bool) -> None:
    # The upper bound: VoiceXML 2.0, confidencelevel; the lower is this project's own.
    job = unclear(Job().say(*TO_READING[:-2]), "clockwise", "counterclockwise", confidence)
    assert (job.said == "Clockwise or counterclockwise?") is asks


def test_hold_works_while_it_is_told_apart_and_the_doubt_is_asked_again_after_it() -> None:
    job = unclear(Job().say(*TO_READING[:-2]), "clockwise", "counterclockwise").say("hold")
    assert job.held
    assert job.say("carry on").said.endswith("Clockwise or counterclockwise?")


def test_a_mark_that_was_told_apart_was_said_when_it_was_unclear() -> None:
    # 10 turns in 2.9 s are 207 turns a minute (arithmetic).
    at_turning = (*TO_READING, "one and two open three and four closed", "correct", "done", "mark")
    job = unclear(Job().say(*at_turning).wait(2.9), "mark ten turns", "mark nine turns")
    assert "Too fast" in job.wait(30).say("ten turns").wait(30).say("correct").said


def test_what_is_unclear_on_hold_or_when_going_back_is_asked_does_nothing() -> None:
    job = unclear(Job().say(*TO_READING, "hold"), "carry on", "take a note")
    assert job.session.held
    job = unclear(Job().say(*TO_READING, "go back"), "yes", "no")
    assert job.session.step == "open-end/read"
    assert job.listen.aside == ""
