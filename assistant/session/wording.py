"""The sentences that the session says of its own accord.

Short, the action first, and the same word for the same thing.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.language.meaning import Agreement, ContactStates, Meaning, Quantity
from assistant.language.speaking import say_choice, say_contacts, say_meaning, say_number
from assistant.session.prompt_length import in_prompts
from assistant.trade.pace import SHAFT_LIMIT_RPM

__all__ = [
    "AGAIN",
    "AS_LEFT",
    "BREAK_FIRST",
    "CARRY_ON",
    "CLOSE_THE_HOLD",
    "ELSEWHERE",
    "FIRST_THIS",
    "GO_BACK",
    "HELP_WITH_WORDS",
    "IN_A_FEW_WORDS",
    "JOB_STOPPED",
    "LISTENING",
    "LONG_SILENCE",
    "MOVED_MEANWHILE",
    "NOTE_NOW",
    "NOTHING_KEPT",
    "NOT_ON_HOLD",
    "NOT_TO_BE_SKIPPED",
    "NO_NOTE",
    "NO_READING",
    "NO_REASON",
    "NO_STEP_BEFORE",
    "ON_HOLD",
    "PROVE_AGAIN",
    "PUT_IT_BACK",
    "RETURNED",
    "SAY_DONE",
    "SAY_WHY",
    "SHAFT_FREE",
    "SHAFT_LIMIT",
    "SKIP",
    "SKIPPED",
    "STANDS_STILL",
    "STOPPED_ENERGISED",
    "TOO_SHORT",
    "TO_A_STOP",
    "TO_THE_GATE",
    "WAS_FREE",
    "WAS_MOVED",
    "WENT_BACK",
    "WENT_BACK_IN_WORK",
    "WENT_BACK_TO_READING",
    "WHAT_WAS_DONE",
    "WHICH_CLOSED",
    "WHO_CLOSES",
    "WHO_SKIPS",
    "and_the_rest",
    "beyond_belief",
    "capital",
    "contacts_alone",
    "last_reading",
    "note_kept",
    "notice",
    "on_hold",
    "place_of",
    "read_back",
    "read_back_again",
    "read_back_yes_or_no",
    "reason_kept",
    "say_verdict",
    "unless_done",
    "whereabouts",
    "which",
    "which_lit",
    "which_state",
    "who",
]

ON_HOLD = "On hold. Say carry on when you are ready."
CARRY_ON = "Carrying on."
STANDS_STILL = "The job stands still. Plug the device in again."
JOB_STOPPED = "Do nothing more with the valve. The job has stopped: look at the screen."
RETURNED = "Starting again where the job stopped."
SAY_DONE = "Say done when it is done."
WAS_FREE = "A shaft was found free. What was proved before may not hold any more."
SHAFT_FREE = (
    "A shaft is free. Leave the rod as it is, do not crank, do not energise. Tell who is in charge."
)
NOT_ON_HOLD = "The job is not on hold."
NOTE_NOW = "Say the note now."
NO_NOTE = "No note was heard."
NO_REASON = "No reason was heard."
NOTHING_KEPT = "Nothing was kept."
AGAIN = "Again."
FIRST_THIS = "This comes first."
LISTENING = "I am listening."
TOO_SHORT = "That was too short."
IN_A_FEW_WORDS = "Say it in a few words. Or say go back."
HELP_WITH_WORDS = "Say it in your own words. Or say: say again; or: go back; or: hold."
NO_READING = "No contacts have been confirmed yet."
NO_STEP_BEFORE = "This is the first question."
BREAK_FIRST = "The break comes first. Say go back after that."
GO_BACK = "Go back to the question before? Say yes or no."
TO_THE_GATE = "Nothing of the gate counts any more. The electrical test begins again from its gate."
PROVE_AGAIN = "A shaft may have moved. The proofs by hand count no more."
CLOSE_THE_HOLD = "Not from this hold."
WENT_BACK = "Back to the question before. Only the record went back, not the valve."
WENT_BACK_IN_WORK = "Back to the question before. Only the record went back, not the work."
ELSEWHERE = "The valve does not stand there any more."
TO_A_STOP = "So further back, to where it was cranked to a stop."
PUT_IT_BACK = "Put it back to where it stood."
SHAFT_LIMIT = f"Caution. Never above {say_number(SHAFT_LIMIT_RPM, 'turns')} a minute."
WENT_BACK_TO_READING = (
    "Back to where the contacts were read. Only the record went back, not the valve."
)
SKIP = "Skip this step? Say yes or no."
NOT_TO_BE_SKIPPED = "This step cannot be skipped. What follows depends on it."
SAY_WHY = "Say why."
WHO_SKIPS = "Who skips it?"
SKIPPED = "Skipped."
WHAT_WAS_DONE = "Say what was found, and what was done."
WHO_CLOSES = "Who closes this hold?"
STOPPED_ENERGISED = "Push stop. Lock off before you reach in."
LONG_SILENCE = "Nobody was heard for long, or the clock was set back. That counts as a break."
AS_LEFT = "After this break: do valve, rod and shafts stand as you left them?"
WHICH_CLOSED = "Which are closed, and which are open?"
MOVED_MEANWHILE = (
    "Prove dead before you reach in. Put the valve, the rod and the shafts back as they were. "
    "If you cannot, say go back."
)
WAS_MOVED = "After a break the valve, the rod or a shaft did not stand as it had been left."


def note_kept(seconds: float) -> str:
    """A note was kept; typed words have no length.

    >>> note_kept(4.2)
    'Note kept, four seconds.'
    """
    return f"Note kept{_length(seconds)}."


def reason_kept(seconds: float) -> str:
    """A reason was recorded, and is to be agreed on.

    >>> reason_kept(1.3)
    'Reason recorded, one second. Correct?'
    """
    return f"Reason recorded{_length(seconds)}. Correct?"


def _length(seconds: float) -> str:
    return f", {say_number(max(1, round(seconds)), 'seconds')}" if seconds else ""


def on_hold(reason: str) -> tuple[str, ...]:
    """Why the job is held, which may be several findings, and what ends the hold."""
    return (*in_prompts(reason), ON_HOLD)


def notice(kind: str, text: str) -> str:
    """A warning or caution."""
    return f"{capital(kind)}. {text}"


def read_back(meaning: Meaning) -> str:
    """Repeat what was heard, for confirmation."""
    return f"I heard {say_meaning(meaning)}. Correct?"


def read_back_again(meaning: Meaning) -> str:
    """Repeat it once more, with the words that answer."""
    return f"Say correct, or wrong. I heard {say_meaning(meaning)}."


def read_back_yes_or_no(meaning: Meaning) -> str:
    """Repeat it in the form of a question."""
    return f"I heard {say_meaning(meaning)}. Is that right, yes or no?"


def which(first: str, second: str) -> str:
    """Offer the two answers between which it is unclear."""
    return capital(f"{first} or {second}?")


def which_state(contacts: tuple[int, ...]) -> str:
    """Ask for contacts that were heard in two ways."""
    asked = contacts_alone(contacts)[:-1]
    # Of several, "open" alone would say nothing of each.
    return f"{asked}: open or closed?" if len(contacts) == 1 else f"Once more, {asked.lower()}?"


def which_lit(lamps: tuple[str, ...]) -> str:
    """Ask for lamps that were heard in two ways."""
    if len(lamps) == 1:
        return capital(f"{say_choice(lamps[0])}: lit or dark?")
    return capital(f"{' and '.join(map(say_choice, lamps))}: which is lit?")


def say_verdict(role: str) -> str:
    """Ask a second person for the verdict."""
    right, wrong = (say_meaning(Agreement(role, agrees)) for agrees in (True, False))
    return f"Say {right}, or {wrong}."


def contacts_alone(contacts: tuple[int, ...]) -> str:
    """Ask for contacts in the fewest words."""
    return f"{'Contact' if len(contacts) == 1 else 'Contacts'} {say_contacts(contacts)}?"


def who(question: str, roles: Iterable[str]) -> str:
    """Ask who does something.

    >>> who("Who skips it?", ("technician", "checker"))
    'Who skips it? Say technician, or checker.'
    """
    return f"{question} Say {', or '.join(roles)}."


def capital(sentence: str) -> str:
    """The sentence with its first letter as it is written at the beginning."""
    return sentence[:1].upper() + sentence[1:]


def beyond_belief(number: Quantity) -> str:
    """Refuse a number outside the range that is believed."""
    return capital(f"{say_meaning(number)} cannot be.")


def unless_done(prompt: str) -> str:
    """Ask for some work again that may have been done already."""
    return f"If it is not done yet: {prompt}"


def and_the_rest(parts: Iterable[int | str]) -> str:
    """Ask for the contacts or lamps that were not mentioned."""
    parts = tuple(parts)
    contacts = tuple(part for part in parts if isinstance(part, int))
    lamps = (f"the {say_choice(part)}" for part in parts if isinstance(part, str))
    return f"And {say_contacts(contacts) or ' and '.join(lamps)}?"


def whereabouts(title: str, step: str) -> str:
    """Where the job stands."""
    return f"{title}. At {place_of(step)}."


def place_of(step: str) -> str:
    """A step by its name in the whole program."""
    return ", ".join(part.replace("-", " ") for part in step.split("/"))


def last_reading(reading: ContactStates | None) -> str:
    """The contacts that were confirmed last."""
    return NO_READING if reading is None else f"Last confirmed: {say_meaning(reading)}."
