"""Woody plants are not fed late in the year: it waits for the next spring's feed."""

from __future__ import annotations

from datetime import date

import pytest
from season_sites import NORTH, bed, bought, site_text

from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.site.load import load

MEAL = bought("feather meal", "meal", price="1 EUR/kg")


def season_on(today: date, kind: str = "row", way: object = MEAL, start: str = "2027-03-01") -> Season:
    """Return the season of a place that is fed, as it is to be done from a day on."""
    text = site_text(start, places=[bed("hedge", kind=kind, feed={"nitrogen": "2 g/m2"})], ways=[way])
    return season(load(text.encode(), "site.yaml").site, today=today)


def fed(found: Season) -> list[date]:
    """Return the days on which something is fed."""
    return [job.on for job in found.jobs if job.job == "feed"]


@pytest.mark.parametrize("kind", ["row", "tree"])
@pytest.mark.parametrize("today", [date(2027, 8, 1), date(2027, 9, 15), date(2027, 10, 24)])
def test_woody_plants_are_not_fed_from_august_to_the_frost(kind: str, today: date) -> None:
    """What was for spring is left out with its order, and why is told; the next spring's feed stays."""
    found = season_on(today, kind)
    assert [day.year for day in fed(found)] == [2028]
    assert [job.job for job in found.jobs if job.on.year == 2027] == []
    assert any("woody plants fed now" in told for told in sentences(found))


@pytest.mark.parametrize("today", [date(2027, 5, 1), date(2027, 7, 15)])
def test_they_are_fed_late_in_spring_and_in_summer(today: date) -> None:
    """Before August it is only late."""
    assert [day.year for day in fed(season_on(today))] == [2027, 2028]


def test_what_is_sown_anew_is_fed_while_it_grows() -> None:
    """Soft growth does no harm on a crop that does not stand through the winter."""
    assert [day.year for day in fed(season_on(date(2027, 9, 1), "bed"))] == [2027, 2028]


def test_poor_compost_does_them_no_harm() -> None:
    """Compost gives little nitrogen at a time: it is late, and goes on."""
    found = season_on(date(2027, 9, 1), way=bought(price="1 EUR/m3"))
    assert fed(found)[0].year == 2027
    assert not found.dropped


def test_where_it_never_freezes_nothing_is_too_late() -> None:
    """No frost takes what grows late."""
    text = site_text(
        climate={"monthly_mean": ["22 degC"] * len(NORTH)},
        places=[bed("hedge", kind="row", feed={"nitrogen": "2 g/m2"})],
        ways=[MEAL],
    )
    found = season(load(text.encode(), "site.yaml").site, today=date(2027, 9, 1))
    assert fed(found)[0] == date(2027, 9, 8)
