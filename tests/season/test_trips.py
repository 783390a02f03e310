"""What one seller brings on one trip comes on one day, as the order sheet has it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from season_sites import NORTH, Plain, bed, bought, season_of_text, site_text

from barrowful.answers.orders import sheet
from barrowful.jobs.job import BRINGS, MAKES, Job
from barrowful.jobs.season import Season, season
from barrowful.site.load import load

#: Chip that waits for warm ground and compost that does not, of one yard.
BOTH: Plain = {
    "places": [bed("hedge", kind="row", cover={"depth": "5 cm"}), bed(dress={"depth": "1 cm"})],
    "ways": [
        bought("arborist chip", "chip", price="10 EUR/m3", seller="Yard", delivery="30 EUR"),
        bought(seller="Yard", delivery="30 EUR", name="compost"),
    ],
}


def brought(found: Season) -> dict[str, Job]:
    """Return by way what brings it."""
    return {job.way: job for job in found.jobs if job.job in BRINGS}


def text_of(**changed: Any) -> str:
    """Return the site with both, some parts of it changed."""
    return site_text(**{**BOTH, **changed})


def test_one_trip_is_one_day() -> None:
    """The chip may be laid on warm ground a day after the compost is tested: one lorry comes then with both."""
    text = text_of()
    lines = sheet(load(text.encode(), "site.yaml").site).lines
    assert sorted(line.order.trips for line in lines) == [0, 1]
    came = brought(season_of_text(text))
    assert came["chip"].on == came["compost"].on == date(2027, 4, 6)  # two weeks ahead of the last frost


def test_all_of_a_trip_is_ordered_for_its_day() -> None:
    """Orders of one seller are placed so that each can come on the day of the trip, and no sooner than asked."""
    found = season_of_text(text_of())
    came = brought(found)
    for job in came.values():
        [order] = job.after
        assert order.until <= order.by < job.on
        assert all(before.until <= order.on for before in order.after)


def test_what_may_not_go_on_for_long_does_not_keep_the_rest() -> None:
    """Compost to be dug into ground that is wet until April comes in autumn with chip, and lies: that is told."""
    climate: Plain = {
        "monthly_mean": NORTH,
        "last_frost": "04-20",
        "first_frost": "10-25",
        "rain_months": [10, 11, 12, 1, 2, 3],
    }
    places = [BOTH["places"][0], bed(dress={"depth": "1 cm", "dug": True})]
    found = season_of_text(text_of(start="2027-11-01", climate=climate, places=places))
    came = brought(found)
    puts = {job.way: job for job in found.jobs if job.stuff is not None}
    assert came["chip"].on == came["compost"].on <= puts["chip"].on < date(2027, 12, 25)
    assert puts["compost"].on >= date(2028, 4, 1)
    assert "It comes with chip and lies until 2028-04-01." in came["compost"].told
    assert not came["chip"].told


@pytest.mark.parametrize("today", [date(2027, 3, 20), date(2027, 7, 1)])
def test_one_trip_stays_one_day_when_it_is_late(today: date) -> None:
    """Where nothing was ordered by a later day, what is tested first has the other wait for it."""
    site = load(text_of().encode(), "site.yaml").site
    came = brought(season(site, today=today))
    assert came["chip"].on == came["compost"].on >= today + timedelta(weeks=1)


def test_what_is_fetched_on_one_trip_is_used_after_it() -> None:
    """A trip of five hours where a week has four ends in the week after: nothing of it goes on before."""
    terms = {"seller": "Yard", "trip": "5 h"}
    ways = [bought("arborist chip", "chip", price="10 EUR/m3", **terms), bought(name="compost", **terms)]
    found = season_of_text(text_of(ways=ways, labour={"hours_per_week": "4 h"}))
    came = brought(found)
    assert {job.job for job in came.values()} == {"collect"}
    assert came["chip"].on == came["compost"].on
    assert came["chip"].until == came["compost"].until
    assert all(job.on >= came["chip"].until for job in found.jobs if job.stuff is not None)


#: Pellets as raw manure on beds picked from 15 June on: fed by 17 March, which is 90 days before.
PELLETS: Plain = {
    "places": [{**bed(feed={"nitrogen": "8 g/m2"}), "harvest_from": "06-15"}],
    "ways": [
        {
            "name": "pellets",
            "buy": {
                "material": "pelleted poultry manure",
                "price": "18 EUR/bag",
                "bag": "20 kg",
                "trip": "30 min",
            },
        }
    ],
}


def test_what_is_fetched_is_there_for_the_last_safe_day() -> None:
    """Pellets may go on up to 90 days ahead of the harvest: fetched later they would be of no use."""
    found = season_of_text(site_text(**PELLETS))
    collected = next(job for job in found.jobs if job.job == "collect")
    fed = next(job for job in found.jobs if job.stuff is not None)
    assert collected.by == fed.by == date(2027, 3, 17)


def test_nothing_is_brought_or_made_later_than_what_is_done_with_it(demo: Season) -> None:
    """Whoever does a job on its last day can still do by its own last day what waits for it."""
    waiting = [(job, before) for job in demo.jobs for before in job.after if not job.paced]
    brought = [(job, of) for job, of in waiting if of.job in {*BRINGS, *MAKES} and of.by > of.first]
    assert all(of.by + timedelta(days=of.lag + job.gap) <= job.by for job, of in brought)
