"""Joining a procedure with its parts: targets, calls, arguments, and the names of the steps."""

from __future__ import annotations

import pytest

from assistant.procedure.problems import FileRefused
from tests.procedure.refusals import END, HEAD, MAIN, assert_refused, load, part, steps

PART = "parts/p.yaml"

CALL = f"""\
{HEAD}parts:
  p: parts/p.yaml
steps:
  - step: first
    call: p
    with: {{rotor: open}}
  - step: second
    call: p
    with: {{rotor: closed}}
{END}"""

TELL = "  - step: tell\n    say: The {rotor.name} end.\n"


def test_each_call_has_its_own_steps_under_its_own_name() -> None:
    program = load({MAIN: CALL, PART: part(TELL)})
    assert list(program.nodes) == ["first", "first/tell", "second", "second/tell", "finish"]
    ways = {name: dict(node.targets) for name, node in program.nodes.items()}
    assert ways == {
        "first": {"next": "first/tell"},
        "first/tell": {"next": "second"},
        "second": {"next": "second/tell"},
        "second/tell": {"next": "finish"},
        "finish": {},
    }
    assert program.start == "first"


def test_an_input_stands_for_the_rotor_that_was_passed() -> None:
    program = load({MAIN: CALL, PART: part(TELL)})
    assert program.nodes["first/tell"].scope.rotors == {"rotor": "open"}
    assert program.nodes["second/tell"].scope.rotors == {"rotor": "closed"}


def test_an_input_is_passed_on_through_a_part() -> None:
    outer = part("  - step: in\n    call: q\n    with: {of: rotor}\n").replace(
        "steps:", "parts: {q: q.yaml}\nsteps:"
    )
    inner = part("  - step: tell\n    say: The {of.name} end.\n", "{of: rotor}")
    program = load({MAIN: CALL, PART: outer, "parts/q.yaml": inner})
    assert program.nodes["second/in/tell"].scope.rotors == {"of": "closed"}
    assert program.nodes["second/in/tell"].targets == {"next": "finish"}


def test_names_that_a_part_gives_belong_to_its_call() -> None:
    ask = "  - step: ask\n    say: Which?\n    ask: rotation\n    of: rotor\n    into: seen\n"
    program = load({MAIN: CALL, PART: part(ask)})
    assert program.nodes["first/ask"].scope.absolute("seen") == "first/seen"


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        ("  - step: a\n    say: Hi.\n    go: ¶finihs\n", "did you mean 'finish'?"),
        ("  - step: a\n    repeat: ¶b\n    at-most: 1\n    otherwise: finish\n", "goes to 'b'"),
        ("  - step: a\n    repeat: a\n    at-most: 1\n    otherwise: ¶b\n", "goes to 'b'"),
        (
            "  - step: a\n    say: Hi.\n    go: ¶return\n",
            "only a part returns: go to a step, as to 'finish', which ends the job",
        ),
        (
            "  - step: a\n    say: Hi.\n    go: ¶return-within\n",
            "goes to 'return-within', and only",
        ),
        ("  - step: a\n    say: Hi.\n    go: {later: ¶finish}\n", "no outcome 'later'"),
        ("  - ¶step: a\n    say: Ok?\n    ask: yes-no\n    go: {yes: finish}\n", "after 'no'"),
        (
            "  - ¶step: a\n    say: Which?\n    ask: choice\n    choices: [b, c]\n"
            "    go: {b: finish, d: ¶finish}\n",
            None,
        ),
        ("  - step: a\n    call: ¶p\n", "no part is called 'p'"),
    ],
)
def test_targets_outcomes_and_parts_that_do_not_exist(sample: str, essence: str | None) -> None:
    essences = (essence,) if essence else ("after 'c'", "no outcome 'd'; known here: b, c")
    assert_refused(steps(sample), *essences)


def test_the_last_step_must_end_the_job() -> None:
    assert_refused(
        steps("  - ¶step: a\n    say: Hi.\n", end=""), "with a step that says 'end: job'"
    )
    after = f"{END}  - ¶step: late\n    say: Hi.\n"
    assert_refused(steps(after, end=""), "past the end: let it 'go:' to 'finish'")


def test_a_procedure_that_ends_nowhere_cannot_return_instead() -> None:
    sample = steps("  - step: a\n    say: Hi.\n    go: ¶return\n", end="")
    assert_refused(sample, "go to a step, as to one that says 'end: job'")


@pytest.mark.parametrize(
    ("given", "essence"),
    [
        ("¶p\n", "must be given 'with:' rotor, gap"),
        ("¶p\n    with: {}\n", "must be given 'with:' rotor, gap"),
        ("¶p\n    with: {rotor: open}\n", "must be given 'with:' gap"),
        ("p\n    with: {rotro: ¶open, gap: tag}\n", "no input 'rotro'; did you mean 'rotor'?"),
        ("p\n    with: {rotor: open, limit: ¶tag}\n", "no input 'limit'; known here: gap"),
        (
            "p\n    with: {rotor: open, gap: tag, gaps: ¶tag}\n",
            "no input 'gaps'; did you mean 'gap'?",
        ),
    ],
)
def test_the_arguments_must_be_the_inputs(given: str, essence: str) -> None:
    main = f"{HEAD}parts: {{p: parts/p.yaml}}\nsteps:\n  - step: a\n    call: {given}{END}"
    called = part(TELL, "{rotor: rotor, gap: letters}")
    assert_refused({MAIN: main, PART: called}, essence)


def test_a_rotor_that_no_unit_has_is_no_argument() -> None:
    main = f"{HEAD}parts: {{p: parts/p.yaml}}\nsteps:\n  - step: a\n    call: p\n"
    main += f"    with: {{rotor: ¶opn}}\n{END}"
    assert_refused({MAIN: main, PART: part(TELL)}, "no rotor is called 'opn'; did you mean 'open'?")


def test_a_call_that_is_misspelt_is_told_and_not_the_part_that_it_means() -> None:
    main = f"{HEAD}parts: {{try-shafts: parts/p.yaml}}\nsteps:\n  - step: a\n    call: ¶try-shaft\n"
    main += f"    with: {{rotor: open}}\n{END}"
    told = "no part is called 'try-shaft'; did you mean 'try-shafts'?"
    assert_refused({MAIN: main, PART: part(TELL)}, told)


def test_a_part_without_inputs_takes_no_arguments() -> None:
    main = f"{HEAD}parts: {{p: parts/p.yaml}}\nsteps:\n  - step: a\n    call: ¶p\n"
    main += f"    with: {{rotor: open}}\n{END}"
    assert_refused({MAIN: main, PART: part("  - step: b\n    say: Hi.\n", "{}")}, "takes nothing")


@pytest.mark.parametrize(
    ("inputs", "essence"),
    [
        ("{Rotor: rotor}".replace("R", "¶R"), "lower case"),
        ("{¶unit: rotor}", "'unit' is taken"),
        ("{rotor: ¶contact}", "of no kind 'contact'; did you mean 'contacts'?"),
    ],
)
def test_an_input_is_of_a_known_kind_under_a_free_name(inputs: str, essence: str) -> None:
    assert_refused({MAIN: CALL, PART: part(TELL, inputs)}, essence)


def test_a_part_cannot_end_the_job() -> None:
    assert_refused(
        {MAIN: CALL, PART: part(f"{TELL}  - ¶step: e\n    say: Hi.\n    end: job\n")}, "return"
    )


@pytest.mark.parametrize(("here", "there"), [("../parts/p.yaml", "p.yaml"), ("/p.yaml", "p.yaml")])
def test_a_part_outside_the_folder_is_not_read(here: str, there: str) -> None:
    main = CALL.replace("parts/p.yaml", f"¶{here}")
    assert_refused({MAIN: main, there: part(TELL)}, "without '..'")


def test_a_part_that_is_not_there_is_told_where_it_is_named() -> None:
    main = CALL.replace("parts/p.yaml", "¶parts/q.yaml")
    assert_refused({MAIN: main, PART: part(TELL)}, "parts/q.yaml: there is no such file")


def test_a_part_that_is_a_procedure_is_refused_where_it_is_named() -> None:
    main = CALL.replace("parts/p.yaml", "¶parts/p.yaml")
    assert_refused({MAIN: main, PART: steps("")}, "begins with 'part:'")


def test_a_part_that_nobody_calls_is_refused() -> None:
    main = CALL.replace("  p: parts/p.yaml\n", "  p: parts/p.yaml\n  q: ¶parts/p.yaml\n")
    assert_refused({MAIN: main, PART: part(TELL)}, "the part 'q': call it in a step, or remove")


def test_a_part_cannot_be_run_alone() -> None:
    assert_refused("¶" + part(TELL), "run a procedure that calls it")


def test_problems_of_a_part_stand_in_the_file_as_the_user_would_open_it() -> None:
    sample = part("  - ¶step: a\n  - step: ¶B\n")
    assert_refused({MAIN: CALL, PART: sample}, "tells nothing", "lower case")


def test_problems_of_all_files_are_told_at_once() -> None:
    other = part("  - ¶step: a\n")
    main = CALL.replace("  p: parts/p.yaml\n", "  p: parts/p.yaml\n  q: ¶¶parts/q.yaml\n")
    assert_refused({MAIN: main, PART: other}, "no step calls", "no such file", "tells nothing")


@pytest.mark.parametrize("keys", [("q",), ("q", "r")])
def test_a_part_that_calls_itself_is_refused_under_whatever_name(keys: tuple[str, ...]) -> None:
    named = ", ".join(f"{key}: p.yaml" for key in keys)
    calls = "".join(
        f"  - step: {key}\n    call: ¶{key}\n    with: {{rotor: rotor}}\n" for key in keys
    )
    sample = part(calls).replace("steps:", f"parts: {{{named}}}\nsteps:")
    assert_refused({MAIN: CALL, PART: sample}, *["calls itself"] * len(keys))


def test_two_parts_that_call_each_other_are_refused() -> None:
    def calling(other: str, sign: str = "") -> str:
        text = part(f"  - step: a\n    call: {sign}o\n    with: {{rotor: rotor}}\n")
        return text.replace("steps:", f"parts: {{o: {other}}}\nsteps:")

    files = {MAIN: CALL, PART: calling("q.yaml"), "parts/q.yaml": calling("p.yaml", "¶")}
    assert_refused(files, "calls itself")


def test_calls_that_go_too_deep_are_refused() -> None:
    def level(number: int, sign: str = "") -> str:
        text = part(f"  - step: a\n    call: {sign}o\n    with: {{rotor: rotor}}\n")
        return text.replace("steps:", f"parts: {{o: p{number + 1}.yaml}}\nsteps:")

    files = {f"parts/p{number}.yaml": level(number) for number in range(30)}
    files |= {"parts/p19.yaml": level(19, "¶"), "parts/p30.yaml": part(TELL)}
    main = CALL.replace("parts/p.yaml", "parts/p0.yaml")
    assert_refused({MAIN: main, **files}, "20 deep")


def test_parts_that_grow_beyond_all_measure_are_refused() -> None:
    def level(number: int) -> str:
        calls = (f"  - step: s{n}\n    call: o\n    with: {{rotor: rotor}}\n" for n in range(9))
        return part("".join(calls)).replace("steps:", f"parts: {{o: p{number + 1}.yaml}}\nsteps:")

    files = {f"parts/p{number}.yaml": level(number) for number in range(15)}
    files |= {MAIN: CALL.replace("parts/p.yaml", "parts/p0.yaml"), "parts/p15.yaml": part(TELL)}
    with pytest.raises(FileRefused, match="over 2000 steps in all"):
        load(files)
