"""``barrowful season``: what it prints in each form, what it refuses, and how."""

from __future__ import annotations

import csv
import io
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from barrowful.cli.main import exit_code

Call = Callable[..., Any]
DEMO = Path(__file__).parents[2] / "demo"
YARD = str(DEMO / "odd-bucket-yard.yaml")


def rows(call: Call, *words: str) -> list[dict[str, str]]:
    """Return the rows of a table as csv."""
    outcome = call("season", *words, "--format", "csv")
    assert outcome.code == 0, outcome.err
    return list(csv.DictReader(io.StringIO(outcome.text)))


def test_jobs_and_weeks_add_up(call: Call) -> None:
    """The hours of the jobs are those of the weeks, and no week has more than there are."""
    jobs, weeks = rows(call, YARD), rows(call, YARD, "--table", "weeks")
    assert sum(float(job["hours"] or 0) for job in jobs) == pytest.approx(
        sum(float(week["hours"]) for week in weeks)
    )
    assert all(float(week["hours"]) <= float(week["limit_hours"]) for week in weeks)
    assert all(job["from"] <= job["on"] <= job["until"] <= job["to"] for job in jobs)


def test_a_month_shows_what_may_be_done_in_it(call: Call) -> None:
    """A month has the jobs that are on in it, and none that are over or to come."""
    jobs = rows(call, YARD, "--month", "2027-03")
    assert jobs
    assert all(job["on"] <= "2027-03-31" and job["to"] >= "2027-03-01" for job in jobs)
    every = rows(call, YARD)
    assert 0 < len(jobs) < len(every)
    assert rows(call, YARD, "--from", "2027-03-01", "--to", "2027-03-31") == jobs


def test_by_place_keeps_places_together(call: Call) -> None:
    """By place the jobs of a place stand together; by month each says its month."""
    listed = [job["place"] or job["way"] for job in rows(call, YARD, "--by", "place")]
    assert listed == sorted(listed)
    assert re.search(r"^month ", call("season", YARD, "--by", "month").text, re.MULTILINE)


def test_calendars_are_the_same_bytes_for_the_same_stamp(call: Call) -> None:
    """The same file and stamp give the same calendar; another stamp another."""
    first = call("season", YARD, "--format", "ics", "--stamp", "2027-01-05").out
    assert first == call("season", YARD, "--format", "ics", "--stamp", "2027-01-05").out
    assert first != call("season", YARD, "--format", "ics", "--stamp", "2027-01-06").out
    assert first.startswith(b"BEGIN:VCALENDAR\r\n")


def test_the_sheet_is_markdown(call: Call) -> None:
    """As markdown it is a sheet of boxes, or the table that is asked for."""
    assert "- [ ] " in call("season", YARD, "--format", "markdown").text
    assert "| --- |" in call("season", YARD, "--format", "markdown", "--table", "weeks").text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--month", "2027-13"], '--month "2027-13" is not a month; write year-month, 2027-04'),
        (["--month", "March"], "write year-month, 2027-04"),
        (["--month", "2027-03", "--from", "2027-03-01"], "--month does not go with --from or --to"),
        (["--from", "1 March"], "write year-month-day, 2027-03-01"),
        (["--to", "2027-02-30"], "is not a day of the calendar"),
        (["--from", "2027-05-01", "--to", "2027-04-01"], "--to 2027-04-01 is before --from 2027-05-01"),
        (["--stamp", "today", "--format", "ics"], "--stamp"),
        (["--way", "no such way"], 'there is no way "no such way"'),
        (["--by", "year"], "'year' is not one of"),
        (["--today", "2040-01-01"], "is after the site's horizon; give 2030-02-20 or an earlier day"),
        (["--format", "ics", "--table", "weeks"], "a calendar holds events"),
    ],
)
def test_wrong_words_are_refused(words: list[str], told: str, call: Call) -> None:
    """What makes no sense is told with the right form, and nothing is printed."""
    outcome = call("season", YARD, *words)
    assert outcome.code in {2, 3}
    assert told in " ".join(outcome.err.split())
    assert outcome.out == b""


def test_what_cannot_be_kept_to_is_told_in_every_form(call: Call) -> None:
    """Late work stands on the sheet and beside the calendar, and --strict counts for both."""
    few = ["--set", "labour.hours_per_week=2 h"]
    sheet, calendar = (call("season", YARD, *few, "--format", form) for form in ("markdown", "ics"))
    assert "Late: " in sheet.text
    assert "Late: " in calendar.err
    plan = [
        "--set",
        "plan=[{place: old frames, need: dress, way: depot compost, date: 2027-02-21, amount: 1 m3}]",
    ]
    for form in ("markdown", "ics", "csv"):
        assert call("season", YARD, *plan, "--strict", "--format", form).code == 4
    assert (
        "Nothing to do in these days."
        in call("season", YARD, "--from", "2035-01-01", "--format", "markdown").text
    )


def test_weeks_are_those_asked_for(call: Call) -> None:
    """The table of weeks has those of the days that are shown, with their hours on the sheet."""
    weeks = rows(call, YARD, "--month", "2027-03", "--table", "weeks")
    assert weeks
    assert all("2027-02-23" <= week["week"] <= "2027-03-31" for week in weeks)
    sheet = call("season", YARD, "--format", "markdown").text
    for week in rows(call, YARD, "--table", "weeks"):
        assert f"## Week of {week['week']} ({float(week['hours']):.1f} h)" in sheet


def test_a_later_state_of_a_calendar_is_newer(call: Call) -> None:
    """What is planned anew from a day says that it was made on it."""
    before = call("season", YARD, "--format", "ics").text
    after = call("season", YARD, "--format", "ics", "--today", "2027-05-01").text
    assert "DTSTAMP:20270220T000000Z" in before
    assert "DTSTAMP:20270501T000000Z" in after


@pytest.mark.parametrize("width", [80, 100, 120])
@pytest.mark.parametrize("demo", sorted(path.name for path in DEMO.glob("*.yaml")))
def test_the_screen_fits(demo: str, width: int) -> None:
    """No line is longer than the screen, what is to be done comes first, and the last day stays in sight."""
    with CliRunner().isolation(env={"COLUMNS": str(width)}) as (out, _, _):
        assert exit_code(["season", str(DEMO / demo)]) == 0
        sys.stdout.flush()
        lines = out.getvalue().decode().splitlines()
    assert max(map(len, lines)) <= width
    assert lines[0].startswith("First, on ")
    assert any(line.startswith("Follows: ") for line in lines[: lines.index("")])
    assert any(re.search(r"\bby\b", line) for line in lines if line.startswith("on "))


def test_from_the_last_year_of_the_calendar(call: Call) -> None:
    """A season that is shown from there on has no job, and a drawing of none."""
    done = call("season", YARD, "--from", "9999-06-01", "--chart")
    assert done.code == 0, done.err
    assert done.text.count("nothing to show") == 2
