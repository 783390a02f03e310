"""First screens and the season agree on days: what the season has later is told where it is not followed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from season_sites import COLD, Plain, bed, bought, season_of_text, site_text

import barrowful
from barrowful.jobs.job import Job

#: Two frozen months, and then a wet one.
WET: Plain = {
    "monthly_mean": [*COLD[:2], "2 degC", *COLD[3:]],
    "last_frost": "05-10",
    "first_frost": "10-01",
    "rain_months": [10, 11, 12, 1, 2, 3],
}
DUG: Plain = {
    "start": "2027-12-10",
    "horizon": "3 years",
    "climate": WET,
    "places": [bed(dress={"depth": "1 cm", "dug": True})],
}
PILE: Plain = {"name": "pile", "have": {"material": "leaf mould", "amount": "2 m3"}}
FILLED: Plain = {
    "places": [bed("frames", fill={"depth": "20 cm"})],
    "ways": [bought(), bought("topsoil", "merchant"), bought("sand", "pit")],
}
Ask = Callable[[barrowful.LoadedSite], Any]
SCREENS: dict[str, Ask] = {
    "options": barrowful.options,
    "options by place": lambda site: barrowful.options(site, by="place"),
    "orders": barrowful.orders,
    "plan": barrowful.plan,
}


def first_lines(ask: Ask, **changed: Any) -> str:
    """Return what a screen says first of a made-up site, in one line."""
    return " ".join(ask(barrowful.load(site_text(**changed).encode())).answer)


def jobs(word: str, **changed: Any) -> list[Job]:
    """Return the jobs of a word of a made-up site's season."""
    return [job for job in season_of_text(site_text(**changed)).jobs if job.job == word]


@pytest.mark.parametrize("ask", SCREENS.values(), ids=SCREENS)
def test_frozen_and_wet_ground_is_told_with_the_days_of_the_season(ask: Ask) -> None:
    """What would be dug into frozen and then wet ground: the day, the order's day and the last are the season's."""
    season = season_of_text(site_text(**DUG))
    [spread], [order] = jobs("spread", **DUG), jobs("order", **DUG)
    assert spread.on >= date(2028, 4, 1)
    assert (
        'Later by "season", as the ground is frozen, then the ground is too wet: dress beds by yard'
        f" {spread.on}, not {spread.day} (order by {order.by}); all is ready {season.ready_on}."
    ) in first_lines(ask, **DUG)


@pytest.mark.parametrize("ask", SCREENS.values(), ids=SCREENS)
def test_nothing_is_told_where_the_season_has_the_same_days(ask: Ask) -> None:
    """Stuff that needs no test, on ground that nothing bars, goes on when the plan has it."""
    told = first_lines(ask, ways=[PILE], start="2027-04-10")
    assert "Do this" in told or ask is barrowful.orders
    assert "Later" not in told


def test_a_test_and_the_best_weeks_are_told_where_they_take_over_two_weeks() -> None:
    """A fill waits four weeks for a test of its compost, an early feed for spring; no reason bars either."""
    [filled, *_] = sorted(jobs("fill", **FILLED), key=lambda job: job.on)
    [order] = (job for job in jobs("order", **FILLED) if job.way == "yard")
    told = f'Later by "season" (tests, fit weeks): fill frames {filled.on}, not {filled.day}'
    assert f"{told} (order by {order.by})" in first_lines(barrowful.options, **FILLED)
    meal = bought("feather meal", price="2 EUR/kg")
    fed: Plain = {"start": "2027-02-01", "places": [bed(feed={"nitrogen": "5 g/m2"})], "ways": [meal]}
    [job, *_] = jobs("feed", **fed)
    assert f"feed beds by yard {job.on}, not {job.day}" in first_lines(barrowful.options, **fed)


def test_what_is_barred_later_is_told_before_what_only_waits_for_its_weeks() -> None:
    """One place is filled after a test, another dug in winter: the frozen ground comes first, with a count."""
    both = {**DUG, **FILLED, "places": [*DUG["places"], *FILLED["places"]]}
    told = first_lines(barrowful.options, **both)
    assert "frozen" in told
    assert "dress beds by yard" in told
    assert ", and 1 more" in told


def test_what_there_is_no_time_to_test_is_told() -> None:
    """A fill that is due in a fortnight cannot wait for a test of four weeks: the seller is asked."""
    told = first_lines(barrowful.options, **{**FILLED, "limits": {"by": "2027-03-20"}})
    assert "No time for a test of 28 days: ask for the result of one (yard)." in told
    assert "No time" not in first_lines(barrowful.options, **FILLED)


def test_ground_that_may_be_wet_is_told() -> None:
    """On clay with more rain than dries off nobody knows when it is wet, unless the months of rain are told."""
    changed: Plain = {
        "start": "2027-01-10",
        "ways": [PILE],
        "soil": {"organic_matter": "2 %", "clay": "42 %"},
    }
    climate = {"annual_mean": "10 degC", "rain_less_evaporation": "150 mm"}
    told = first_lines(barrowful.options, **changed, climate=climate)
    assert (
        "Wet ground was not looked at (spread beds 2027-01-10, 42% clay): write climate.rain_months." in told
    )
    assert "Wet ground" not in first_lines(barrowful.options, **changed, climate={"annual_mean": "10 degC"})


def test_what_is_done_since_the_start_does_not_stop_it() -> None:
    """With half of it logged, the first screen still has what is left in its season."""
    logged = [{"date": "2027-12-20", "place": "beds", "way": "yard", "amount": "0.1 m3"}]
    assert "as the ground is frozen" in first_lines(barrowful.options, **{**DUG, "history": logged})


def test_what_no_safe_day_is_left_for_is_told() -> None:
    """Muck would go into frozen ground in time for the harvest; once it has thawed that is too near."""
    place = {
        **bed("lettuce", dress={"depth": "1 cm", "dug": True}),
        "harvest_from": "07-25",
        "eaten_raw": True,
    }
    muck = {"name": "pile", "have": {"material": "sheep manure", "amount": "5 m3"}}
    changed = {**DUG, "places": [place], "ways": [muck], "limits": {"by": "2028-08-01"}}
    told = first_lines(barrowful.options, **changed)
    assert 'Not done by "season": dress lettuce by pile: raw manure waits for the harvest' in told
    assert "Not done" not in first_lines(barrowful.options, **DUG)


def test_of_a_large_site_it_is_said_that_nothing_was_put_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """A season of thousands of doses is gone through by its own command alone; the first lines say that."""
    monkeypatch.setattr("barrowful.jobs.later.MOST_DOSES", 0)
    for ask in SCREENS.values():
        told = first_lines(ask, **DUG)
        assert "Later by" not in told
        assert 'on which it may be put on; "season" has' in told
