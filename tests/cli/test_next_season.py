"""``begin --from``: what it refuses, and that no file but the new one is touched."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
Contents = Callable[[Path], dict[str, bytes | None]]
ENTRY = "history: [{date: 2027-10-02, place: beds, way: yard, amount: 300 L}]\n"


@pytest.fixture
def grown(small: Path) -> Path:
    """Give a small site with an entry in its history."""
    small.write_text(small.read_text(encoding="utf-8") + ENTRY, encoding="utf-8")
    return small


def test_the_old_file_stays(call: Call, grown: Path, tmp_path: Path, contents: Contents) -> None:
    """A file is written beside the old one, or the same text comes to standard output."""
    before = grown.read_bytes()
    new = tmp_path / "next.yaml"
    done = call("begin", "--from", grown, "--start", "2028-03-01", "-o", new)
    assert (done.code, done.out) == (0, b"")
    assert "is as it was" in done.err
    assert contents(tmp_path) == {"small.yaml": before, "next.yaml": new.read_bytes()}
    assert new.read_bytes() == before.replace(b"start: 2027-03-01", b"start: 2028-03-01")
    assert call("begin", "--from", grown, "--start", "2028-03-01").out == new.read_bytes()


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["--start", "2028-03-01"], 2, "--from"),
        (["--from", "FILE"], 2, "--start 2028-03-01"),
        (["--from", "FILE", "--start", "2027-03-01"], 2, "give a later day, such as 2028-03-01"),
        (["--from", "FILE", "--start", "2026-03-01"], 2, "give a later day"),
        (["--from", "FILE", "--start", "2027-10-01"], 2, "of 2027-10-02; give that day or a later one"),
        (["--from", "FILE", "--start", "1.3.2028"], 2, "2027-03-01"),
        (
            ["--from", "FILE", "--start", "9999-12-31"],
            2,
            '--start: "9999-12-31" is not between 1900 and 2200',
        ),
        (
            ["--from", "FILE", "--start", "9950-01-01"],
            2,
            '--start: "9950-01-01" is not between 1900 and 2200',
        ),
        (["--from", "FILE", "--start", "2028-03-01", "-o", "FILE"], 5, "a file of its own"),
        (["--from", "FILE", "--start", "2028-03-01", "-o", "FOLDER"], 5, "a file of its own"),
        (["--from", "FILE", "--start", "2028-03-01", "-o", "FILE", "--force"], 5, "a file of its own"),
        (["--from", "NONE", "--start", "2028-03-01"], 5, "cannot read"),
        (["--from", "FILE", "--start", "2028-03-01", "-o", "FILE.bak"], 2, "kept as it was"),
    ],
)
def test_what_is_refused(
    call: Call, grown: Path, tmp_path: Path, contents: Contents, words: list[str], code: int, says: str
) -> None:
    """A day that cannot be, a file that is there, half a request: refused, with the right form, and all stays."""
    named = {
        "FILE": str(grown),
        "FOLDER": str(tmp_path),
        "NONE": str(tmp_path / "none"),
        "FILE.bak": f"{grown}.bak",
    }
    before = contents(tmp_path)
    done = call("begin", *(named.get(word, word) for word in words))
    assert (done.code, done.out) == (code, b"")
    assert says in done.err
    assert contents(tmp_path) == before


def test_a_file_with_problems(call: Call, grown: Path, tmp_path: Path) -> None:
    """The next season is not begun from a file with problems; they are listed."""
    grown.write_text(grown.read_text(encoding="utf-8").replace("5 cm", "5"), encoding="utf-8")
    done = call("begin", "--from", grown, "--start", "2028-03-01", "-o", tmp_path / "next.yaml")
    assert done.code == 1
    assert "5" in done.err
    assert not (tmp_path / "next.yaml").exists()


def test_what_is_done_is_planned_again_and_that_is_told(call: Call, grown: Path) -> None:
    """In the middle of a season orders and options say that they plan it whole, and what tells what is left."""
    says = 'once more what your history has done since, to 2027-10-02: "barrowful season --today DAY" tells'
    for command in ("orders", "options"):
        assert says in " ".join(call(command, grown).text.split())
    grown.write_text(grown.read_text(encoding="utf-8").replace("2027-10-02", "2027-02-02"), encoding="utf-8")
    for command in ("orders", "options"):
        assert "once more" not in call(command, grown).text


def test_a_start_among_the_entries(call: Call, grown: Path) -> None:
    """A season begins after its last entry; what is left to do before is told by another command."""
    done = call("begin", "--from", grown, "--start", "2027-10-01")
    assert '"barrowful season --today DAY" tells' in done.err


PLANNED = """
plan:
  - {place: beds, need: cover, way: yard, amount: 300 L, date: 2028-02-20}
"""


@pytest.mark.parametrize(
    ("history", "start", "line"),
    [
        ("", "2028-03-01", "{place: beds, need: cover, way: yard, amount: 300 L, date: 2028-03-01}"),
        ("100 L", "2028-03-01", "{place: beds, need: cover, way: yard, amount: 0.2 m3, date: 2028-03-01}"),
        ("300 L", "2028-03-01", ""),
        ("", "2029-03-01", ""),
    ],
)
def test_what_may_still_be_done_of_a_plan_stays(
    call: Call, small: Path, history: str, start: str, line: str
) -> None:
    """A line of some days before the new start is not lost: what is left of it goes on, and that is told.

    What is done goes, and what no longer does.
    """
    entry = f"history: [{{date: 2028-02-25, place: beds, way: yard, amount: {history}}}]\n" if history else ""
    small.write_text(small.read_text(encoding="utf-8") + PLANNED + entry, encoding="utf-8")
    done = call("begin", "--from", small, "--start", start)
    assert done.code == 0
    assert (line in done.out.decode()) if line else "way: yard, amount: 300 L, date" not in done.out.decode()
    told = (
        "plan: cover beds by yard: still to be done, as your history does not have it; it stays in your plan"
    )
    assert (told in " ".join(done.err.split())) == bool(line)
