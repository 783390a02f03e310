"""Fitting: whatever a table holds, no line is too long and nothing is lost."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.tables import columns as c
from barrowful.tables.formats import FORMATS
from barrowful.tables.layout import Layout
from barrowful.tables.report import LEAST_WIDTH, Look, Report, Table
from barrowful.tables.writers.widths import columns_of, wrapped

#: A letter of each sort: plain, wide, with a mark on it, joined to the one before.
LETTERS = ["a", "b", "Z", "0", "-", "é", "木", "葉", "한", "Ａ", "e\u0301", "\u1112\u1161"]
words = st.lists(st.sampled_from(LETTERS), min_size=1, max_size=14).map("".join)
long_words = st.lists(st.sampled_from(LETTERS), min_size=15, max_size=90).map("".join)
phrases = st.lists(st.one_of(words, words, words, long_words), min_size=1, max_size=12).map(" ".join)
texts = st.one_of(st.none(), st.just("same"), phrases)
figures = st.one_of(st.none(), st.just(0.0), st.floats(-99_999, 99_999))

WAY: c.Column[dict[str, Any]] = c.text("way", "way", "The way.", lambda row: row["way"])
MATERIAL: c.Column[dict[str, Any]] = c.text("material", "material", "Stuff.", lambda row: row["material"])
LOOSE: c.Column[dict[str, Any]] = c.number(
    "loose_m3", "loose volume", c.VOLUME, "How much.", lambda row: row["loose"]
)
HOURS: c.Column[dict[str, Any]] = c.number(
    "hours", "hours of work", c.HOURS, "How long.", lambda row: row["hours"]
)
REMARK: c.Column[dict[str, Any]] = c.text("remark", "remark", "Remarks.", lambda row: row["remark"])
WHY: c.Column[dict[str, Any]] = c.text("why_not", "why not", "Reasons.", lambda row: row["why"])
LAYOUT = Layout(
    name="ways",
    columns=(WAY, MATERIAL, LOOSE, HOURS, REMARK, WHY),
    identifies=("way",),
    noted=("remark", "why_not"),
    always_shown=("hours",),
    first_to_go=("loose_m3", "material"),
)
Read, Count = Callable[[str], Any], Callable[[str], int]
rows_of_anything = st.lists(
    st.fixed_dictionaries(
        {
            "way": phrases,
            "material": texts,
            "loose": figures,
            "hours": figures,
            "remark": texts,
            "why": texts,
        }
    ),
    max_size=7,
)


def bare(text: str) -> str:
    """Return text without its spaces: broken lines and broken words are whole again."""
    return text.replace(" ", "")


def written(table: Table, width: int) -> str:
    """Return the screen of one table."""
    return FORMATS["table"].write(Report("ways", "", "EUR", [table]), Look(width=width))


HEADINGS = {"way": "way", "material": "material", "loose_m3": "loose volume, m3", "hours": "hours of work, h"}


@draws(120)
@given(rows=rows_of_anything, width=st.integers(LEAST_WIDTH, 130))
def test_no_line_is_too_long_and_no_cell_is_lost(
    rows: list[dict[str, Any]], width: int, read: Read, columns_apart: Count
) -> None:
    """Any table on any screen: lines fit, columns line up, and each cell is in its column or said to be away."""
    table = LAYOUT.table(rows)
    text = written(table, width)
    assert text == written(table, width)
    assert all(columns_apart(line) <= width and line == line.rstrip(" ") for line in text.split("\n"))
    if not rows:
        assert text == "nothing to show\n"
        return
    screen, wide = read(text), read(written(table, 10_000))
    for key, heading in HEADINGS.items():
        name = heading.partition(",")[0]
        if heading in screen.headings:
            assert screen.column(heading) == wide.column(heading)
        elif heading in wide.headings:
            assert key not in {"way"}
            assert name in screen.under.partition("Left out for want of width: ")[2]
        else:
            kept = {row[key] for row in table.rows}
            assert kept == {None} or (f"{name} " in wide.under and len(kept) == 1)
    assert screen.bare_notes == wide.bare_notes


@draws(100)
@given(rows=rows_of_anything, width=st.integers(LEAST_WIDTH, 130))
def test_notes_are_numbered_from_one_without_gaps(rows: list[dict[str, Any]], width: int, read: Read) -> None:
    """Each different remark has one number, in order of appearance, and each row the numbers of its remarks."""
    if not rows:
        return
    screen = read(written(LAYOUT.table(rows), width))
    same = {key for key in ("remark", "why") if len(rows) > 1 and len({row[key] for row in rows}) == 1}
    said = [[row[key] for key in ("remark", "why") if row[key] and key not in same] for row in rows]
    order = list(dict.fromkeys(text for texts in said for text in texts))
    assert screen.bare_notes == {number: bare(text) for number, text in enumerate(order, 1)}
    numbers = [", ".join(str(order.index(text) + 1) for text in dict.fromkeys(texts)) for texts in said]
    assert ("note" in screen.headings) == any(numbers)
    if order:
        assert screen.column("note") == bare("".join(numbers))
    for key in same - {key for key in same if rows[0][key] is None}:
        assert bare(rows[0][key]) in bare(screen.under)


@draws(200)
@given(text=phrases, width=st.integers(24, 90))
def test_text_is_broken_at_spaces_only(text: str, width: int, columns_apart: Count) -> None:
    """Lines hold the words of a text in order, as many as go in, and only words longer than a line are parted."""
    lines = wrapped(text, width, rest="  ")
    assert all(columns_apart(line) <= width for line in lines)
    assert bare("".join(lines)) == bare(text)
    if all(columns_apart(word) <= width - 2 for word in text.split()):
        assert [word for line in lines for word in line.split()] == text.split()
        for line, after in pairwise(lines):
            assert columns_apart(line) + 1 + columns_apart(after.split()[0]) > width


@given(text=phrases)
def test_display_width(text: str, columns_apart: Count) -> None:
    """Wide letters count two, marks none."""
    assert columns_of(text) == columns_apart(text)


#: What is one letter to the eye: with a sign that makes it a picture, joined pictures, a flag, two marks.
LETTERS_OF_MANY = [
    "\u2764\ufe0f",
    "\U0001f469\u200d\U0001f33e",
    "\U0001f1e8\U0001f1ed",
    "\U0001f44d\U0001f3fd",
    "o\u0302\u0323",
]


@given(letters=st.lists(st.sampled_from([*LETTERS_OF_MANY, "a", "木"]), min_size=1, max_size=60))
def test_a_letter_of_many_signs_is_not_parted(letters: list[str]) -> None:
    """Where a word must be broken it breaks between letters, each with all its signs."""
    lines = wrapped("".join(letters), 24)
    assert "".join(lines) == "".join(letters)
    assert all(columns_of(line) <= 24 for line in lines)
    ends = [0]
    for letter in letters:
        ends.append(ends[-1] + len(letter))
    at = 0
    for line in lines:
        at += len(line)
        assert at in ends


def numbered(count: int, **more: Any) -> Layout[int]:
    """Return a layout of many columns of numbers, so that a screen has no room for all."""
    columns = [
        c.number(f"k{place}", f"figure {place}", c.as_is("kg", 0), "A figure.", lambda row, p=place: row + p)  # type: ignore[misc]
        for place in range(count)
    ]
    name: c.Column[int] = c.text("name", "name", "The name.", lambda row: f"row {row}")
    return Layout(name="many", columns=(name, *columns), identifies=("name",), **more)


def test_the_least_important_columns_go_first(read: Read) -> None:
    """Those declared go first, in their order; then others from the right, those always shown last."""

    def left_out(layout: Layout[int], width: int) -> list[str]:
        under: str = read(written(layout.table([1, 20_000_000]), width)).under
        assert under.endswith("; --format plain shows every column.")
        return under.removeprefix("Left out for want of width: ").partition(";")[0].split(", ")

    assert left_out(numbered(9), 92) == ["figure 7", "figure 8"]
    assert left_out(numbered(9, first_to_go=("k0", "k4")), 92) == ["figure 0", "figure 4"]
    assert left_out(numbered(9, always_shown=("k8",)), 92) == ["figure 6", "figure 7"]
    many = numbered(12, always_shown=tuple(f"k{place}" for place in range(12)))
    assert left_out(many, 68) == [f"figure {place}" for place in range(5, 12)]


def test_what_every_row_shares_is_said_once(read: Read) -> None:
    """A column of one value goes, with its unit said; not what identifies, is always shown, or is alone."""
    row = {"way": "yard", "material": "compost", "loose": 2.5, "hours": 1.0, "remark": None, "why": None}
    twice = read(written(LAYOUT.table([row, row]), 200))
    assert twice.under == "In every row: material compost; loose volume 2.50 m3."
    assert twice.headings == ["way", "hours of work, h"]
    once = read(written(LAYOUT.table([row]), 200))
    assert (once.under, len(once.headings)) == ("", 4)
    apart = read(written(LAYOUT.table([row, {**row, "material": None}]), 200))
    assert apart.under == "In every row: loose volume 2.50 m3."


def test_a_table_of_equal_rows_keeps_its_columns() -> None:
    """Where no column would be left, all stay."""
    alike = Layout(name="alike", columns=(MATERIAL, WAY), identifies=("way",), shown=("material",))
    row = {"way": "yard", "material": "compost"}
    assert written(alike.table([row, row]), 80) == "material\n--------\ncompost\ncompost\n"


@pytest.mark.parametrize(
    "more",
    [
        {"noted": ("hours",)},
        {"noted": ("rmark",)},
        {"first_to_go": ("way",)},
        {"noted": ("remark",), "first_to_go": ("remark",)},
        {"always_shown": ("huors",)},
    ],
)
def test_what_a_screen_cannot_do_is_refused(more: dict[str, Any]) -> None:
    """Only text is noted, what identifies or is noted does not go, and all keys are of the table."""
    with pytest.raises(ValueError, match="ways: "):
        Layout(name="ways", columns=LAYOUT.columns, identifies=("way",), **more)
