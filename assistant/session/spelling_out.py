"""Get an answer bit by bit, where it was not understood as a whole.

Contact by contact and lamp by lamp with yes and no, a rotation likewise, a number digit by digit.
Other answers are short already; there is nothing to take apart.
"""

from __future__ import annotations

from assistant.language.meaning import ContactStates, Lit, Meaning, ShaftTurn
from assistant.language.questions import (
    AskContacts,
    AskDigits,
    AskLamps,
    AskNumber,
    AskRotation,
    AskWhether,
    Question,
)
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

__all__ = ["answer_of", "spelled_out"]


def spelled_out(question: Question) -> AskWhether | AskDigits | None:
    """The first bit of a question; None where it cannot be taken apart."""
    match question:
        case AskContacts((first, *_)):
            return AskWhether(ContactStates.of({first: ContactState.CLOSED}))
        case AskLamps(((first, _), *_)):
            return AskWhether(Lit((first,)))
        case AskRotation():
            return AskWhether(ShaftTurn(Rotation.CLOCKWISE))
        case AskNumber():
            return AskDigits(question)
    return None


def answer_of(asked: AskWhether, agreed: bool) -> Meaning:
    """What yes or no to such a question says."""
    match asked.so:
        case ContactStates(((contact, state),)):
            return ContactStates.of({contact: state if agreed else state.other})
        case Lit() as lamp:
            return lamp if agreed else Lit(())
        case ShaftTurn(rotation):
            return ShaftTurn(rotation if agreed else rotation.opposite)
    raise ValueError(f"one contact at a time is asked for, not {asked.so}")
