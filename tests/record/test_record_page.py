"""The page: whole in itself, the same text that the journal holds, and nothing of it markup."""

from __future__ import annotations

import base64
import io
import wave
from collections.abc import Mapping
from dataclasses import replace
from html.parser import HTMLParser
from typing import Any

import pytest

from assistant.journal import chain
from assistant.journal.entry import Entry, opening
from assistant.record.beside import Beside
from assistant.record.page import render
from assistant.record.summary import summarise
from assistant.record.words import clean
from assistant.trade.unit import Sourced, Unit
from tests.journal.chained import chained
from tests.record.test_record_evidence import DUE
from tests.units import KF_07

VOID = {"meta", "link", "br", "img", "hr", "input"}


class Page(HTMLParser):
    """What a browser would see: elements, attributes, text, and whether all is closed in order."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.texts: list[str] = []
        self.unclosed: list[str] = []
        self.misplaced: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.unclosed.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.unclosed or self.unclosed.pop() != tag:
            self.misplaced.append(tag)

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())

    def values(self, attribute: str) -> list[str | None]:
        return [value for name, value in self.attributes if name == attribute]


def tone(seconds: float) -> bytes:
    sink = io.BytesIO()
    with wave.open(sink, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(16_000)
        file.writeframes(bytes(2 * int(16_000 * seconds)))
    return sink.getvalue()


OPENED = opening(
    {
        "work order": "KF-2207",
        "place": "Kestrel Flat pumping station, hall 2",
        "technician": "M. Orr",
        "second checker": "T. Abara",
    },
    {
        "set-geared-limits.yaml": "5f" * 32,
        "units/kf-07.yaml": "ef" * 32,
    },
    {"tag": "KF-07", "drawing": "KF-E-118", "revision": "C"},
    {"name": "set-geared-limits", "title": "Set the geared limit switches", "revision": "3"},
    "0.1.0",
)


class Job:
    """A made-up job on KF-07: each entry holds what was heard and what the program said then."""

    def __init__(self) -> None:
        self.bodies: list[dict[str, Any]] = [{**OPENED, "said": []}]
        self.clips: dict[str, bytes] = {}

    def heard(self, step: str, asked: str, text: str, meant: Any, **more: Any) -> None:
        """A question, which ends the entry before, and the reply to it."""
        self.bodies[-1]["said"].append(asked)
        name = f"clips/{len(self.clips) + 1:04d}.wav"
        self.clips[name] = tone(0.6)
        heard = {"text": text, "confidence": 0.93, "seconds": 0.6, "engine": "moonshine-tiny-en"}
        clip = {"file": name, "sha256": "00" * 32}
        body = {"kind": "heard", "step": step, "heard": heard, "meant": meant, "clip": clip}
        self.bodies.append({**body, "rival": None, "said": [], **more})

    def asked(self, step: str, asked: str, text: str, meant: Any, echo: str) -> None:
        """A three-part exchange: reply, read-back, confirmation."""
        self.heard(step, asked, text, meant)
        read_back = f"I heard {echo}. Correct?"
        self.heard(step, read_back, "correct", {"command": "yes"}, confirmed={step: meant})

    def advised(
        self, rotor: str, turn: str | None, verdict: str, leave: Any, reasons: list[str]
    ) -> None:
        """The advice that the last confirmation led to."""
        advice = {"rotor": rotor, "verdict": verdict, "turn": turn, "leave": leave}
        self.bodies[-1]["advice"] = {**advice, "reasons": reasons}
        if turn:
            self.bodies[-1]["said"].append(f"Turn the {rotor} shaft {turn}, at most 200 rpm.")

    @property
    def entries(self) -> list[Entry]:
        return chained(self.bodies, time_of)


def time_of(number: int) -> str:
    minute, second = divmod(number * 17, 60)
    return f"2031-05-14T08:{minute:02d}:{second:02d}.250Z"


def contacts(**states: str) -> dict[str, Any]:
    return {"contacts": {name.removeprefix("c"): state for name, state in states.items()}}


def set_open_rotor(job: Job) -> None:
    job.asked(
        "open.watch",
        "Crank to the open stop. Which way does the shaft of the open rotor turn?",
        "counterclockwise",
        {"rotation": "counterclockwise"},
        "counterclockwise",
    )
    job.heard("open.back-off", "Back one handwheel turn.", "done", {"command": "done"})
    ask = "Read contacts one, two, three and four."
    misread = contacts(c1="open", c2="open", c3="open", c4="closed")
    echo = "one, two and three open, four closed"
    job.asked("open.read", ask, "one two three open four closed", misread, echo)
    why = "Contacts 1, 2 and 4 are as before the trip, contact 3 is as past it."
    job.advised("open", None, "contradiction", {}, [why])
    before = contacts(c1="open", c2="open", c3="closed", c4="closed")
    echo = "one and two open, three and four closed"
    job.asked("open.read", ask, "one and two open, 3 and 4 closed", before, echo)
    leave = {"1": "closed", "2": "closed", "3": "open", "4": "open"}
    why = "Contacts 1 and 2 are open; past the trip they are closed: not changed over yet."
    how = "While opening, its shaft turned counterclockwise: turn the same way."
    job.advised("open", "counterclockwise", "not-yet", leave, [why, how])
    job.heard("open.turn", "Say mark at the change-over.", "mark", {"command": "mark"})
    after = {"contacts": leave}
    echo = "one and two closed, three and four open"
    job.asked("open.check", ask, "one two closed three four open", after, echo)
    job.heard("open.engage", "Engaged. Do the shafts move?", "no", {"command": "no"})


def set_closed_rotor(job: Job) -> None:
    job.asked(
        "closed.watch",
        "Crank to the closed stop. Which way does the shaft of the closed rotor turn?",
        "clockwise",
        {"rotation": "clockwise"},
        "clockwise",
    )
    job.bodies[-1]["said"].append("Back one and a half turns.")
    job.bodies.append({"kind": "silent", "step": "closed.back-off", "said": ["I am listening."]})
    job.heard("closed.back-off", "Back one and a half turns.", "done", {"command": "done"})
    ask = "Read contacts five, six, seven and eight."
    leave = {"5": "closed", "6": "closed", "7": "open", "8": "open"}
    echo = "five and six closed, seven and eight open"
    text = "five and six closed seven and eight open"
    job.asked("closed.read", ask, text, {"contacts": leave}, echo)
    why = "Contacts 5 and 6 are closed, as they are past the trip: already changed over."
    how = "While closing, its shaft turned clockwise: turn the opposite way."
    job.advised("closed", "counterclockwise", "already", leave, [why, how])
    mark = "Say mark at the change-over."
    why = "the technician asked for it"
    job.heard("closed.turn", mark, "hold", {"command": "hold"}, held=why)
    job.bodies.append({"kind": "returned", "step": "closed.turn", "said": ["We were at: turn."]})
    job.heard("closed.turn", mark, "uh the radio", None, rival={"command": "done"})
    job.heard("closed.turn", mark, "mark", {"command": "mark"})
    job.asked("closed.check", ask, text, {"contacts": leave}, echo)
    job.heard("closed.rod-in", "Engaged. Do the shafts move?", "no", {"command": "no"})


def whole_job() -> Job:
    job = Job()
    yes, done = {"command": "yes"}, {"command": "done"}
    job.heard("start", "Local rules come first. Is the valve isolated?", "yes", yes)
    job.heard("tester", "Prove the tester on a known source.", "done", done)
    job.heard("dead", "Is every terminal dead?", "yes", yes)
    job.heard("tester-again", "Prove the tester once more.", "done", done)
    echo = "kilo foxtrot zero seven"
    job.asked("tag", "Spell the unit's tag.", echo, {"spelling": "KF07"}, echo)
    ask = "Spell the revision of the drawing in your hand."
    job.asked("drawing", ask, "charlie", {"spelling": "C"}, "charlie")
    job.heard("stroke", "How many turns is the stroke?", "62", {"number": 62, "unit": "turns"})
    job.heard("rods", "Is every setting rod fully out?", "yes", yes)
    set_open_rotor(job)
    set_closed_rotor(job)
    job.bodies[-1]["recorded"] = [
        {"name": "full stroke", "value": 62, "unit": "turns"},
        {"name": "trip error, open rotor", "value": 0.2, "unit": "%"},
    ]
    job.heard("fast", "Is each shaft fast?", "yes", yes)
    job.heard("tags", "Are the rod tags off?", "yes", yes)
    job.heard("cover", "Put the cover back on.", "done", done)
    job.heard("tools", "Count your tools.", "done", done)
    job.heard("end", "Tell the control room.", "done", done, finished=True)
    job.bodies[-1]["said"].append("The job is at its end.")
    return job


@pytest.fixture(scope="module")
def job() -> Job:
    return whole_job()


@pytest.fixture(scope="module")
def page(job: Job) -> Page:
    return Page(render(summarise(job.entries), job.clips))


def test_the_made_up_job_is_of_a_real_size(job: Job) -> None:
    assert len(job.entries) == 40
    assert chain.check([entry.line + b"\n" for entry in job.entries]) == []


def test_the_page_is_well_formed(page: Page) -> None:
    assert page.misplaced == []
    assert page.unclosed == []


def test_the_page_needs_nothing_outside_itself(page: Page) -> None:
    foreign = {"script", "link", "iframe", "object", "embed", "img", "image", "use", "base", "form"}
    assert not (foreign | {"a"}) & set(page.elements)
    names = {name for name, _ in page.attributes}
    assert not [name for name in names if name.startswith("on")]
    assert not names & {"href", "srcset", "action", "background", "poster", "data"}
    assert all(str(value).startswith("data:audio/wav;base64,") for value in page.values("src"))
    style = "".join(page.texts)
    assert "url(" not in style
    assert "@import" not in style


def test_each_clip_can_be_played(job: Job, page: Page) -> None:
    played = [base64.b64decode(str(src).partition(",")[2]) for src in page.values("src")]
    assert played == list(job.clips.values())
    assert page.elements.count("audio") == len(job.clips)


def test_a_clip_that_is_not_there_is_said_to_be_missing(job: Job) -> None:
    clips = {name: data for name, data in job.clips.items() if name != "clips/0003.wav"}
    shown = Page(render(summarise(job.entries), clips))
    assert shown.elements.count("audio") == len(clips)
    assert "clip clips/0003.wav is missing or was changed" in shown.text


def test_a_page_without_sound_names_the_clips(job: Job) -> None:
    shown = Page(render(summarise(job.entries, KF_07), None))
    assert "audio" not in shown.elements
    assert shown.text.count("not in this file") == len(job.clips)
    assert "clip clips/0003.wav, not in this file" in shown.text
    assert "missing" not in shown.text


def test_the_page_says_what_a_record_must(job: Job, page: Page) -> None:
    # 10 CFR 72.174 and trade practice: unit, drawing and revision, procedure and revision, people,
    # as found, as left, results, deviations.
    for text in (
        "KF-07",
        "KF-E-118",
        "unit revision C",
        "procedure revision 3",
        "M. Orr",
        "contacts 1, 2 open; 3, 4 closed",
        "Turn counterclockwise",
        "All as they were to be left",
        "trip error, open rotor 0.2 %",
        "Hold",
        "This record is an aid.",
        "own procedure, local rules and licensed practice come first.",
        job.entries[-1].hash,
        "tail -n 1 journal.jsonl | tr -d '\\n' | sha256sum",
    ):
        assert text in page.text


def test_a_job_that_is_not_over_says_so(job: Job) -> None:
    assert "not at its end" not in Page(render(summarise(job.entries), {})).text
    assert "The job is not at its end." in Page(render(summarise(job.entries[:-1]), {})).text


def test_a_void_proof_can_be_told_without_colour() -> None:
    trip = {"percent": 98.387, "error": -0.013, "within": True}
    value = {"name": "prove/as-left", "value": "x", "rotor": "open", "written": trip}
    proof = {"kind": "heard", "recorded": [value]}
    free = {"kind": "heard", "confirmed": {"shafts": {"choice": "free"}}}
    shown = Page(render(summarise(chained([OPENED, proof, free])), {}))
    assert "rotor void" in shown.values("class")
    assert "98.39 % of travel" in shown.text
    assert "✗ Void since line 3: a shaft was found free. Not proved by hand since." in shown.text
    assert "Within tolerance" not in shown.text


def test_a_shaft_that_was_to_be_turned_is_told_on_the_card_though_it_was_gone_back_over() -> None:
    def found(percent: float, error: float) -> dict[str, Any]:
        trip = {"percent": percent, "error": error, "within": abs(error) < 0.5}
        values = [
            {"name": f"open-end/{name}", "value": "x", "rotor": "open", "written": written}
            for name, written in (("as-found", "So."), ("trip-as-found", trip))
        ]
        confirmed = {"find/end": {"command": "mark"}}
        return {"kind": "heard", "recorded": values, "confirmed": confirmed}

    turned = {
        "kind": "heard",
        "advice": {"rotor": "open", "verdict": "already", "turn": "clockwise"},
    }
    back = {"kind": "heard", "went_back": "find/end"}
    entries = chained([OPENED, found(89.516, -8.884), turned, back, found(98.387, -0.013)])
    shown = Page(render(summarise(entries), {}))
    assert "rotor void" in shown.values("class")
    assert "as found first changes over at 89.52 % of travel" in shown.text
    assert "✗ Void since line 3: its shaft was to be turned before it was read" in shown.text
    assert "✗ Its shaft was to be turned at line 3, which was gone back over" in shown.text
    assert "not confirmed" not in shown.text


def test_a_clip_that_is_lost_is_told_on_a_page_without_sound_too(job: Job) -> None:
    line = next(entry.seq for entry in job.entries if entry.clip is not None)
    shown = Page(render(summarise(job.entries, beside=Beside(lost_clips=(line,))), None))
    assert "✗ clip clips/0001.wav is missing or was changed" in shown.text


HOSTILE = (
    "<script>alert('x')</script>",
    '"><img src=x onerror=alert(1)>',
    "' onmouseover='alert(1)",
    "</td></style><b>&amp;lt;",
    "{{ 7 * 7 }}{% raw %}",
    "\u202egnp.exe",
    "\x00\x1b[31m\x08",
    "<\u200bscript\u2066>",
    "]]></desc></svg><script>alert(1)</script>",
)


def spoiled(value: Any, text: str) -> Any:
    """The value with every free text in it, names too, followed by the text."""
    if isinstance(value, str):
        return value if value in ("open", "closed") else value + text
    if isinstance(value, list):
        return [spoiled(item, text) for item in value]
    if isinstance(value, Mapping):
        return {name: spoiled(item, text) for name, item in value.items()}
    return value


def spoiled_job(job: Job, text: str) -> list[Entry]:
    bodies = [spoiled(body, text) | {"kind": body["kind"]} for body in job.bodies]
    bodies[0]["format"] = OPENED["format"]
    bodies[0]["job"][text] = text
    return chained(bodies, time_of)


def spoiled_sheet(text: str) -> Unit:
    """The sheet with every free text in it followed by the text."""
    return replace(
        KF_07,
        tag=KF_07.tag + text,
        service=KF_07.service + text,
        drawing=KF_07.drawing + text,
        lamps=tuple(replace(lamp, name=lamp.name + text) for lamp in KF_07.lamps),
        stated_seconds=Sourced(51.0, "seconds" + text, "commissioning" + text),
    )


def evidence() -> list[dict[str, Any]]:
    """What a job records beside the made-up one: cautions, trips, lamps, times, signatures."""
    trip = {"percent": 98.387, "error": -0.013, "turns": 61.0, "within": True}
    values = [
        {"name": "find/as-found", "value": "eighty", "rotor": "open", "written": trip},
        {"name": "find/as-found", "value": "in words", "rotor": "closed"},
        {"name": "prove/as-left", "value": "ninety", "rotor": "open", "written": trip},
        {"name": "lamps-in-travel", "value": "open lamp", "written": {"lit": ["open lamp"]}},
        {"name": "stroke-time", "value": "x", "written": {"number": 50.3, "unit": "seconds"}},
        {"name": "signed-done", "value": "romeo victor", "written": "RV"},
        {"name": "signed-done-at", "value": "x", "written": "2031-05-14T09:57:00+00:00"},
    ]
    skipped = {"step": "a", "by": "b"}
    points = [
        {"what": "trip", "first": "1 %", "second": "2 %", "agrees": False, "first_line": 2},
        {"what": "lamps", "first": "open lamp", "second": None, "agrees": None},
    ]
    return [
        {"kind": "heard", "said": ["Warning. It is live.", "Sign?"], "skipped": skipped},
        {"kind": "heard", "step": "sign", "recorded": values, "deviations": ["So."]},
        {"kind": "heard", "went_back": "other", "confirmed": {"sign": {"command": "yes"}}},
        {"kind": "compared", "by": "JT", "with_root": "ab", "points": points},
    ]


def words_kept(value: Any, text: str) -> Any:
    """A recorded value spoiled, but for what tells it: the end of its name, units and rotor."""
    if not isinstance(value, Mapping):
        return spoiled(value, text)
    plain = {key: value[key] for key in ("unit", "rotor") if key in value}
    if "name" in value:
        plain["name"] = f"{text}/{value['name']}"
    told = {key: words_kept(item, text) for key, item in value.items()}
    return told | plain


def spoiled_evidence(text: str) -> list[dict[str, Any]]:
    made = []
    for body in evidence():
        recorded = [words_kept(value, text) for value in body.get("recorded", [])]
        made.append(spoiled(body, text) | {"kind": body["kind"], "recorded": recorded})
    return made


def test_evidence_and_sheet_never_become_markup() -> None:
    def page_of(text: str) -> tuple[Page, Page]:
        opened = spoiled(
            {**OPENED, "numbers": {"a": {"value": 1, "unit": "%", "origin": "o"}}}, text
        )
        first = opened | {"kind": "opened", "format": OPENED["format"]}
        summary = summarise(
            chained([first, *spoiled_evidence(text)], time_of), spoiled_sheet(text), DUE
        )
        assert summary.stroke is not None
        assert [rotor.trip is not None for rotor in summary.rotors] == [True, False]
        assert summary.signatures
        assert summary.cautions
        assert [len(check.points) for check in summary.comparisons] == [2]
        return Page(render(summary, {})), Page(render(summary, None))

    plain = page_of("harmless")
    for text in HOSTILE:
        for harmless, hostile in zip(plain, page_of(text), strict=True):
            assert hostile.elements == harmless.elements
            assert [n for n, _ in hostile.attributes] == [n for n, _ in harmless.attributes]
            assert hostile.values("class") == harmless.values("class")
            assert (hostile.misplaced, hostile.unclosed) == ([], [])
            assert hostile.text.count(clean(text)) >= harmless.text.count("harmless") > 40
            assert all(character.isprintable() for character in hostile.text)


@pytest.mark.parametrize("text", HOSTILE)
def test_text_from_speech_or_sheets_never_becomes_markup(job: Job, text: str) -> None:
    plain = Page(render(summarise(spoiled_job(job, "harmless")), {}))
    hostile = Page(render(summarise(spoiled_job(job, text)), {}))
    assert hostile.elements == plain.elements
    assert [name for name, _ in hostile.attributes] == [name for name, _ in plain.attributes]
    assert hostile.values("class") == plain.values("class")
    assert hostile.text.count(clean(text)) == plain.text.count("harmless") > 100
    assert all(character.isprintable() for character in hostile.text)


def test_a_hostile_name_of_a_clip_never_becomes_markup(job: Job) -> None:
    name = '"><script>alert(1)</script>.wav'
    entry = {"kind": "heard", "clip": {"file": name, "sha256": "00"}}
    made = [*job.entries[:1], chain.link(job.entries[0].line, 2, job.entries[1].time, entry)]
    for clips in ({}, {name: b"RIFF"}):
        assert "script" not in Page(render(summarise(made), clips)).elements
