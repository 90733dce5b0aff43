"""What the entries of a journal say about the job.

Pure: entries in, a `Summary` of plain texts out. Fields that are missing, or not of the form that
this program writes, are left out of the summary or shown as they stand; they never stop it.

As found, of a rotor, are its contacts as they were last confirmed before the first advice that
gave a direction; as left, as they were last confirmed after the last one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.canonical import encode
from assistant.journal.entry import Entry

__all__ = [
    "Advised",
    "Exchange",
    "Field",
    "Recorded",
    "Remark",
    "RotorResult",
    "Source",
    "Summary",
    "in_words",
    "summarise",
]

States = dict[int, str]


@dataclass(frozen=True, slots=True)
class Field:
    """A named text."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Source:
    """A file that the job ran from, and its SHA-256."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Advised:
    """What the program worked out for a rotor, once."""

    seq: int
    verdict: str
    turn: str | None
    leave: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RotorResult:
    """One rotor: contacts as found, each advice, contacts as left.

    `agrees` says whether every contact that was to be left in a state was confirmed in it; None
    where not all of them were confirmed after the last advice.
    """

    name: str
    found: str | None
    advised: tuple[Advised, ...]
    left: str | None
    agrees: bool | None


@dataclass(frozen=True, slots=True)
class Exchange:
    """What was heard at a step, what came of it, and what the program said then."""

    seq: int
    time: str
    step: str
    heard: str | None
    silent: bool
    confidence: float | None
    engine: str
    clip: str | None
    meant: str | None
    rival: str | None
    confirmed: tuple[Field, ...]
    said: tuple[str, ...]

    @property
    def day(self) -> str:
        """The date, in UTC."""
        return self.time[:10]

    @property
    def clock(self) -> str:
        """The time of day, in UTC, to the second."""
        return self.time[11:19]


@dataclass(frozen=True, slots=True)
class Recorded:
    """A value that the procedure records."""

    seq: int
    time: str
    name: str
    value: str
    unit: str


@dataclass(frozen=True, slots=True)
class Remark:
    """A hold, a deviation, or another thing that a reader must not miss."""

    seq: int
    time: str
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class Summary:
    """The job as its journal tells it.

    `ended` is None where the job was not finished; `last_hash` is the SHA-256
    of the journal's last line without its newline.
    """

    job: tuple[Field, ...]
    unit: tuple[Field, ...]
    procedure: tuple[Field, ...]
    sources: tuple[Source, ...]
    program: str
    started: str
    last_time: str
    ended: str | None
    rotors: tuple[RotorResult, ...]
    recorded: tuple[Recorded, ...]
    remarks: tuple[Remark, ...]
    exchanges: tuple[Exchange, ...]
    entries: int
    last_hash: str

    @property
    def tag(self) -> str:
        """The unit's tag."""
        return next((field.text for field in self.unit if field.name == "tag"), "unit unknown")


_SILENCE = ("silence", "silent")

_CONTACT = re.compile(r"[1-9]\d?", re.ASCII)


def summarise(entries: Sequence[Entry]) -> Summary:
    """Draw the summary from the entries of a sound journal, the first one first.

    Raises:
        ValueError: there are no entries.
    """
    if not entries:
        raise ValueError("a journal without entries has nothing to show")
    first, last = entries[0], entries[-1]
    return Summary(
        job=_fields(first.body.get("job")),
        unit=_fields(first.body.get("unit"), "tag", "drawing", "revision"),
        procedure=_fields(first.body.get("procedure"), "title", "name", "revision"),
        sources=tuple(Source(f.name, f.text) for f in _fields(first.body.get("sources"))),
        program=in_words(first.body.get("program", "")),
        started=first.time,
        last_time=last.time,
        ended=next((entry.time for entry in entries if _ends(entry)), None),
        rotors=tuple(_rotors(entries)),
        recorded=tuple(value for entry in entries for value in _recorded(entry)),
        remarks=tuple(remark for entry in entries for remark in _remarks(entry)),
        exchanges=tuple(_exchange(entry) for entry in entries if _is_exchange(entry)),
        entries=len(entries),
        last_hash=last.hash,
    )


def in_words(value: Any) -> str:
    """A JSON value, or the JSON form of a meaning, as a reader wants it.

    >>> in_words({"contacts": {"1": "closed", "2": "closed", "3": "open"}})
    '1, 2 closed; 3 open'
    >>> in_words({"number": 1.5, "unit": "turns"})
    '1.5 turns'
    """
    match value:
        case str():
            return _clean(value)
        case list():
            return ", ".join(in_words(item) for item in value)
        case Mapping():
            return _mapping_in_words(value)
        case bool() | None:
            return {True: "yes", False: "no", None: "not given"}[value]
    return encode(value).decode()


def _mapping_in_words(value: Mapping[str, Any]) -> str:
    match value:
        case {"number": number, "unit": unit, **rest} if not rest:
            return f"{in_words(number)} {in_words(unit)}" if unit else in_words(number)
        case {"correction": answer, **rest} if not rest:
            return f"wrong: {in_words(answer)}"
        case {"called": name, "number": number, **rest} if not (rest.keys() - {"unit"}):
            return f"{in_words(name)}, {in_words({'number': number, 'unit': rest.get('unit')})}"
        case {"lit": list(names), **rest} if not rest:
            return f"lit: {in_words(names)}" if names else "no lamp lit"
        case {"role": role, "agrees": agrees, **rest} if not rest:
            return f"{in_words(role)}: {'correct' if agrees else 'wrong'}"
        case {"command": str(word), **rest} if not rest:
            return _clean(word.replace("-", " "))
        case {"rotation": said, **rest} | {"choice": said, **rest} | {"spelling": said, **rest} if (
            not rest
        ):
            return in_words(said)
    return _grouped(_states(value)) or "; ".join(
        f"{_clean(name)}: {in_words(item)}" for name, item in value.items()
    )


def _clean(text: str) -> str:
    """One line; characters that show nothing, or turn the direction of text, made visible."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in _line(text))


def _line(text: str) -> str:
    return " ".join(text.split())


def _grouped(states: States) -> str:
    """'1, 2 closed; 3, 4 open', in the order of the lowest contact of each group."""
    groups: dict[str, list[str]] = {}
    for contact, state in sorted(states.items()):
        groups.setdefault(state, []).append(str(contact))
    return "; ".join(f"{', '.join(contacts)} {state}" for state, contacts in groups.items())


def _states(value: Any) -> States:
    """The contact states that a value holds, as itself or under "contacts"; else nothing."""
    match value:
        case {"contacts": Mapping() as states, **rest} if not rest:
            return _states(states)
        case Mapping() if all(map(_is_state, value, value.values())):
            return {int(contact): state for contact, state in value.items()}
    return {}


def _is_state(contact: str, state: Any) -> bool:
    return _CONTACT.fullmatch(contact) is not None and state in ("open", "closed")


def _fields(value: Any, *first: str) -> tuple[Field, ...]:
    """The named texts of a mapping: those named `first` first, the others as they stand."""
    given = _mapping(value)
    ordered = {name: given[name] for name in (*first, *given) if name in given}
    return tuple(Field(_clean(name), in_words(item)) for name, item in ordered.items())


def _mapping(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _texts(value: Any) -> tuple[str, ...]:
    """A list of texts, or one text; anything else in words."""
    if value is None:
        return ()
    return tuple(in_words(item) for item in (value if isinstance(value, list) else [value]))


def _ends(entry: Entry) -> bool:
    return entry.body.get("finished") is True


def _is_exchange(entry: Entry) -> bool:
    return entry.kind in _SILENCE or any(
        entry.body.get(name) for name in ("said", "heard", "meant", "confirmed", "clip")
    )


def _exchange(entry: Entry) -> Exchange:
    heard = _mapping(entry.body.get("heard"))
    confidence = heard.get("confidence")
    clip = _mapping(entry.body.get("clip")).get("file")
    return Exchange(
        seq=entry.seq,
        time=entry.time,
        step=in_words(entry.body.get("step", "")),
        heard=in_words(heard.get("text", "")) if heard else None,
        silent=entry.kind in _SILENCE,
        confidence=float(confidence) if isinstance(confidence, int | float) else None,
        engine=in_words(heard.get("engine", "")),
        clip=clip if isinstance(clip, str) else None,
        meant=_given(entry, "meant"),
        rival=_given(entry, "rival"),
        confirmed=_fields(entry.body.get("confirmed")),
        said=_texts(entry.body.get("said")),
    )


def _given(entry: Entry, name: str) -> str | None:
    value = entry.body.get(name)
    return None if value is None else in_words(value)


def _recorded(entry: Entry) -> Iterator[Recorded]:
    values = entry.body.get("recorded")
    for value in values if isinstance(values, list) else ():
        match value:
            case {"name": name, "value": content}:
                unit = value.get("unit")
                yield Recorded(
                    entry.seq,
                    entry.time,
                    in_words(name),
                    in_words(content),
                    in_words(unit) if unit else "",
                )


def _remarks(entry: Entry) -> Iterator[Remark]:
    for what, why in _remarkable(entry):
        yield Remark(entry.seq, entry.time, what, why)


def _remarkable(entry: Entry) -> Iterator[tuple[str, str]]:
    """What a reader must not miss, and why it was."""
    body = entry.body
    if entry.kind == "returned":
        yield "Interrupted and continued", " ".join(_texts(body.get("said")))
    for text in _texts(body.get("deviations")):
        yield "Deviation", text
    for fact in _texts(body.get("proved")):
        yield "Proved again before going on", fact.replace("-", " ")
    if skipped := _mapping(body.get("skipped")):
        yield "Step skipped", f"{in_words(skipped.get('step'))}, by {in_words(skipped.get('by'))}"
    if body.get("went_back"):
        yield "Went back: answers from this step on no longer count", in_words(body["went_back"])
    if closed := _mapping(body.get("hold_closed")):
        yield f"Hold closed by {in_words(closed.get('by'))}", in_words(closed.get("reason"))
    yield from _stops(body)


def _stops(body: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Holds, notes, and readings that gave no direction."""
    if body.get("held"):
        yield "Hold", in_words(body["held"])
    elif body.get("meant") == {"command": "hold"}:
        yield "Hold asked for", in_words(body.get("step", ""))
    if body.get("note"):
        words = in_words(_mapping(body.get("heard")).get("text", ""))
        yield "Note", in_words(_mapping(body.get("clip")).get("file") or words)
    advice = _mapping(body.get("advice"))
    if advice.get("verdict") == "contradiction":
        what = f"Readings of the rotor {in_words(advice.get('rotor'))} disagreed: no direction"
        yield what, " ".join(_texts(advice.get("reasons")))


def _rotors(entries: Sequence[Entry]) -> Iterator[RotorResult]:
    advised: dict[str, list[tuple[int, Mapping[str, Any]]]] = {}
    for entry in entries:
        advice = _mapping(entry.body.get("advice"))
        if "rotor" in advice:
            advised.setdefault(in_words(advice["rotor"]), []).append((entry.seq, advice))
    for name, given in advised.items():
        yield _rotor(name, given, entries)


def _rotor(
    name: str, given: Sequence[tuple[int, Mapping[str, Any]]], entries: Sequence[Entry]
) -> RotorResult:
    directed = [(seq, _states(advice.get("leave"))) for seq, advice in given if advice.get("turn")]
    found: States = {}
    left: States = {}
    leave: States = {}
    if directed:
        first, (last, leave) = directed[0][0], directed[-1]
        contacts = {contact for _, states in directed for contact in states}
        found = _read(contacts, (entry for entry in entries if entry.seq <= first))
        left = _read(contacts, (entry for entry in entries if entry.seq > last))
    return RotorResult(
        name=name,
        found=_grouped(found) or None,
        advised=tuple(_advised(seq, advice) for seq, advice in given),
        left=_grouped(left) or None,
        agrees=left == leave if leave and leave.keys() <= left.keys() else None,
    )


def _read(contacts: set[int], entries: Iterator[Entry]) -> States:
    """The contacts as they were confirmed, a later reading before an earlier one."""
    seen: States = {}
    for entry in entries:
        for value in _mapping(entry.body.get("confirmed")).values():
            seen.update(_states(value))
    return {contact: state for contact, state in seen.items() if contact in contacts}


def _advised(seq: int, advice: Mapping[str, Any]) -> Advised:
    turn = advice.get("turn")
    return Advised(
        seq=seq,
        verdict=in_words(advice.get("verdict")),
        turn=in_words(turn) if turn else None,
        leave=_grouped(_states(advice.get("leave"))),
        reasons=_texts(advice.get("reasons")),
    )
