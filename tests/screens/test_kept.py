"""Every screen as it is kept, and what holds of all: they fit, say the answer first, and keep to the measures."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from difflib import unified_diff

import pytest
import screens
from click.testing import CliRunner

from barrowful.cli.main import exit_code
from barrowful.tables.report import Look, Report
from barrowful.tables.writers.fitting import fitted
from barrowful.tables.writers.sheet import sheet_of
from barrowful.tables.writers.widths import columns_of

KEPT = [(demo, view) for demo in (*screens.DEMOS, screens.HEDGE) for view in screens.kept_views(demo)]
OTHERS = [(demo, view) for demo in screens.DEMOS for view in screens.other_views(demo)]
RULE = re.compile(r"-+(  -+)*")
METRIC = r"m3|m2|kg|g|t|cm|mm|m|km|L|ha|degC|kg/m2|g/m2|kg/m3"
#: A metric amount; a price or dose for each of a unit, as a file has it, is none.
METRIC_AMOUNT = re.compile(rf"\d ({METRIC})\b(?!/)")
#: An order in the seller's own unit, which stays.
ORDERED = re.compile(r"\d[\d.,]* (m3|kg|t)(?=, order by | of )")
#: Commands that quote what is written somewhere: the file, the catalogue, an example of a key.
QUOTED = {"figures", "explain", "check"}
#: Columns of prose, which goes on over lines on every screen.
PROSE = {"ask"}


def blocks(text: str) -> Iterator[tuple[list[str], list[str]]]:
    """Yield the parts of a screen: the lines above a first rule where there is one, and the others."""
    for part in text.removesuffix("\n").split("\n\n"):
        lines = part.split("\n")
        at = next((place for place, line in enumerate(lines) if RULE.fullmatch(line)), None)
        yield ([], lines) if at is None else (lines[:at], [])


def hold_text(width: int, text: str) -> None:
    """Hold a text to its width, and to no colour."""
    assert max(map(columns_of, text.split("\n"))) <= width
    assert "\x1b" not in text


def hold_customary(text: str) -> None:
    """Hold a customary screen to having nothing metric but what is the seller's."""
    for headings, lines in blocks(text):
        assert not [line for line in headings if re.search(rf", ({METRIC})(?=  |$)", line)]
        told = ORDERED.sub("", " ".join(line.strip() for line in lines))
        assert not METRIC_AMOUNT.search(told), told


def hold(report: Report, width: int, measures: str, text: str) -> None:
    """Hold a screen of a report to what every one is held to."""
    hold_text(width, text)
    first = " ".join(line.strip() for line in text.split("\n\n")[0].split("\n"))
    assert report.answer
    assert first.startswith(report.answer[0])
    if measures == "customary":
        hold_customary(text)
    if width >= 100:
        for table in report.tables:
            if table.rows and table.for_people:
                sheet = sheet_of(table, report, Look(measures, width=width))
                fitting = fitted(sheet.columns, table, width)
                broken = [
                    column.key
                    for column, wide in zip(fitting.columns, fitting.widths, strict=True)
                    if wide < column.widest_name
                ]
                assert set(broken) <= PROSE, (table.name, broken)


@pytest.mark.parametrize(("demo", "view"), KEPT)
def test_a_screen_is_as_it_is_kept(demo: str, view: str) -> None:
    """What changed is shown; screens that are meant to change are taken anew."""
    made = list(screens.reports(demo, screens.kept_views(demo)[view]))
    for measures, report in made:
        for width in screens.WIDTHS:
            hold(report, width, measures, screens.look(report, width, measures))
    hold_to_kept(demo, view, screens.text_of(view, made))


def hold_to_kept(demo: str, view: str, new: str) -> None:
    """Hold a text to the one that is kept, and show what differs."""
    old = screens.file_of(demo, view).read_text("utf-8")
    lines = unified_diff(old.split("\n"), new.split("\n"), "kept", "now", lineterm="", n=2)
    difference = "\n".join(lines)
    assert not difference, f"{difference}\n\nIf this is meant: python tests/screens/retake.py"


@pytest.mark.parametrize("view", screens.COMMANDS)
def test_what_a_command_shows_is_as_it_is_kept(view: str) -> None:
    """Blends, figures, keys, problems and drawings fit a terminal too, in both measures."""
    for width in screens.WIDTHS:
        for measures in screens.MEASURES:
            hold_text(width, screens.typed(view, width, measures))
        if view not in QUOTED:
            hold_customary(screens.typed(view, width, "customary"))
    hold_to_kept("commands", view, screens.typed_text(view))


@pytest.mark.parametrize(("demo", "view"), OTHERS)
def test_other_looks_at_the_same_answers(demo: str, view: str) -> None:
    """What is not kept of a demo is held to the same."""
    for measures, report in screens.reports(demo, screens.other_views(demo)[view]):
        for width in screens.WIDTHS:
            hold(report, width, measures, screens.look(report, width, measures))


def test_nothing_is_kept_in_vain() -> None:
    """Each file is that of a view."""
    kept = [*KEPT, *(("commands", view) for view in screens.COMMANDS)]
    assert set(screens.KEPT.glob("*/*.txt")) == {screens.file_of(demo, view) for demo, view in kept}


@pytest.mark.parametrize("measures", screens.MEASURES)
def test_a_command_shows_what_is_kept(measures: str) -> None:
    """What is written by a command is the look that is kept, between its heading and the next."""
    demo, view, width = screens.YARD, "heap", 80
    with CliRunner().isolation(env={"COLUMNS": str(width)}) as (out, _, _):
        assert exit_code([view, str(screens.DEMO / f"{demo}.yaml"), "--measures", measures]) == 0
        sys.stdout.flush()
        said = out.getvalue().decode("utf-8")
    kept = screens.file_of(demo, view).read_text("utf-8")
    _, _, after = kept.partition(f"{screens.heading(view, width, measures)}\n")
    assert said == after.partition("\n========")[0]
