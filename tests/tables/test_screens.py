"""Screens: what people read, on screens of several widths, of a small report and of the demo sites."""

from __future__ import annotations

import fcntl
import json
import os
import re
import struct
import subprocess
import sys
import termios
import threading
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from click.testing import CliRunner

import barrowful
from barrowful.cli.main import exit_code
from barrowful.tables import columns as c
from barrowful.tables.formats import FORMATS
from barrowful.tables.layout import Layout
from barrowful.tables.report import Look, Note, Report
from barrowful.tables.writers.markdown import escaped

SOURCE = Path(barrowful.__file__).parents[1]
DEMO = Path(__file__).parents[2] / "demo"
DEMOS = sorted(path.name for path in DEMO.glob("*.yaml"))
#: The demo that is answered soonest, for what has to be asked of a new process.
SMALLEST = "odd-bucket-yard.yaml"

ROWS = [
    {"way": "yard compost", "loose": 3.5, "hours": 4.0, "cash": 214, "sort": "soft", "remark": None},
    {"way": "lane chip", "loose": 8.0, "hours": 4.4, "cash": 80, "sort": "soft", "remark": "comes late"},
    {
        "way": "木の葉 leaves of the lane and the park",
        "loose": None,
        "hours": 8.4,
        "cash": 0,
        "sort": "soft",
        "remark": "brings 6.38 m3, 3.97 m3 short by 2031-03-01, and rots faster than it comes",
    },
    {"way": "barn", "loose": 1.25, "hours": 1234.0, "cash": 12, "sort": "soft", "remark": "comes late"},
]
Row = dict[str, Any]
WAY: c.Column[Row] = c.text("way", "way", "The way.", lambda row: row["way"])
LAYOUT: Layout[Row] = Layout(
    name="ways",
    title="Ways side by side",
    columns=(
        WAY,
        c.text("sort", "sort of stuff", "The sort.", lambda row: row["sort"]),
        c.number("loose_m3", "loose to bring", c.VOLUME, "How much.", lambda row: row["loose"]),
        c.number("hours", "hours of work", c.HOURS, "How long.", lambda row: row["hours"]),
        c.number("cash_m3", "cash for each", c.VOLUME, "How dear.", lambda row: row["cash"]),
        c.text("why_not", "why not", "Empty.", lambda row: None),
        c.text("remark", "remark", "Remarks.", lambda row: row["remark"]),
    ),
    identifies=("way",),
    noted=("remark",),
    first_to_go=("cash_m3",),
)
REPORT = Report(
    command="ways",
    site="Field",
    currency="EUR",
    tables=[LAYOUT.table(ROWS)],
    sentences=[
        "The chip is cheapest.",
        "All is ready on the first of March, which is early enough for every bed.",
    ],
    cautions=[
        Note(
            "dust",
            5,
            "Damp it down before you move it, and wash your hands when you are done.",
            "x",
            ("yard",),
        )
    ],
    answer=(
        "The chip is cheapest.",
        "Order 8 m3 of it in January, before the tree crew's year is full up again.",
    ),
)

WIDE = """\
The chip is cheapest.
Order 8 m3 of it in January, before the tree crew's year is full up again.

Ways side by side
way                                     loose to bring, m3  hours of work, h  cash for each, m3  note
--------------------------------------  ------------------  ----------------  -----------------  ----
yard compost                                          3.50               4.0             214.00
lane chip                                             8.00               4.4              80.00  1
木の葉 leaves of the lane and the park                                   8.4               0.00  2
barn                                                  1.25           1,234.0              12.00  1

1  comes late
2  brings 6.38 m3, 3.97 m3 short by 2031-03-01, and rots faster than it comes
In every row: sort of stuff soft.

All is ready on the first of March, which is early enough for every bed.
Local rules, the maker's instructions and licensed people come before these cautions.
Caution (yard): Damp it down before you move it, and wash your hands when you are done.
"""

NARROW = """\
The chip is cheapest.
Order 8 m3 of it in January, before the tree crew's year is
  full up again.

Ways side by side
                           loose to    hours
                             bring,       of  cash for
way                              m3  work, h  each, m3  note
-------------------------  --------  -------  --------  ----
yard compost                   3.50      4.0    214.00
lane chip                      8.00      4.4     80.00  1
木の葉 leaves of the lane                8.4      0.00  2
and the park
barn                           1.25  1,234.0     12.00  1

1  comes late
2  brings 6.38 m3, 3.97 m3 short by 2031-03-01, and rots
   faster than it comes
In every row: sort of stuff soft.

All is ready on the first of March, which is early enough
  for every bed.
Local rules, the maker's instructions and licensed people
  come before these cautions.
Caution (yard): Damp it down before you move it, and wash
  your hands when you are done.
"""


def test_a_wide_screen() -> None:
    """Answer first, table, notes by number, what every row shares, then what the answer did not say."""
    assert FORMATS["table"].write(REPORT, Look(width=110)) == WIDE


def test_a_narrow_screen() -> None:
    """Headings break, then texts, and only then a column is left out; wide letters keep the columns in line."""
    assert FORMATS["table"].write(REPORT, Look(width=60)) == NARROW


def test_json_says_the_answer_first_and_once() -> None:
    """The lines of the answer stand before the other sentences, and none twice; nothing is broken."""
    answer = json.loads(FORMATS["json"].write(REPORT, Look()))
    assert answer["sentences"] == [*REPORT.answer, REPORT.sentences[1]]


def test_markdown_says_the_answer_first() -> None:
    """The answer is a list above the tables, whose lines are as long as they are."""
    text = FORMATS["markdown"].write(REPORT, Look(width=60))
    assert text.startswith(f"- {REPORT.answer[0]}\n- {REPORT.answer[1]}\n\n## Ways side by side\n\n| way |")
    assert text.count("The chip is cheapest.") == 1
    assert "rots faster than it comes |" in text
    assert max(map(len, text.splitlines())) > 100


def test_a_name_is_no_link_in_markdown() -> None:
    """What reads as a link is text, as every other sign that means something to markdown."""
    assert escaped("[chip](https://example.org) [a]") == "[chip]\\(https://example.org) [a]"


@pytest.mark.parametrize("form", ["plain", "csv", "tsv", "json", "markdown"])
def test_only_screens_are_fitted(form: str) -> None:
    """Every other format is the same whatever the width; rows for machines carry no answer."""
    text = FORMATS[form].write(REPORT, Look(width=60))
    assert text == FORMATS[form].write(REPORT, Look(width=300))
    assert (REPORT.answer[1] in text) == (form in {"json", "markdown"})
    assert "rots faster than it comes" in text


def test_control_letters_stay_out_of_the_answer() -> None:
    """What a terminal might obey is a space, in the answer too."""
    report = Report("ways", "", "EUR", [], answer=("Chip\x1b[2J it is.",))
    assert FORMATS["table"].write(report, Look()) == "Chip [2J it is.\n"
    assert FORMATS["markdown"].write(report, Look()) == "- Chip [2J it is.\n"


@pytest.mark.parametrize("sign", ["\n", "\r", "\x0b", "\x1c", "\x85", "\u2028", "\u2029", "\x01"])
def test_no_cell_ends_a_line(sign: str) -> None:
    """A sign that ends lines, or stands for a rule, is a space in a cell, so that rows stay in line."""
    rows = [{"way": f"yard{sign}heap", "hours": 4.0}, {"way": sign, "hours": 5.0}]
    table = LAYOUT.table([{**dict.fromkeys(ROWS[0]), **row} for row in rows])
    text = FORMATS["table"].write(Report("ways", "", "EUR", [table]), Look())
    assert text.splitlines()[1:] == [
        "way        hours of work, h",
        "---------  ----------------",
        "yard heap               4.0",
        "                        5.0",
    ]


def said_of(site: str, width: int, measures: str, form: str = "table") -> str:
    """Return what `options` says about a demo site on a screen of a width."""
    words = ("options", str(DEMO / site), "--measures", measures, "--format", form)
    with CliRunner().isolation(env={"COLUMNS": str(width)}) as (out, _, _):
        assert exit_code(list(words)) == 0
        sys.stdout.flush()
        return out.getvalue().decode("utf-8")


#: The same, kept for whoever asks again.
screen_of = cache(said_of)


@pytest.mark.parametrize("site", DEMOS)
def test_a_screen_is_the_same_again(site: str) -> None:
    """Asked twice in one process, the answer is the same."""
    assert said_of(site, 80, "metric") == screen_of(site, 80, "metric")


class Whole(NamedTuple):
    """A table as markdown has it: untouched."""

    title: str
    headings: list[str]
    rows: list[list[str]]


def wholes(text: str) -> list[Whole]:
    """Return the tables of a markdown text."""
    tables, title = [], ""
    for block in text.split("\n\n"):
        if block.startswith("## "):
            title = block.removeprefix("## ")
        elif block.startswith("| "):
            lines = [re.sub(r"^\| | \|$", "", line).split(" | ") for line in block.splitlines()]
            cells = [[re.sub(r"\\(.)", r"\1", cell.strip()) for cell in line] for line in lines]
            tables.append(with_units(Whole(title, cells[0], cells[2:])))
    return tables


def with_units(table: Whole) -> Whole:
    """Return a table with what is ordered and its unit in one column, as a screen has it."""
    if "unit" not in table.headings:
        return table
    order, unit = table.headings.index("first order"), table.headings.index("unit")
    for row in table.rows:
        row[order] += row.pop(unit)
    return Whole(table.title, [name for name in table.headings if name != "unit"], table.rows)


def screens(text: str, titles: list[str]) -> list[str]:
    """Return each table of a screen with what stands under it, without its title."""
    found: list[str] = []
    for block in text.removesuffix("\n").split("\n\n"):
        if re.search(r"^-+(  -+)*$", block, re.MULTILINE):
            title = f"{titles[len(found)]}\n" if titles[len(found)] else ""
            assert block.startswith(title)
            found.append(block.removeprefix(title))
        elif re.match(r" *1  |In every row: |Left out ", block):
            found[-1] += f"\n\n{block}"
    return found


@pytest.mark.parametrize("measures", ["metric", "customary"])
@pytest.mark.parametrize("width", [80, 100, 120])
@pytest.mark.parametrize("site", DEMOS)
def test_the_options_of_the_demo_sites(
    site: str, width: int, measures: str, read: Callable[[str], Any], columns_apart: Callable[[str], int]
) -> None:
    """No line is too long, and every cell is in its column, a note, said of every row, or named as left out."""
    text = screen_of(site, width, measures)
    assert max(map(columns_apart, text.splitlines())) <= width
    tables = wholes(screen_of(site, 100, measures, "markdown"))
    shown = [read(part) for part in screens(text, [table.title for table in tables])]
    assert len(shown) == len(tables)
    assert len(tables) >= 2
    for table, screen in zip(tables, shown, strict=True):
        shared, _, missing = screen.under.partition("Left out for want of width: ")
        for heading, cells in zip(table.headings, zip(*table.rows, strict=True), strict=True):
            name = heading.partition(",")[0]
            if heading in screen.headings:
                assert screen.column(heading) == "".join(cells).replace(" ", "")
            elif name in {"remark", "why not"} and "note" in screen.headings:
                noted = dict.fromkeys(cell.replace(" ", "") for cell in cells if cell)
                assert list(noted) == list(screen.bare_notes.values())
            elif len(set(cells)) == 1 and len(cells) > 1:
                assert f"{name} {cells[0]}" in shared
            else:
                assert name in re.split("[,;] ?", missing)


@pytest.mark.parametrize(
    ("typed", "width"), [("80", 80), ("132", 132), ("20", 60), ("", 100), ("no", 100), ("0", 100)]
)
def test_columns_says_how_wide(typed: str, width: int, tmp_path: Path) -> None:
    """COLUMNS counts for pipes and files alike; without a width that can be, 100 columns; never under 60."""
    site, file = str(DEMO / SMALLEST), tmp_path / "options.txt"
    usual = screen_of(SMALLEST, width, "metric")
    assert usual != screen_of(SMALLEST, width + 10, "metric")
    words = ("options", site, "-o", str(file))
    with CliRunner().isolation(env={"COLUMNS": typed}):
        assert exit_code(list(words)) == 0
    assert file.read_text(encoding="utf-8") == usual
    with CliRunner().isolation(env={"COLUMNS": typed}) as (out, _, _):
        assert exit_code(["options", site]) == 0
        sys.stdout.flush()
        assert out.getvalue().decode("utf-8") == usual


@pytest.mark.parametrize(("columns", "width"), [(72, 72), (30, 60), (0, 100)])
def test_a_terminal_says_how_wide(columns: int, width: int, tmp_path: Path) -> None:
    """On a terminal its own width counts, for what is shown there and not for files."""
    site, file = str(DEMO / SMALLEST), tmp_path / "options.txt"
    master, slave = os.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 40, columns, 0, 0))
    environment = {**os.environ, "PYTHONPATH": str(SOURCE)}
    environment.pop("COLUMNS", None)
    command = [sys.executable, "-m", "barrowful", "options", site]
    with open(master, "rb", buffering=0) as screen:
        read: list[bytes] = []
        reader = threading.Thread(target=lambda: read.extend(pieces(screen)))
        reader.start()
        done = subprocess.run(command, env=environment, stdout=slave, stderr=subprocess.PIPE, check=True)
        aside = subprocess.run(
            [*command, "-o", str(file)], env=environment, stdout=slave, stderr=subprocess.PIPE, check=True
        )
        os.close(slave)
        reader.join()
    assert done.stderr == aside.stderr
    assert b"".join(read).replace(b"\r\n", b"\n").decode("utf-8") == screen_of(SMALLEST, width, "metric")
    assert file.read_text(encoding="utf-8") == screen_of(SMALLEST, 100, "metric")


def pieces(screen: Any) -> Iterator[bytes]:
    """Give what comes from a terminal until its other end is closed."""
    try:
        while piece := screen.read(65_536):
            yield piece
    except OSError:
        return
