"""A question in other words each time that it got no answer (VoiceXML 2.0: tapered prompts).

First it was asked in full. After a first failure it is said again shorter; after silence it is said
again in full, for it may not have been heard. After a second failure it is taken apart, bit by bit,
or what can be said is told. No sentence comes twice in a row.
"""

from __future__ import annotations

from assistant.language.either import say_either
from assistant.language.english import english
from assistant.language.meaning import ContactStates, Lit, Meaning, ShaftTurn
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDigits,
    AskDone,
    AskEither,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskWhether,
    AskYesNo,
    Question,
)
from assistant.language.speaking import (
    MOST_LISTED,
    say_choice,
    say_contacts,
    say_meaning,
    say_unit,
)
from assistant.session import wording

__all__ = ["bit_by_bit", "first_bit", "read_back", "shorter"]

_OR = " or "


def shorter(question: Question) -> str:
    """The question in few words."""
    match question:
        case AskContacts(contacts):
            listed = len(contacts) <= MOST_LISTED
            return wording.contacts_alone(contacts) if listed else wording.WHICH_CLOSED
        case AskNumber():
            return _number(question)
        case AskChoice(choices):
            return wording.capital(f"{_OR.join(map(say_choice, choices))}?")
        case AskAgreement(role):
            return wording.say_verdict(role)
        case AskEither():
            return wording.which(*say_either(question, english()))
        case AskWhether(so):
            return _state(so)
    return _SHORT[type(question)]


_SHORT: dict[type[Question], str] = {
    AskDone: wording.SAY_DONE,
    AskYesNo: "Yes or no?",
    AskMark: "Say mark, only that word.",
    AskRotation: "Clockwise or counterclockwise?",
    AskLamps: "Name the lamps that are lit, or say none.",
    AskSpelling: "Spell it, letter by letter.",
    AskDigits: "Only the digits, one by one.",
}


def _number(question: AskNumber) -> str:
    unit = say_unit(question.unit) if question.unit else "number"
    words = _OR.join(map(say_choice, question.called))
    instead = "".join(f", or {say_choice(name)}" for name in question.instead)
    if question.called:
        return f"Say {words} and the {unit}{instead}."
    if instead:
        return f"Say the {unit}{instead}."
    return f"How many {unit}?"


def _state(so: Meaning) -> str:
    match so:
        case ContactStates(((contact, _),)):
            return f"Contact {say_contacts((contact,))}: closed, or open?"
        case Lit((lamp,)):
            return wording.capital(f"{say_choice(lamp)}: lit, or dark?")
    return "Yes or no?"


def first_bit(question: Question) -> str:
    """How the first bit is asked, so that it is understood what is wanted."""
    match question:
        case AskDigits(asked):
            called = f"{say_choice(asked.called[0])}, " if asked.called else ""
            return f"Digit by digit. For fifteen say {called}one five."
        case AskWhether(ShaftTurn()):
            return bit_by_bit(question)
    return f"One at a time. {_question(question)[:-1]}, yes or no?"


def bit_by_bit(question: Question) -> str:
    """How a bit is asked."""
    match question:
        case AskDigits():
            return "Digit by digit."
        case AskWhether(ShaftTurn()):
            return f"{_question(question)[:-1]}, yes or no?"
    return _question(question)


def _question(question: Question) -> str:
    match question:
        case AskWhether(ContactStates(((contact, state),))):
            return f"Is contact {say_contacts((contact,))} {state}?"
        case AskWhether(Lit((lamp,))):
            return f"Is the {say_choice(lamp)} lit?"
        case AskWhether(ShaftTurn() as turn):
            return f"Did it turn {say_meaning(turn)}?"
    raise ValueError(f"this is no bit of a question: {question}")


def read_back(meaning: Meaning, failures: int) -> str:
    """An answer that is read back once more, with the words that confirm it."""
    if failures == 1:
        return wording.read_back_again(meaning)
    return wording.read_back_yes_or_no(meaning)
