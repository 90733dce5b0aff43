"""A journal against the root that was kept of it."""

from __future__ import annotations

import pytest

from assistant.journal.kept_root import check_root, covered, kept_prefix
from assistant.journal.root_words import words_of
from assistant.journal.tree import root

LINES = [f"line {number}\n".encode() for number in range(1, 14)]


def kept(count: int) -> str:
    """The root of the first lines."""
    return root(line[:-1] for line in LINES[:count])


@pytest.mark.parametrize("count", range(1, len(LINES) + 1))
def test_the_root_in_any_form_fits_its_journal(count: int) -> None:
    full = kept(count)
    words = words_of(full)
    for form in (full, full[:16].upper(), " ".join(words), ", ".join(words).title()):
        assert check_root(LINES[:count], kept_prefix(form)) == []


@pytest.mark.parametrize("count", range(1, len(LINES)))
def test_lines_written_afterwards_are_named(count: int) -> None:
    (problem,) = check_root(LINES, kept(count))
    assert problem.line == count + 1
    assert f"lines 1 to {count}:" in problem.what
    assert covered(LINES, kept(count)) == count
    assert covered(LINES[: count - 1], kept(count)) == 0


@pytest.mark.parametrize("count", range(len(LINES)))
def test_a_cut_end_is_named(count: int) -> None:
    (problem,) = check_root(LINES[:count], kept(len(LINES)))
    assert problem.line == max(count, 1)
    assert "cut from the end" in problem.what


@pytest.mark.parametrize("changed", range(len(LINES)))
def test_one_line_changed_is_found_wherever_it_stands(changed: int) -> None:
    lines = [*LINES[:changed], b"another\n", *LINES[changed + 1 :]]
    words = kept_prefix(" ".join(words_of(kept(len(LINES)))))
    assert [problem.line for problem in check_root(lines, words)] == [len(LINES)]


def test_a_torn_last_line_is_no_part_of_the_root() -> None:
    assert check_root([*LINES, b"torn"], kept(len(LINES))) == []


@pytest.mark.parametrize(
    "text",
    ["", "acorn", "acorn album anchor", "0123456789abcde", "f" * 65, "acorn acorn acorn open"],
)
def test_what_is_no_root_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="root"):
        kept_prefix(text)
