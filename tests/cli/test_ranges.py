"""Ranges from outside: the same bytes for the same seed, and what is asked wrongly."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import barrowful
from barrowful.tables.report import Look
from barrowful.tables.writers.fitting import fitted
from barrowful.tables.writers.sheet import sheet_of

Call = Callable[..., Any]
DEMO = Path(__file__).parents[2] / "demo"


def test_the_same_file_and_seed_give_the_same_bytes(ask: Call) -> None:
    """Asked twice the answer is the same to the byte; with another seed it is another."""
    path = DEMO / "odd-bucket-yard.yaml"
    words = ("options", path, "--ranges", "--draws", "150", "--format", "json")
    first, again, other = ask(*words), ask(*words, "--seed", "1"), ask(*words, "--seed", "2")
    assert first.out == again.out != other.out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--draws", "200"), "--draws and --seed go with --ranges"),
        (("--ranges", "--draws", "5"), "100<=x<=100000"),
        (("--ranges", "--seed", "-1"), "0<=x<=4294967295"),
        (("--table", "drivers"), 'the table "drivers" is there with --ranges'),
    ],
)
def test_what_is_asked_wrongly_is_refused(words: tuple[str, ...], says: str, ask: Call) -> None:
    """Each is refused with exit code 2 and what would be right."""
    done = ask("options", *words)
    assert (done.code, done.out) == (2, b"")
    assert says in done.err


def test_without_numpy_it_says_what_to_install(tmp_path: Path) -> None:
    """Where numpy is missing there is one line with what installs it, and exit code 2."""
    (tmp_path / "numpy.py").write_text("raise ImportError('none here')\n", "utf-8")
    source = Path(barrowful.__file__).parents[1]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(tmp_path), str(source)])}
    command = [sys.executable, "-m", "barrowful", "sizes", str(DEMO / "odd-bucket-yard.yaml"), "--ranges"]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr == "barrowful: ranges need numpy: pip install 'barrowful[full]'\n"


@pytest.mark.parametrize("command", ["options", "sizes", "orders", "course"])
def test_both_ends_stand_or_neither(command: str) -> None:
    """However narrow the screen is, no cell has one end of its range beside it and not the other."""
    site = barrowful.load(DEMO / "crooked-ladle-orchard.yaml")
    report = getattr(barrowful, command)(site, ranges=True, draws=100)
    stood = set()
    for width in range(60, 160, 4):
        for table in report.tables:
            if not table.rows or not table.for_people:
                continue
            sheet = sheet_of(table, report, Look("metric", width=width))
            shown = {column.key for column in fitted(sheet.columns, table, width).columns}
            low, high = ({key[:-3] for key in shown if key.endswith(end)} for end in ("_10", "_90"))
            assert low == high, (table.name, width)
            stood |= low
    assert stood
