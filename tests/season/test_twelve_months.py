"""Doses of a place stay as far apart as its ceilings on twelve months ask, wherever their jobs go."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from season_sites import Plain, bed, bought, season_of_text, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.needs.breaches import breaches
from barrowful.site.load import load
from barrowful.soil.application import Application

#: A bed from which nothing is dug in between 5 May and the first frost.
OFF = date(2027, 10, 26)
SOUR: Plain = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "ph": 5.2}
YARD = bought("green compost", "yard", price="30 EUR/m3", lead="0 days")


def limed(today: date | None = None, **changed: Any) -> Season:
    """Return the season of a bed that is limed in two goes a year apart."""
    place: Plain = {**bed("beds", lime={"ph": 6.8}), "harvest_from": "06-15"}
    lime: Plain = {
        "name": "lime",
        "buy": {"material": "ground limestone", "price": "6.8 EUR/bag", "bag": "25 kg"},
    }
    text = site_text(places=[place], ways=[lime], soil=SOUR, **changed)
    return season(load(text.encode(), "site.yaml").site, today=today)


def composted(**changed: Any) -> Season:
    """Return the season of a bed that gets in the second year all the compost a year may bring."""
    needs: Plain = {
        "dress": {"depth": "2 cm", "dug": True},
        "raise": {"organic_matter": "3.6 %", "depth": "20 cm", "by": "2028-03-01"},
    }
    soil = {**SOUR, "ph": 6.5}
    return season_of_text(site_text(places=[bed("beds", **needs)], ways=[YARD], soil=soil, **changed))


def followed(found: Season) -> list[Application]:
    """Return what a season follows, on the days of the plan."""
    return [
        dose
        for part in found.selection.whole.together.parts
        for serving in part.decision.servings
        for dose in (*serving.doses, *serving.later)
    ]


def moved(found: Season) -> list[Application]:
    """Return what a season puts on, on the days it is put on, as lines that a grower wrote."""
    return [on_day(dose, day) for dose in followed(found) if (day := found.put_on(dose)) is not None]


def on_day(dose: Application, day: date) -> Application:
    """Return a dose on another day."""
    about = {"place": dose.place, "material": dose.material, "loose": dose.loose, "dug": dose.dug}
    return Application(**about, day=day, need=dose.need, way=dose.way)


def over(found: Season, doses: list[Application]) -> set[str]:
    """Return what is said of ceilings on twelve months that doses break, less how far."""
    told = breaches(found.selection.answer.site, doses)
    return {sentence.rsplit("(", 1)[-1] for sentence in told if "your plan puts on" in sentence}


def put(found: Season) -> list[Job]:
    """Return the jobs that put something on."""
    return [job for job in found.jobs if job.stuff is not None]


def test_lime_that_waits_for_the_harvest_keeps_the_next_a_year_from_it() -> None:
    """Put off to October, the first dose moves the second from March to the October after."""
    found = limed(today=date(2027, 7, 1))
    first, second = put(found)
    assert (first.on, second.on) == (OFF, date(2028, 10, 26))
    assert not over(found, moved(found))
    assert any("(lime_at_once)" in told for told in second.told)
    assert any(f"waits until {second.on}; sooner it would be over" in told for told in sentences(found))


def test_lime_on_its_own_days_stays_on_them() -> None:
    """Nothing is told of what nothing moves."""
    first, second = put(limed())
    assert (first.on, second.on) == (first.day, second.day)
    assert not second.told


def test_what_was_logged_late_counts_on_its_day() -> None:
    """The next dose waits for twelve months after the day that the history tells, on it or beside the plan."""
    on = date(2027, 4, 20)
    told = [{"date": f"{on}", "place": "beds", "way": "lime", "amount": "21.4 kg", "dug": True}]
    second = put(limed(history=told))[-1]
    assert second.on == date(2028, 4, 20)


def test_a_dose_does_not_wait_for_a_test_that_would_make_the_next_too_late() -> None:
    """Of the compost due in March a year on none could go on by then, had this one waited for four weeks."""
    found = composted()
    assert {job.on for job in put(found)} == {date(2027, 3, 1), date(2028, 3, 1)}
    assert not found.late
    assert not over(found, moved(found))
    assert any("There is no time for a test" in told for job in put(found) for told in job.told)


@pytest.mark.parametrize("hours", [0.5, 1, 3])
def test_too_few_hours_keep_the_year_too(hours: float) -> None:
    """What hours push back pushes back what follows, late where it has to be."""
    found = composted(labour={"hours_per_week": f"{hours} h"})
    assert not over(found, moved(found))


def test_a_plan_that_breaks_a_ceiling_is_followed_as_it_is_written() -> None:
    """Its days are the grower's own; that it breaks the ceiling is said elsewhere."""
    line = {"place": "beds", "way": "yard", "amount": "0.6 m3"}
    plan: list[Plain] = [
        {**line, "need": "dress", "date": "2027-03-01"},
        {**line, "need": "raise", "date": "2027-09-01"},
    ]
    found = composted(plan=plan, labour={"hours_per_week": "1 h"})
    assert not found.apart


def test_no_demo_is_moved_into_a_ceiling(demo: Season) -> None:
    """What the season puts on breaks no ceiling on twelve months that the plan keeps to."""
    assert over(demo, moved(demo)) <= over(demo, followed(demo))
