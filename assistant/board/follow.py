"""Make the next view of an event and its effects."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from assistant.board.position import Position, moved
from assistant.board.view import NOT_SHOWN, Heard, Place, Reading, Situation, Standing, Turn, View
from assistant.language.grammar import Grammar
from assistant.language.meaning import ContactStates, Correction, Meaning
from assistant.language.questions import AskContacts, AskDone, AskMark, AskNumber, AskWhether
from assistant.language.speaking import say_meaning
from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Compute, NoticeKind
from assistant.procedure.program import Program
from assistant.session.effects import (
    Advised,
    Begun,
    Confirmed,
    Done,
    Effect,
    Failed,
    Finished,
    Held,
    Lapsed,
    Listen,
    Request,
    Say,
    WentBack,
)
from assistant.session.events import Event, Returned, Silent
from assistant.session.events import Heard as HeardEvent
from assistant.session.replies import Why
from assistant.speech.pressed import PRESSED
from assistant.trade.contacts import ContactState
from assistant.trade.shaft import Verdict

__all__ = [
    "HOLD",
    "KEYS",
    "follow",
    "not_shown",
    "paused",
    "standing_still",
    "stopped",
    "with_words",
]

HOLD = "hold"
"""The key that counts on every view."""

KEYS = ("correct", "wrong", "yes", "no", "done", "mark", "carry on", HOLD)
"""What can be pressed where it may be said; a key for each, so that one cannot be another.

No contact, number or rotation is among them, and no second person: these are said.
"""

_NOTICES = tuple(f"{kind.value.capitalize()}." for kind in NoticeKind)

_ON_HOLD = "hold"

Kind = TypeVar("Kind", bound=Effect)

_TURNING = frozenset({ActKind.TURN_SHAFT, ActKind.DISENGAGE})


def follow(view: View, event: Event, effects: Sequence[Effect]) -> View:
    """What is shown once an event has had its effects."""
    listen = _last(effects, Listen)
    if listen is None:
        return _finished(view, effects)
    view = _placed(replace(view, failure=""), listen)
    view = _asked(view, effects, listen)
    view = _held(view, effects, listen)
    kept = view.has_sheets_stroke and not _adopts_stroke(view.program, effects)
    view = replace(view, has_sheets_stroke=kept)
    view = replace(
        view,
        heard=_heard(view, event, effects, listen),
        read_back=listen.read_back,
        position=_position(view, event, effects),
        reading=_reading(view, event, effects, listen),
        contradiction=_contradicts(view, effects),
        keys=tuple(word for word in KEYS if _may_say(listen, word)),
    )
    return _turned(view, effects, listen)


def with_words(view: View, words: Iterable[str]) -> View:
    """The last view of a job, with the words that go on the work order."""
    return replace(view, words=tuple(words))


def standing_still(view: View, failure: str) -> View:
    """What is shown while the program can neither speak nor hear; the next event ends it."""
    return replace(view, failure=failure, keys=())


def stopped(view: View, words: Iterable[str], failure: str) -> View:
    """The last view of a job that a failure has ended, with what is to be done now."""
    return replace(standing_still(view, failure), last_words=tuple(words))


def paused(view: View) -> View:
    """What is shown of an interrupted job until it goes on: nothing that can be acted on."""
    return replace(view, situation=Situation.STARTING, reading=Reading(), heard=None, keys=())


def not_shown(view: View) -> View:
    """What is shown in place of a step that could not be."""
    nothing: tuple[str, ...] = ()
    view = replace(paused(view), notices=nothing, aside=nothing, turn=None, coming=None, reply="")
    return replace(view, instructions=(NOT_SHOWN,))


def _finished(view: View, effects: Sequence[Effect]) -> View:
    if not any(isinstance(effect, Finished) for effect in effects):
        return view
    said = tuple(effect.text for effect in effects if isinstance(effect, Say))
    return View(view.program, view.unit, Situation.DONE, place=view.place, instructions=said)


def _placed(view: View, listen: Listen) -> View:
    """The place; what belongs to another phase is no longer shown."""
    place = _place(view.program, listen.step)
    if view.place is not None and view.place.phase != place.phase:
        view = replace(view, reading=Reading(), contradiction=False, turn=None, coming=None)
    return replace(view, place=place)


def _place(program: Program, step: str) -> Place:
    phase, *part = (name.replace("-", " ") for name in step.split("/"))
    return Place(program.number(step), len(program.nodes), phase, ", ".join(part))


# What is asked


def _asked(view: View, effects: Sequence[Effect], listen: Listen) -> View:
    said = [effect.text for effect in effects if isinstance(effect, Say)]
    notices = tuple(text for text in said if text.startswith(_NOTICES))
    told = tuple(text for text in said if text not in notices)
    failed = _last(effects, Failed) is not None
    if listen.aside and listen.aside != _ON_HOLD:
        aside = view.aside if failed and view.aside else told
        return replace(view, aside=aside, reply=" ".join(told) if failed else "")
    if any(isinstance(effect, Begun) for effect in effects):
        works = any(isinstance(effect, Request) for effect in effects)
        return replace(
            view, notices=notices, instructions=told, aside=(), works=works, again=False, reply=""
        )
    # The question that was open is asked once more, in whatever words.
    return replace(
        view,
        notices=notices or view.notices,
        instructions=view.instructions or told,
        aside=(),
        again=view.again or not (listen.read_back and not failed),
        reply="" if listen.read_back and not failed else _news(view, told),
    )


def _news(view: View, told: Sequence[str]) -> str:
    """What was said that is not on the board already: the question itself is not shown twice."""
    reply = " ".join(told)
    return "" if view.instructions and " ".join(view.instructions) in reply else reply


def _held(view: View, effects: Sequence[Effect], listen: Listen) -> View:
    held = _last(effects, Held)
    if listen.aside == _ON_HOLD or (listen.keeps_words and view.hold):
        reason = held.reason if held else view.hold or view.reply
        return replace(view, situation=Situation.HELD, hold=reason)
    confirms = listen.read_back is not None
    return replace(view, situation=Situation.CONFIRMING if confirms else Situation.ASKING, hold="")


def _may_say(listen: Listen, word: str) -> bool:
    if word in ("yes", "no") and listen.read_back is not None:
        return False  # "correct" and "wrong" say the same, and are read back by those words
    if word in ("correct", "wrong") and listen.read_back is None:
        return False
    if word == "carry on":
        return listen.aside == _ON_HOLD
    if word == HOLD:
        return listen.aside != _ON_HOLD
    return _understands(listen.grammar, word)


def _understands(grammar: Grammar, word: str) -> bool:
    return grammar.parse(word) is not None


# What was heard


_STANDINGS: Mapping[Why, Standing] = {
    Why.NOMATCH: Standing.MISSED,
    Why.NOINPUT: Standing.SILENT,
    Why.UNCLEAR: Standing.UNCLEAR,
    Why.BEYOND_BELIEF: Standing.MISSED,
}


def _heard(view: View, event: Event, effects: Sequence[Effect], listen: Listen) -> Heard | None:
    if isinstance(event, Silent):
        return Heard("", "", Standing.SILENT)
    if not isinstance(event, HeardEvent):
        return None
    recognition = event.recognition
    pressed = recognition.engine == PRESSED
    meaning = recognition.accepted()
    confirmed, failed = _last(effects, Confirmed), _last(effects, Failed)
    if confirmed is not None:
        return Heard(recognition.text, say_meaning(confirmed.answer), Standing.COUNTS, pressed)
    if listen.read_back is not None:
        text = recognition.text if meaning is not None else ""
        return Heard(text, say_meaning(listen.read_back), Standing.OPEN, pressed)
    if failed is not None:
        said = "" if meaning is None else say_meaning(meaning)
        return Heard(recognition.text, said, _STANDINGS[failed.failure.why], pressed)
    if meaning is None:
        return view.heard  # talk around a job on hold is not for the program
    return Heard(recognition.text, say_meaning(meaning), Standing.TAKEN, pressed)


def _reading(view: View, event: Event, effects: Sequence[Effect], listen: Listen) -> Reading:
    reading = _outdated(view.reading, event, effects)
    confirmed = _last(effects, Confirmed)
    if confirmed is not None and isinstance(confirmed.answer, ContactStates):
        states = confirmed.answer.mapping()
        reading = Reading(reading.contacts or tuple(states), states, counts=True)
    asked = listen.question
    if _begins_reading(asked, effects):
        assert isinstance(asked, AskContacts)
        return Reading(asked.contacts)
    if isinstance(listen.read_back, ContactStates):
        return replace(reading, states=listen.read_back.mapping(), counts=False)
    if isinstance(asked, AskContacts) and not listen.aside:
        known = {**reading.states, **_states_in(event)}
        told = {number: known[number] for number in known if number not in asked.contacts}
        return replace(reading, states=told, counts=False)
    if isinstance(asked, AskWhether) and isinstance(asked.so, ContactStates):
        return replace(reading, counts=False)
    return reading


def _begins_reading(asked: object, effects: Sequence[Effect]) -> bool:
    begun = any(isinstance(effect, Begun | WentBack) for effect in effects)
    return begun and isinstance(asked, AskContacts)


def _outdated(reading: Reading, event: Event, effects: Sequence[Effect]) -> Reading:
    """What was read no longer tells how the contacts stand once something may have been moved."""
    outdates = Lapsed | Request | WentBack
    if isinstance(event, Returned) or any(isinstance(one, outdates) for one in effects):
        return replace(reading, states={}, counts=False)
    return reading


def _states_in(event: Event) -> Mapping[int, ContactState]:
    meaning: Meaning | None = None
    if isinstance(event, HeardEvent):
        meaning = event.recognition.accepted()
    if isinstance(meaning, Correction):
        meaning = meaning.answer
    return meaning.mapping() if isinstance(meaning, ContactStates) else {}


# The valve


def _position(view: View, event: Event, effects: Sequence[Effect]) -> Position:
    position = view.position
    if isinstance(event, Returned):
        return Position()  # meanwhile anything may have been moved
    for effect in effects:
        match effect:
            case Confirmed():
                position = replace(position, reached=position.percent is not None)
            case WentBack() | Lapsed():
                position = Position()  # the record went back and not the valve, or nobody was there
            case Request() if view.unit is not None:
                stroke = view.unit.stroke_turns.value if view.has_sheets_stroke else None
                position = moved(position, effect, stroke)
    return position


def _adopts_stroke(program: Program, effects: Sequence[Effect]) -> bool:
    """Whether a counted stroke now takes the place of the sheet's."""
    done = (effect for effect in effects if isinstance(effect, Done))
    return any(
        isinstance(action := program.nodes[one.step].step.action, Compute)
        and (action.computation, one.outcome) == ("adopt-stroke", "adopted")
        for one in done
    )


def _contradicts(view: View, effects: Sequence[Effect]) -> bool:
    advised = _last(effects, Advised)
    if advised is not None:
        return advised.advice.verdict is Verdict.CONTRADICTION
    went_back = any(isinstance(effect, WentBack) for effect in effects)
    return view.contradiction and not went_back


def _turned(view: View, effects: Sequence[Effect], listen: Listen) -> View:
    turn = view.turn or view.coming
    for effect in effects:
        match effect:
            case Advised(rotor, advice):
                turn = None if advice.turn is None else Turn(rotor, advice.turn)
            case Request(ActKind.TURN_SHAFT, arguments):
                turn = Turn(arguments["rotor"].content.rotor.name, arguments["way"].content)
            case Request(act) if act not in _TURNING:
                turn = None
            case WentBack():
                turn = view.turns.get(listen.step)
    if listen.aside:
        return replace(view, turn=turn)
    if isinstance(listen.question, AskDone):
        return replace(view, turn=None, coming=turn)
    view = replace(view, coming=None)
    if not isinstance(listen.question, AskMark | AskNumber) and listen.read_back is None:
        # Nothing is turned while contacts are read or gears are looked at.
        turn = turn if _still_turning(view, effects) else None
    turns = {name: kept for name, kept in view.turns.items() if name != listen.step}
    return replace(view, turn=turn, turns=turns if turn is None else {**turns, listen.step: turn})


def _still_turning(view: View, effects: Sequence[Effect]) -> bool:
    """Whether the same question is only asked in another form: digit by digit, or for a doubt."""
    return view.turn is not None and not any(isinstance(effect, Begun) for effect in effects)


def _last(effects: Iterable[Effect], kind: type[Kind]) -> Kind | None:
    return next((effect for effect in reversed(tuple(effects)) if isinstance(effect, kind)), None)
