"""Shipped procedures, each changed in one place, and whether the rules find what that breaks.

Whether a change breaks something is told by `trade_oracle`, and of what is said by `voice_oracle`,
which share nothing with the rules.
Run by hand: ``python -m tests.procedure.rules.mutants`` makes changes until the oracle saw each
rule broken by 50 of them, and prints the table of the README.
"""

from __future__ import annotations

import argparse
import copy
import random
import re
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import count
from typing import Any

import yaml

from assistant.language.english import english
from assistant.procedure.gather import Gathered, gather, texts_in
from assistant.procedure.join import join
from assistant.procedure.load import build_program
from assistant.procedure.problems import FileRefused, Problem
from assistant.procedure.program import Program
from assistant.procedure.read_file import read_procedure
from assistant.procedure.rules.judge import judge
from assistant.procedure.rules.subject import Means
from tests.procedure.rules.trade_oracle import (
    harms,
    of_another_unit,
    without_end,
    without_limit,
    without_value,
)
from tests.procedure.rules.voice_oracle import contradicted, misnamed, misspoken
from tests.procedure.shipped import PROCEDURES

__all__ = [
    "MAINS",
    "RULES",
    "Mutant",
    "Tally",
    "Verdict",
    "judged",
    "mutants",
    "shipped_files",
    "tally",
]

Dice = random.Random
Yaml = dict[str, Any]
"""A file, a step, or what stands in one: every scalar is a text."""

BROKEN = 50
MOST_TRIES = 5000
HALF = 0.5
MEANS = Means(english())
MAINS = ("set-geared-limits.yaml", "second-check.yaml", "stroke-time-check.yaml")
LOADER: Mapping[str, Callable[[Program], bool]] = {
    "names": lambda program: bool(without_value(program)),
    "number-unit": of_another_unit,
    "loop-limit": without_limit,
    "no-end": lambda program: bool(without_end(program)),
}
"""Rules of the loader, and how the oracle sees them broken."""
SAID: Mapping[str, Callable[[Program], bool]] = {
    "said-direction": misspoken,
    "said-rotor": misnamed,
    "said-deed": contradicted,
}
"""Rules of what is said, and how the oracle hears them broken."""
AS_TOLD = {"names": "name"}
"""Rules whose problems bear another name."""
TWO_KINDS = "use two names"
"""A problem of that name in which nothing lacks a value; the oracle knows no kinds of values."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """A procedure that was changed in one place.

    Args:
        main: its main file.
        file: the file that was changed.
        what: what was changed, in words.
        texts: the files that are not as they were shipped.
    """

    main: str
    file: str
    what: str
    texts: Mapping[str, str]


# Changes: each answers what it did, or nothing where it cannot be done to this step.

Change = Callable[[list[Yaml], int, Dice], str | None]


def somewhere(change: Change, steps: list[Yaml], dice: Dice) -> str | None:
    """Make a change at some step where it can be made."""
    places = dice.sample(range(len(steps)), len(steps))
    return next((what for at in places if (what := change(steps, at, dice))), None)


def _targets(step: Yaml) -> Iterator[tuple[Yaml, str]]:
    """Where in a step other steps are named."""
    if isinstance(step.get("go"), str):
        yield step, "go"
    elif "go" in step:
        yield from ((step["go"], outcome) for outcome in step["go"])
    yield from ((step, key) for key in ("repeat", "otherwise") if key in step)


def delete(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Take a step out, and lead what went to it to where it went."""
    step = steps[index]
    ways = [inner[key] for inner, key in _targets(step) if inner[key] != step["step"]]
    following = steps[index + 1]["step"] if index + 1 < len(steps) else "return"
    instead = dice.choice(ways) if ways else following
    if instead == "next":
        instead = following
    for other in steps:
        for inner, key in _targets(other):
            if inner[key] == step["step"]:
                inner[key] = instead
    if index and not any(key in steps[index - 1] for key in ("go", "repeat", "end")):
        steps[index - 1]["go"] = instead
    del steps[index]
    return f"step '{step['step']}' is left out"


def swap(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Exchange what two steps do, and leave each its name and its ways on."""
    other = dice.randrange(len(steps))
    stays = {"step", "go", "repeat", "at-most", "otherwise", "end", "call", "with"}
    first, second = steps[index], steps[other]
    one = {key: value for key, value in first.items() if key not in stays}
    two = {key: value for key, value in second.items() if key not in stays}
    for step, old, new in ((first, one, two), (second, two, one)):
        for key in old:
            del step[key]
        step.update(new)
    return f"what '{first['step']}' and '{second['step']}' do is exchanged"


def retarget(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Let a way go on to another step."""
    ways = list(_targets(steps[index]))
    target = dice.choice(steps)["step"]
    if not ways:
        if any(key in steps[index] for key in ("end", "repeat")):
            return None
        steps[index]["go"] = target
        return f"'{steps[index]['step']}' goes on to '{target}'"
    inner, key = dice.choice(ways)
    inner[key] = target
    return f"'{steps[index]['step']}' goes on to '{target}' after {key}"


def _drop(name: str) -> Change:
    def drop(steps: list[Yaml], index: int, _dice: Dice) -> str | None:
        if name not in steps[index]:
            return None
        del steps[index][name]
        return f"'{name}' of '{steps[index]['step']}' is left out"

    return drop


def move_proof(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Let another answer prove what this one proves."""
    proves, go = steps[index].get("proves"), steps[index].get("go")
    if not proves or not isinstance(go, dict):
        return None
    outcome, fact = next(iter(proves.items()))
    other = dice.choice(sorted(go))
    steps[index]["proves"] = {other: fact}
    return f"'{other}' proves '{fact}' in place of '{outcome}'"


def other_proof(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Let an answer prove something else."""
    proves = steps[index].get("proves")
    if not proves:
        return None
    facts = ("isolated", "rods-engaged", "people-clear", "permitted", "rotation-right")
    outcome, fact = next(iter(proves.items()))
    proves[outcome] = dice.choice([one for one in facts if one != fact])
    return f"'{outcome}' of '{steps[index]['step']}' proves '{proves[outcome]}'"


def other_act(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Have something else done."""
    if "does" not in steps[index]:
        return None
    plain = ("disengage", "engage", "try-shafts", "energise", "lock-off", "restore-supplies")
    act = dice.choice((*plain, "crank-to-middle"))
    steps[index]["does"] = act
    return f"'{steps[index]['step']}' does '{act}'"


def more_act(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Have something done at a step that does nothing."""
    if "does" in steps[index] or not {"ask", "say"} & steps[index].keys():
        return None
    steps[index]["does"] = dice.choice(
        ("disengage", "engage", "try-shafts", "energise", "lock-off", "restore-supplies")
    )
    return f"'{steps[index]['step']}' does '{steps[index]['does']}'"


def other_caution(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Say something else in a caution."""
    if "caution" not in steps[index]:
        return None
    others = (
        "Not too fast.",
        "Slowly now.",
        "Never above two thousand turns a minute.",
        "Mind it.",
    )
    wrong = "Above two hundred turns a minute is fine."
    right = ("At most 200 rpm.", "Do not turn it above two hundred turns a minute.")
    steps[index]["caution"] = dice.choice((*others, *wrong, *right))
    return f"the caution of '{steps[index]['step']}' is '{steps[index]['caution']}'"


def move_caution(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Say a caution elsewhere."""
    if "caution" not in steps[index]:
        return None
    elsewhere = dice.choice([step for step in steps if "caution" not in step])
    elsewhere["caution"] = steps[index].pop("caution")
    return f"the caution of '{steps[index]['step']}' is said at '{elsewhere['step']}'"


def late_caution(steps: list[Yaml], index: int, _dice: Dice) -> str | None:
    """Say a caution one step later."""
    if "caution" not in steps[index] or index + 1 == len(steps) or "caution" in steps[index + 1]:
        return None
    steps[index + 1]["caution"] = steps[index].pop("caution")
    return f"the caution of '{steps[index]['step']}' is said one step later"


def one_more_turn(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Have the shaft turned at a step that does nothing."""
    step = steps[index]
    if "does" in step or not {"ask", "say"} & step.keys():
        return None
    way = dice.choice(("advice.turn", "advice.back"))
    step["does"] = [{"turn-shaft": {"rotor": "rotor", "way": way}}]
    return f"'{step['step']}' turns the shaft by '{way}'"


def not_read_back(steps: list[Yaml], index: int, _dice: Dice) -> str | None:
    """Take an answer without a confirmation."""
    if steps[index].get("ask") not in ("contacts", "rotation", "number", "lamps"):
        return None
    steps[index]["read-back"] = "no"
    return f"the answer at '{steps[index]['step']}' is not read back"


def once_more(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Do a step a second time, elsewhere."""
    twin = copy.deepcopy(steps[index])
    twin["step"] = f"{twin['step']}-again"
    steps.insert(dice.randrange(len(steps)), twin)
    return f"'{twin['step']}' is done too"


def other_way(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Turn a shaft by something else."""
    for act in steps[index].get("does", []):
        if isinstance(act, dict) and "turn-shaft" in act:
            act["turn-shaft"]["way"] = dice.choice(("advice.turn", "advice.back", "seen"))
            return f"'{steps[index]['step']}' turns by '{act['turn-shaft']['way']}'"
    return None


DIRECTION = re.compile(
    r"\{[\w-]+\.(?:turn|back|away|to-stop|travel|opening|closing)\}|toward (?:open|closed)"
    r"|to the (?:open stop|closed stop|closed end|\{rotor\.stop\})|(?<=it )closed"
)
"""How directions are said in what is shipped."""
TOLD = ("advice.turn", "advice.back", "rotor.away", "rotor.to-stop", "rotor.travel")
WAYS = (*TOLD, "unit.opening", "unit.closing", "seen")
COUNTS = ("rotor.turns", "rotor.start", "rotor.last", "turns")


def say_other_way(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Say another direction, or none."""
    found = list(DIRECTION.finditer(steps[index].get("say", "")))
    if not found:
        return None
    one = dice.choice(found)
    words = ("clockwise", "toward open", "toward closed", "to the open stop", "to the {rotor.stop}")
    other = dice.choice(("", *words, *(f"{{{way}}}" for way in WAYS)))
    say = steps[index]["say"]
    steps[index]["say"] = f"{say[: one.start()]}{other}{say[one.end() :]}"
    return f"'{steps[index]['step']}' says '{other}' in place of '{one[0]}'"


def say_other_count(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Say another number of turns."""
    said = [one for one in COUNTS if f"{{{one}}}" in steps[index].get("say", "")]
    if not said:
        return None
    one = dice.choice(said)
    other = dice.choice(("one turn", *(f"{{{count}}}" for count in COUNTS)))
    steps[index]["say"] = steps[index]["say"].replace(f"{{{one}}}", other)
    return f"'{steps[index]['step']}' says '{other}' in place of '{one}'"


def do_other_way(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Have something done in another direction, or by another count."""
    places = [
        (act, key)
        for act in _acts(steps[index])
        for key in ("way", "toward", "turns")
        if key in act
    ]
    if not places:
        return None
    act, key = dice.choice(places)
    act[key] = dice.choice(COUNTS if key == "turns" else WAYS)
    return f"'{steps[index]['step']}' does it by '{act[key]}'"


def other_rotor(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Do, watch, read or compute something for another rotor (see `with_two_rotors`)."""
    step = steps[index]
    inner = [one for one in (step.get("from"), *_acts(step)) if isinstance(one, dict)]
    places = [(one, "rotor") for one in inner if "rotor" in one]
    places += [(step, "of")] if "of" in step else []
    if not places:
        return None
    place, key = dice.choice(places)
    place[key] = place[key].replace("rotor", "other", 1)
    return f"'{step['step']}' is about another rotor"


NAMED = re.compile(r"\{rotor\.(?:name|contacts)\}|all contacts")
"""How rotors and contacts are said in what is shipped."""


def say_other_rotor(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Say another rotor, other contacts, or none."""
    found = list(NAMED.finditer(steps[index].get("say", "")))
    if not found:
        return None
    one = dice.choice(found)
    names = ("open", "closed", "{other.name}", "")
    contacts = ("contacts {unit.contacts}", "{unit.contacts}", "{other.contacts}", "")
    other = dice.choice(names if "name" in one[0] else (*contacts, "{rotor.contacts}"))
    say = steps[index]["say"]
    steps[index]["say"] = f"{say[: one.start()]}{other}{say[one.end() :]}"
    return f"'{steps[index]['step']}' says '{other}' in place of '{one[0]}'"


def ask_other_contacts(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Ask for the contacts of another rotor, or of all."""
    if steps[index].get("ask") != "contacts":
        return None
    steps[index]["of"] = dice.choice(("unit.contacts", "rotor.contacts", "other.contacts"))
    return f"'{steps[index]['step']}' asks for '{steps[index]['of']}'"


_SUPPLIES = (
    "Switch both supplies on.",
    "Switch both supplies off, and lock them off.",
    "Put your locks and tags back on both supplies.",
    "Take your locks and tags off both supplies, and switch them on.",
)
_ROD = (
    "Press the setting rod and turn it, to disengage.",
    "Turn the setting rod a quarter turn back, and let it come fully out.",
    "Let the rod come fully out, to engage.",
    "If the rod is engaged, press it and turn it, to disengage.",
)
_MOVED = ("Crank it by hand.", "Jog it, and stop at once.")
DEEDS: Mapping[str, tuple[str, ...]] = {
    **{"energise": _SUPPLIES, "lock-off": _SUPPLIES, "restore-supplies": _SUPPLIES},
    **{"engage": _ROD, "disengage": _ROD, "jog": _MOVED, "stroke": _MOVED},
    **{"crank-to-middle": _MOVED, "crank": _MOVED, "crank-to-stop": _MOVED},
    "isolated": ("Is the valve dead?", "Is the valve live?", "Is it live?"),
    "people-clear": ("Is everybody clear?", "Is anybody at the valve?", "Is anybody in the way?"),
    "permitted": ("Is there permission to energise?", "Is energising forbidden?"),
    "rods-engaged": (
        "If one turns, say locked; if none, say free.",
        "If none turns, say locked; if one turns, say free.",
        "If a shaft turns, say locked. If none turns, say free.",
    ),
    "rotation-right": ("Does it turn the wrong way?", "Did it move open?"),
}
"""Prompts for what is done, or asked for: right ones, and those of the contrary."""


def say_other_deed(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Say something else to be done, or asked, at a step that does or proves something."""
    step = steps[index]
    does = step.get("does", ())
    acts = [does] if isinstance(does, str) else [key for act in does for key in act]
    about = [one for one in (*acts, *step.get("proves", {}).values()) if one in DEEDS]
    if not about:
        return None
    before = step.get("say", "").partition(". ")[0]
    deed = dice.choice(DEEDS[dice.choice(about)])
    step["say"] = " ".join(dice.sample((deed, f"{before}."), dice.choice((1, 2))))
    return f"'{step['step']}' says '{step['say']}'"


def exchange_prompts(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Exchange what two steps say."""
    other = dice.choice(steps)
    if "say" not in steps[index] or "say" not in other or other is steps[index]:
        return None
    steps[index]["say"], other["say"] = other["say"], steps[index]["say"]
    return f"what '{steps[index]['step']}' and '{other['step']}' say is exchanged"


def other_call_rotor(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Call a part for another rotor, as a copied step does that was not changed."""
    step = steps[index]
    if "rotor" not in step.get("with", {}):
        return None
    rotors = ("open", "closed", "third", "fourth")
    step["with"]["rotor"] = dice.choice([one for one in rotors if one != step["with"]["rotor"]])
    return f"'{step['step']}' is for the {step['with']['rotor']} rotor"


def _both(one: Change, other: Change) -> Change:
    def change(steps: list[Yaml], index: int, dice: Dice) -> str | None:
        told = one(steps, index, dice)
        return told and f"{told}, and {somewhere(other, steps, dice)}"

    return change


def _acts(step: Yaml) -> Iterator[Yaml]:
    for act in step.get("does", []):
        if isinstance(act, dict):
            yield from act.values()


TIMED = ("begun", "stopped", "turns")


def other_time(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Compute a time or a speed from something else, or from the same in another order."""
    given = steps[index].get("from", {})
    keys = [key for key in TIMED if key in given]
    if "begun" not in given:
        return None
    one, other = dice.sample(keys, 2)
    if dice.random() < HALF:
        given[one], given[other] = given[other], given[one]
    else:
        moments = [step["when"] for step in steps if "when" in step]
        numbers = [step["into"] for step in steps if step.get("ask") == "number"]
        given[one] = dice.choice(["rotor.turns", *numbers] if one == "turns" else moments)
    return f"'{steps[index]['step']}' computes from {given}"


def other_moment(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Keep the moment of another answer."""
    if "when" not in steps[index]:
        return None
    asking = [step for step in steps if step.get("ask") and "when" not in step]
    elsewhere = dice.choice(asking)
    elsewhere["when"] = steps[index].pop("when")
    return f"'{elsewhere['when']}' is the moment of '{elsewhere['step']}'"


def other_unit(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Ask for a number in another unit."""
    if "unit" not in steps[index]:
        return None
    steps[index]["unit"] = dice.choice(("turns", "revolutions", "millimetres", "%", "seconds"))
    return f"'{steps[index]['step']}' asks for {steps[index]['unit']}"


def other_number(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Use another number."""
    given = [one for one in (steps[index].get("from"), *_acts(steps[index])) if one]
    places = [(one, key) for one in given for key in ("turns", "most", "again") if key in one]
    places += [(steps[index], "most")] if "." in steps[index].get("most", "") else []
    if not places:
        return None
    asked = [step["into"] for step in steps if step.get("ask") == "number"]
    sheet = ("rotor.turns", "rotor.trip", "unit.stroke", "unit.search", "unit.most-revolutions")
    place, key = dice.choice(places)
    place[key] = dice.choice([*asked, *sheet])
    return f"'{steps[index]['step']}' takes '{place[key]}' for '{key}'"


READINGS = ("advice.leave", "rotor.before", "rotor.drawn", "found", "left")


def other_reading(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Compare something else."""
    step = steps[index]
    if step.get("compute") != "compare-readings":
        return None
    step["from"][dice.choice(("expected", "reading"))] = dice.choice(READINGS)
    return f"'{step['step']}' compares {step['from']}"


def rename(steps: list[Yaml], index: int, dice: Dice) -> str | None:
    """Keep an answer or a result under another name."""
    keys = [key for key in ("into", "when", "because") if key in steps[index]]
    names = [step[key] for step in steps for key in ("into", "when", "because") if key in step]
    if not keys:
        return None
    key = dice.choice(keys)
    steps[index][key] = dice.choice([*names, "elsewhere"])
    return f"'{key}' of '{steps[index]['step']}' is '{steps[index][key]}'"


def without_repeat(steps: list[Yaml], index: int, _dice: Dice) -> str | None:
    """Go back without counting how often."""
    step = steps[index]
    if "repeat" not in step:
        return None
    step.setdefault("say", "Once more.")
    step["go"] = step.pop("repeat")
    del step["at-most"], step["otherwise"]
    return f"'{step['step']}' goes back without a limit"


PLACES = (delete, swap, retarget, once_more)
FACTS = (_drop("does"), _drop("proves"), move_proof, other_proof, other_act, more_act)


@dataclass(frozen=True, slots=True)
class Aim:
    """What may break a rule.

    Args:
        changes: the changes.
        files: the files in which they are made.
        prepare: what is done to all files before, harmless in itself.
    """

    changes: tuple[Change, ...]
    files: tuple[str, ...]
    prepare: Callable[[Mapping[str, Yaml]], None] = lambda _files: None


def with_two_rotors(files: Mapping[str, Yaml]) -> None:
    """Give the parts that set a rotor a second one, so that the two can be confused."""
    for file in files.values():
        if file.get("part") in ("set-rotor", "adjust-rotor"):
            file["inputs"]["other"] = "rotor"
        for step in file["steps"]:
            if step.get("call") == "adjust-rotor" or step.get("call") == "set-rotor":
                mine = step["with"]["rotor"]
                step["with"]["other"] = (
                    "other" if mine == "rotor" else "closed" if mine == "open" else "open"
                )


SETTING = ("parts/set-rotor.yaml",)
MOTOR = ("parts/electrical-test.yaml", "stroke-time-check.yaml")
ALL = (
    *(*MAINS, *MOTOR, *SETTING, "parts/isolate.yaml", "parts/lock-off.yaml"),
    *("parts/try-shafts.yaml", "parts/prove-rotor.yaml", "parts/find-trips.yaml"),
    *("parts/check-rotor.yaml", "parts/adjust-rotor.yaml", "parts/finish.yaml"),
    "parts/prove-bypass.yaml",
)
RULES: Mapping[str, Aim] = {
    "isolated-first": Aim((*PLACES, *FACTS, _drop("call")), ALL),
    "rod-in-first": Aim((*PLACES, *FACTS), (*SETTING, *MAINS, "parts/try-shafts.yaml")),
    "gate-first": Aim((*PLACES, *FACTS), MOTOR),
    "speed-limit": Aim(
        (
            *(*PLACES, _drop("caution"), other_caution, move_caution, late_caution),
            *(one_more_turn, other_way),
        ),
        SETTING,
    ),
    "timed-act": Aim(
        (other_time, other_time, other_moment, other_moment, rename, retarget, *PLACES),
        (*SETTING, *MOTOR),
    ),
    "read-back-first": Aim(
        (not_read_back, _both(not_read_back, retarget), retarget, delete), SETTING
    ),
    "own-direction": Aim(
        (other_rotor, _both(other_rotor, other_rotor), _both(other_rotor, retarget), retarget),
        SETTING,
        with_two_rotors,
    ),
    "fresh-direction": Aim((*PLACES, other_way, rename), SETTING),
    "compared-reading": Aim(
        (*(other_reading,) * 2, *(_both(other_reading, one) for one in (*PLACES, rename)), *PLACES),
        SETTING,
    ),
    "said-direction": Aim(
        (say_other_way, say_other_way, say_other_count, do_other_way, retarget, swap),
        (
            *(*SETTING, *MOTOR, "second-check.yaml", "parts/find-trips.yaml"),
            *("parts/prove-rotor.yaml", "parts/check-rotor.yaml", "parts/prove-bypass.yaml"),
        ),
    ),
    "said-rotor": Aim(
        (say_other_rotor, say_other_rotor, ask_other_contacts, other_rotor, retarget, swap),
        (*SETTING, "parts/prove-rotor.yaml", "parts/check-rotor.yaml", "parts/read-all.yaml"),
        with_two_rotors,
    ),
    "said-deed": Aim(
        (*(say_other_deed,) * 6, exchange_prompts, other_act, other_proof),
        (
            *(*MOTOR, *SETTING, "second-check.yaml", "parts/isolate.yaml", "parts/lock-off.yaml"),
            *("parts/try-shafts.yaml", "parts/isolate-alone.yaml", "parts/finish.yaml"),
        ),
    ),
    "rotor-proved": Aim(
        (
            *PLACES,
            _drop("does"),
            _drop("call"),
            other_call_rotor,
            other_call_rotor,
            _drop("proves"),
        ),
        ("set-geared-limits.yaml", "parts/prove-rotor.yaml", "parts/electrical-test.yaml"),
    ),
    "proof-fits": Aim(
        (move_proof, other_proof, other_act, _drop("does")),
        (*MOTOR, *SETTING, *MAINS, "parts/try-shafts.yaml", "parts/isolate.yaml"),
    ),
    "names": Aim((*PLACES, rename, _drop("into"), _drop("when")), ALL),
    "number-unit": Aim(
        (other_unit, other_unit, other_number, other_number, rename),
        (
            *(*SETTING, "parts/prove-rotor.yaml", "parts/find-trips.yaml"),
            *("parts/prove-bypass.yaml", "parts/electrical-test.yaml"),
        ),
    ),
    "loop-limit": Aim((retarget, without_repeat, without_repeat), ALL),
    "no-end": Aim((retarget, delete), ALL),
}
"""Every rule about ways, and what may break it."""


@cache
def shipped_files(main: str) -> Gathered:
    """A procedure with its parts, as shipped."""
    return gather(main, texts_in(PROCEDURES), "")


@cache
def _mains_with(file: str) -> tuple[str, ...]:
    return tuple(main for main in MAINS if file in shipped_files(main).files)


@cache
def _content(file: str) -> Yaml:
    content: Yaml = yaml.load((PROCEDURES / file).read_text(encoding="utf-8"), yaml.BaseLoader)
    return content


def mutants(rule: str) -> Iterator[Mutant]:
    """Changes without end that may break a rule, none twice, the same in each run."""
    aim = RULES[rule]
    seen: set[tuple[str, str]] = set()
    for seed in count():
        dice = random.Random(f"{rule} {seed}")
        file = dice.choice(aim.files)
        main = dice.choice(_mains_with(file))
        contents = {name: copy.deepcopy(_content(name)) for name in shipped_files(main).files}
        aim.prepare(contents)
        steps = contents[file]["steps"]
        what = somewhere(dice.choice(aim.changes), steps, dice)
        texts = {
            name: yaml.dump(content, sort_keys=False, allow_unicode=True, width=10_000)
            for name, content in contents.items()
            if what and content != _content(name)
        }
        if texts and (main, texts.get(file, "")) not in seen:
            seen.add((main, texts.get(file, "")))
            yield Mutant(main, file, what or "", texts)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was said of a mutant.

    Args:
        refused: why the loader refused it, where it did.
        told: the problems that the loader or the rules told.
        broken: whether the oracle saw the rule broken.
        program: the procedure, where its parts could be joined.
    """

    refused: tuple[Problem, ...] = ()
    told: tuple[Problem, ...] = ()
    broken: bool = False
    program: Program | None = None

    def found(self, rule: str) -> tuple[Problem, ...]:
        """The problems of a rule that were told."""
        name = AS_TOLD.get(rule, rule)
        mine = (problem for problem in self.told if problem.rule == name)
        return tuple(problem for problem in mine if TWO_KINDS not in problem.message)


def judged(rule: str, mutant: Mutant) -> Verdict:
    """Let the oracle and the rules judge a mutant, neither knowing of the other.

    A rule of safety is asked of what the loader takes, a rule of the loader of what it can join.
    """
    shipped = shipped_files(mutant.main)
    try:
        changed = {file: read_procedure(text, file) for file, text in mutant.texts.items()}
        gathered = Gathered(
            changed.get(mutant.main, shipped.main),
            {**shipped.files, **changed},
            {**shipped.texts, **mutant.texts},
        )
        program = join(gathered.main, gathered.parts())
    except FileRefused as refused:
        return Verdict(refused.problems)
    if rule in LOADER:
        return Verdict((), _told_by_loader(gathered), LOADER[rule](program), program)
    if refused_for := _told_by_loader(gathered):
        return Verdict(refused_for)
    told = tuple(one for one in judge(gathered, program, MEANS) if one.level == "error")
    if rule in SAID:
        return Verdict((), told, SAID[rule](program), program)
    broken = any(kind == rule for kind, _ in harms(program))
    return Verdict((), told, broken, program)


def _told_by_loader(gathered: Gathered) -> tuple[Problem, ...]:
    try:
        build_program(gathered.main, gathered.parts())
    except FileRefused as refused:
        return refused.problems
    return ()


@dataclass(slots=True)
class Tally:
    """What became of the mutants of a rule.

    Args:
        rule: its name.
        made: how many there were.
        refused: how many the loader refused before the rule could be asked.
        broken: how many broke the rule in the eyes of the oracle.
        missed: those of them that the rule did not find.
        false: those in which the rule found something and the oracle saw nothing.
    """

    rule: str
    made: int = 0
    refused: int = 0
    broken: int = 0
    missed: list[Mutant] = field(default_factory=list)
    false: list[Mutant] = field(default_factory=list)

    def add(self, mutant: Mutant, verdict: Verdict) -> None:
        """Count a mutant."""
        self.made += 1
        found = verdict.found(self.rule)
        if verdict.refused:
            self.refused += 1
        elif verdict.broken:
            self.broken += 1
            if not found:
                self.missed.append(mutant)
        elif found:
            self.false.append(mutant)


def tally(rule: str, broken: int = BROKEN) -> Tally:
    """Make mutants of a rule until so many broke it."""
    counted = Tally(rule)
    for mutant in mutants(rule):
        counted.add(mutant, judged(rule, mutant))
        if counted.broken == broken or counted.made == MOST_TRIES:
            break
    return counted


def table(tallies: list[Tally]) -> str:
    """What became of them, as a table in Markdown."""
    head = "| rule | changes | refused by the loader | broke it | found | missed | false alarms |"
    lines = [head, "| --- |" + " ---: |" * 6]
    for one in tallies:
        found = one.broken - len(one.missed)
        numbers = (one.made, one.refused, one.broken, found, len(one.missed), len(one.false))
        lines.append(f"| {one.rule} | {' | '.join(map(str, numbers))} |")
    return "\n".join(lines)


def main() -> int:
    """Judge them all; answers 1 where one was missed, or found and harmless."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--broken", type=int, default=BROKEN, help="mutants that break each rule")
    parser.add_argument("rules", nargs="*", help=f"of {', '.join(RULES)}; all where left out")
    args = parser.parse_args()
    began = time.monotonic()
    tallies = []
    for rule in args.rules or RULES:
        counted = tally(rule, args.broken)
        tallies.append(counted)
        print(f"{rule}: {counted.broken} of {counted.made} broke it", file=sys.stderr)
        for kind, those in (("missed", counted.missed), ("false", counted.false)):
            for one in those:
                print(f"{kind}: {rule}: {one.main}, {one.file}: {one.what}", flush=True)
    print(table(tallies))
    print(f"\n{time.monotonic() - began:.0f} s")
    return 1 if any(one.missed or one.false for one in tallies) else 0


if __name__ == "__main__":
    sys.exit(main())
