"""Seasons as calendars, read back by icalendar, and as sheets to tick."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import icalendar
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from season_sites import bed, bought

from barrowful.jobs.season import Season
from barrowful.tables.agenda import checklist, events
from barrowful.tables.season import job_lines
from barrowful.tables.writers.ics import Event, write_ics

Make = Callable[..., Season]
STAMP = datetime(2027, 1, 15, tzinfo=UTC)


def calendar(season: Season, stamp: datetime = STAMP) -> str:
    """Return the calendar of a season."""
    site = season.selection.answer.site
    return write_ics(site.name, events(job_lines(season.jobs, site), site, stamp), stamp)


def read(text: str) -> list[Any]:
    """Return the events of a calendar, as icalendar reads them; nothing in it may be wrong."""
    parsed = icalendar.Calendar.from_ical(text)
    assert not parsed.errors
    assert parsed["version"] == "2.0"
    assert parsed["prodid"]
    return list(parsed.walk("VEVENT"))


def test_every_job_is_an_event_on_its_days(demo: Season) -> None:
    """Each job is a whole-day event of its own, whose end is the day after its last; the same bytes each time."""
    text = calendar(demo)
    assert text == calendar(demo)
    found = {str(event["uid"]): event for event in read(text)}
    assert len(found) == len(demo.jobs)
    days = sorted(
        (job.on, (max(job.on, job.by) if job.job == "order" else job.until) + timedelta(days=1))
        for job in demo.jobs
    )
    assert sorted((event["dtstart"].dt, event["dtend"].dt) for event in found.values()) == days
    assert all(event["dtstamp"].dt == STAMP for event in found.values())


def test_only_orders_ring_on_their_last_day(demo: Season) -> None:
    """The alarm of an order goes off on the morning of the last day to place it; nothing else has one."""
    for event in read(calendar(demo)):
        alarms = event.walk("VALARM")
        assert len(alarms) == str(event["summary"]).startswith("order")
        for alarm in alarms:
            assert alarm["description"]
            assert alarm["trigger"].dt == timedelta(hours=-15)
            assert alarm["trigger"].params["related"] == "END"


def test_what_moves_keeps_its_name(made: Make) -> None:
    """A season that begins later, or has fewer hours, moves the events there are and makes no others."""
    first = {str(event["uid"]): event for event in read(calendar(made()))}
    for changed in (
        {"start": "2027-03-22"},
        {"labour": {"hours_per_week": "0.2 h"}},
        {"ways": [bought(lead="3 weeks")]},
    ):
        later = {
            str(event["uid"]): event for event in read(calendar(made(**changed), STAMP + timedelta(days=9)))
        }
        assert later.keys() == first.keys()
        assert any(_days(later[uid]) != _days(first[uid]) for uid in first)
        assert all(later[uid]["sequence"] > first[uid]["sequence"] for uid in first)


def _days(event: Any) -> tuple[date, date]:
    return event["dtstart"].dt, event["dtend"].dt


NAME = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf", "Zl", "Zp")), min_size=1, max_size=60)


@given(NAME, NAME)
@example("\\,", "\\;\\n")
def test_any_letters_survive(summary: str, description: str) -> None:
    """Commas, semicolons, backslashes and letters of any script come back, in lines of at most 75 octets."""
    day = date(2027, 3, 1)
    text = write_ics("Site", [Event("1", summary, day, day, f"{description}\n{summary}")], STAMP)
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert text.count("\n") == text.count("\r\n")
    [event] = read(text)
    assert str(event["summary"]) == summary
    assert str(event["description"]) == f"{description}\n{summary}"


@pytest.mark.parametrize("by", ["week", "month", "place"])
def test_the_sheet_has_a_box_for_every_job(by: str, demo: Season) -> None:
    """Each job is a line with a box; each caution of one stands once under them, with its source."""
    site = demo.selection.answer.site
    text = checklist(job_lines(demo.jobs, site), site, by)
    assert text.count("- [ ] ") == len(demo.jobs)
    keys = {key for job in demo.jobs for key in job.cautions}
    assert text.split("## Take care")[1].count("]\n") == len(keys)


def test_what_is_done_is_ticked_and_no_event(made: Make) -> None:
    """A job that is done has a tick on the sheet, and no event any more."""
    season = made(places=[bed("other beds", dress={"depth": "1 cm"})])
    job, site = season.jobs[0], season.selection.answer.site
    job.done = date(2027, 3, 2)
    try:
        assert checklist(job_lines(season.jobs, site), site, "week").count("- [x] ") == 1
        assert len(read(calendar(season))) == len(season.jobs) - 1
    finally:
        job.done = None


def test_a_stamp_of_any_year_has_four_digits_for_it() -> None:
    """A moment of the first year is read back as it was, as every other is."""
    stamp = datetime(1, 1, 1, tzinfo=UTC)
    [event] = read(write_ics("Site", [Event("1", "order", date(2027, 3, 1), date(2027, 3, 1))], stamp))
    assert event["dtstamp"].dt == stamp
