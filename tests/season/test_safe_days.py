"""What a harvest bars is done on safe days alone, whatever hours or the day of today leave for it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any

import pytest
from season_sites import Plain, bed, bought, season_of_text, site_text

from barrowful.cli.log import adder
from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.reports.season import of_jobs
from barrowful.site.load import load
from barrowful.tables.agenda import events
from barrowful.tables.season import job_lines

#: Lettuce cut from 25 July on: raw manure is safe up to 26 March, and again after the first frost of 25 October.
LAST_SAFE, OFF = date(2027, 3, 27), date(2027, 10, 26)
MUCK: Plain = {"name": "pile", "have": {"material": "sheep manure", "amount": "5 m3"}}


def lettuce(**needs: Plain) -> Plain:
    """Return beds of lettuce with needs."""
    return {**bed("lettuce", 6, **needs), "harvest_from": "07-25", "eaten_raw": True}


def mucked(hours: float | None = None, today: date | None = None, **changed: Any) -> Season:
    """Return the season of lettuce that is dressed with raw manure, dug in."""
    parts: Plain = {"places": [lettuce(dress={"depth": "1 cm", "dug": True})], "ways": [MUCK], **changed}
    if hours is not None:
        parts["labour"] = {"hours_per_week": f"{hours} h"}
    return season(load(site_text(**parts).encode(), "site.yaml").site, today=today)


def days(job: Job) -> list[date]:
    """Return all the days a job is on."""
    return [job.on + timedelta(days=number) for number in range((job.until - job.on).days + 1)]


@pytest.mark.parametrize("hours", [0.5, 1, 2, 5, None])
@pytest.mark.parametrize("today", [None, date(2027, 3, 20), date(2027, 4, 20), date(2027, 6, 20)])
def test_no_hours_and_no_today_put_raw_manure_into_its_wait(hours: float | None, today: date | None) -> None:
    """It is spread and dug in by the last safe day, or once the crop is off."""
    puts = [job for job in mucked(hours, today).jobs if job.place]
    assert {job.job for job in puts} == {"spread", "dig in"}
    on = [day for job in puts for day in days(job)]
    assert all(day <= LAST_SAFE for day in on) or all(day >= OFF for day in on)


def test_what_misses_its_last_safe_day_is_put_off_and_told() -> None:
    """The last safe day, and the day it waits for, stand in a sentence; it is not late."""
    found = mucked(today=date(2027, 6, 20))
    [told] = [told for told in sentences(found) if told.startswith("Put off:")]
    assert str(LAST_SAFE) in told
    assert str(OFF) in told
    assert not found.late
    spread = next(job for job in found.jobs if job.job == "spread")
    assert any(told.startswith("Raw manure waits for the harvest: not before") for told in spread.told)
    assert found.ready_on is not None
    assert found.ready_on >= OFF


def test_what_would_come_too_late_is_not_done() -> None:
    """Nothing is put on after the day the grower wants all by, nor fetched for that."""
    found = mucked(
        today=date(2027, 6, 20),
        limits={"by": "2027-09-01"},
        ways=[bought("sheep manure", "muck", lead="1 week")],
    )
    assert not found.jobs
    assert any(told.startswith('Not done: "spread, lettuce, dress, muck, 1"') for told in sentences(found))
    assert found.ready_on is None


def test_a_caution_goes_by_the_day_of_the_job() -> None:
    """What is told of the wait, on the screen and in the calendar, is reckoned from the day it is spread."""
    loaded = load(
        site_text(places=[lettuce(dress={"depth": "1 cm", "dug": True})], ways=[MUCK]).encode(), "site.yaml"
    )
    found = season(loaded.site, today=date(2027, 6, 20))
    spread = next(job for job in found.jobs if job.job == "spread")
    lines = job_lines(found.jobs, loaded.site)
    report = of_jobs(loaded, found, lines, "week", (date(2027, 3, 1), date(2029, 3, 1)), sources=False)
    ends = str(spread.on + timedelta(days=120))
    [wait] = [note.text for note in report.cautions if "Dig raw manure in early" in note.text]
    assert f"Spread on {spread.on}, that is {ends}" in wait
    stamp = datetime(2027, 6, 20)
    assert any(ends in event.description for event in events(lines, loaded.site, stamp))


def test_what_is_begun_is_finished_after_the_harvest() -> None:
    """Of what is spread in part before, the rest waits; what is spread is dug in once the crop is off."""
    entry = {"date": "2027-03-20", "place": "lettuce", "way": "pile", "amount": "0.5 m3", "dug": True}
    found = mucked(today=date(2027, 4, 10), history=[entry])
    [spread] = [job for job in found.jobs if job.job == "spread"]
    assert spread.begun
    assert all(job.on >= OFF for job in found.jobs if job.place and job.done is None)


def test_where_no_harvest_is_told_nothing_waits(made: Callable[..., Season]) -> None:
    """The same beds without a harvest are late, and done when there are hours."""
    found = made(
        places=[bed("lettuce", 6, dress={"depth": "1 cm", "dug": True})],
        ways=[MUCK],
        labour={"hours_per_week": "0.5 h"},
    )
    assert not found.put_off
    assert max(job.until for job in found.jobs if job.place) > LAST_SAFE


def test_names_stay_where_a_job_is_not_done() -> None:
    """A feed of the second season keeps its number where that of the first is too late."""
    changed: Plain = {
        "places": [lettuce(feed={"nitrogen": "6 g/m2"})],
        "ways": [bought("pelleted poultry manure", "pellets", price="1 EUR/kg")],
    }
    whole = season_of_text(site_text(**changed))
    late = season(load(site_text(**changed).encode(), "site.yaml").site, today=date(2027, 6, 20))
    names = [job.name for job in whole.jobs if job.job == "feed"]
    assert [job.name for job in late.jobs if job.job == "feed"] == names[1:]
    assert [job.name for job in late.dropped if job.place] == names[:1]


def test_what_was_not_to_be_done_may_be_logged() -> None:
    """A grower who found the hours after all writes it by its name; it is done then."""
    changed: Plain = {
        "places": [lettuce(dress={"depth": "1 cm", "dug": True})],
        "ways": [MUCK],
        "limits": {"by": "2027-09-01"},
        "labour": {"hours_per_week": "0.5 h"},
    }
    text = site_text(**changed)
    assert not [job for job in season_of_text(text).jobs if job.place]
    for name in ("spread, lettuce, dress, pile, 1", "dig in, lettuce, dress, pile, 1"):
        text = adder("site.yaml", {"date": "2027-03-20"}, name)(text.encode()).decode()
    done = {job.job: job.done for job in season_of_text(text).jobs if job.place}
    assert done == {"spread": date(2027, 3, 20), "dig in": date(2027, 3, 20)}


@pytest.mark.parametrize("today", [None, date(2027, 5, 20), date(2027, 7, 1)])
def test_nothing_is_dug_in_where_the_crop_stands(today: date | None) -> None:
    """Compost that is dug in is put off too, from eight weeks ahead of the harvest on; on top it is only late."""
    yard = bought(lead="1 week")
    places = [lettuce(dress={"depth": "1 cm", "dug": True})]
    puts = [job for job in mucked(0.4, today, places=places, ways=[yard]).jobs if job.place]
    assert {job.job for job in puts} == {"spread", "dig in"}
    assert all(day < date(2027, 5, 30) or day >= OFF for job in puts for day in days(job))
    on_top = mucked(0.4, today, places=[lettuce(dress={"depth": "1 cm"})], ways=[yard])
    assert not on_top.put_off
