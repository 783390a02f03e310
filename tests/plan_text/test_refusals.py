"""What is refused as a plan, and that a refusal leaves the folder as it was."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.measures.problems import SiteProblems, WrongUse
from barrowful.site.load import load
from barrowful.sitefile.text.nodes import parse
from barrowful.sitefile.text.plan import with_plan

Write = Callable[..., Any]
LINE = {"place": "beds", "need": "cover", "way": "yard"}


def untouched(found: Any, code: int, says: str) -> None:
    """Hold that nothing was written and a reason was given."""
    assert (found.code, found.after, found.beside) == (code, found.before, []), found.said
    assert says in found.said


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"place": "bedz"}, '"bedz"'),
        ({"way": "yrad"}, 'did you mean "yard"'),
        ({"need": "feed"}, 'beds has no need "feed"'),
        ({"need": "covr"}, 'did you mean "cover"'),
        ({"amount": "3"}, "plan"),
        ({"amount": "3 h"}, "plan"),
        ({"date": "2027-02-30"}, "2027-02-30"),
        ({"date": "2026-01-01"}, "before start"),
        ({"colour": "blue"}, '"colour" is not a key here'),
        ({"way": "yard\nbeds"}, "line end"),
        ({"way": "a\x07b"}, "control character"),
        ({"way": "x" * 2_001}, "longer than 2000 letters"),
        ({"way": ""}, "plan"),
    ],
)
@pytest.mark.parametrize("text", ["", "plan: []\n", "plan:\n  - {place: beds, need: dress, way: yard}\n"])
def test_a_line_that_cannot_be(write: Write, head: str, change: dict[str, str], says: str, text: str) -> None:
    """A line for what is not there, or of what cannot be, is wrong use, in the words of the site file."""
    found = write(head + text, [LINE, LINE | change])
    untouched(found, 2, says)
    assert "cannot be written" in found.said or "line end" in found.said


@pytest.mark.parametrize(
    "broken",
    [
        "site: Field\n",
        "colour: blue\n",
        "horizon: 4\n",
        "history: soon\n",
        "plan: []\nplan: []\n",
        "limits: *x\n",
    ],
)
def test_a_file_with_problems(write: Write, head: str, broken: str) -> None:
    """A file with problems gets no plan; the problems are listed, not one of the plan."""
    found = write(head + broken)
    assert (found.code, found.after, found.beside) == (1, found.before, [])
    assert broken.split(":")[0] in found.said or "alias" in found.said


def test_a_plan_that_no_longer_fits_gives_way(write: Write, head: str) -> None:
    """A plan for a place or a way that is not there any more is no hindrance to a better one."""
    text = head + "plan:\n  - {place: gone, need: cover, way: gone too}\n"
    with pytest.raises(SiteProblems):
        load(text.encode(), "field.yaml")
    assert write(text).code == 0


@pytest.mark.parametrize("shape", ["soon", "{place: beds}", "'[]'"])
def test_a_plan_that_is_no_list(write: Write, head: str, shape: str) -> None:
    """A plan that is no list may be something else: it is not written over."""
    untouched(write(f"{head}plan: {shape}\n"), 2, '"plan" in the site file is not a list')


#: Sound but for the plan: shapes that are not known.
UNKNOWN = {
    "a key without its colon": ("? plan\n", 'take "plan:"'),
    "a text whose last line has no end": ("hemisphere: |\n  north", 'the line "plan: []"'),
}


@pytest.mark.parametrize(("text", "says"), UNKNOWN.values(), ids=UNKNOWN)
def test_an_odd_file_is_left_alone(write: Write, head: str, text: str, says: str) -> None:
    """Where a plan cannot be written, the reason says what to do by hand, and nothing is written."""
    untouched(write(head + text), 2, says)


@pytest.mark.parametrize("text", [b"{}", b"{ } # none\n"])
def test_an_empty_section(text: bytes) -> None:
    """Even a file of nothing gets a sentence."""
    with pytest.raises(WrongUse, match="by hand"):
        with_plan(text, parse(text, "x"), [LINE])


def test_a_file_that_changed_meanwhile(write: Write, head: str) -> None:
    """A plan for another file than is there now is not written; other comments or layout make no other file."""
    made_for = parse(head.encode(), "field.yaml")
    changed = head.replace("40 EUR/m3", "60 EUR/m3")
    untouched(write(changed, made_for=made_for), 5, "was changed while the plan was worked out")
    untouched(write(head + "plan: []\n", made_for=made_for), 5, "run the command again")
    assert write(head.replace("Kept by hand", "Kept with care"), made_for=made_for).code == 0


def test_too_many_lines(write: Write, head: str) -> None:
    """More lines than a plan may have are refused as the file would be."""
    found = write(head, [LINE] * 5_001)
    untouched(found, 2, "at most 5,000")


def test_many_lines_are_written_in_one_go(write: Write, head: str) -> None:
    """As many as a plan may have are written, and replaced."""
    assert len(write(head, [LINE] * 5_000).site.plan) == 5_000
    assert write(None, [LINE]).after.decode() == head + "plan:\n  - {place: beds, need: cover, way: yard}\n"
