"""What is still to be ordered: what the jobs that are open take, beyond what lies there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from math import ceil
from typing import Any

import pytest
from season_sites import Plain, bed, bought, site_text

from barrowful.jobs.job import BRINGS, Job
from barrowful.jobs.season import Season, season
from barrowful.site.load import load

BAG = 20.0
PELLETS: Plain = {
    "name": "pellets",
    "buy": {"material": "pelleted poultry manure", "price": "18 EUR/bag", "bag": "20 kg", "trip": "30 min"},
}
#: Beds picked from 15 June on, which pellets may be put on by 17 March, and some that nobody picks.
FED: Plain = {
    "places": [
        {**bed("salad", 3, feed={"nitrogen": "8 g/m2"}), "harvest_from": "06-15"},
        bed("flowers", feed={"nitrogen": "8 g/m2"}),
    ],
    "ways": [PELLETS],
}
MISSED, NEXT_YEAR = date(2027, 3, 20), date(2028, 2, 15)


def of(parts: Plain, *history: Plain, today: date | None = None, **changed: Any) -> Season:
    """Return the season of a site with a history."""
    text = site_text(**{**parts, **changed, "history": [*history]})
    return season(load(text.encode(), "site.yaml").site, today=today)


def orders(found: Season) -> list[Job]:
    """Return the orders that are still to be placed."""
    return [job for job in found.jobs if job.job == "order" and job.done is None]


def fed(found: Season, place: str) -> list[Job]:
    """Return the feeds of a place, by their days."""
    feeds = [job for job in (*found.jobs, *found.dropped) if job.job == "feed" and job.place == place]
    return sorted(feeds, key=lambda job: job.day)


def weight(jobs: Sequence[Job]) -> float:
    """Return what jobs put on [kg]."""
    assert all(job.stuff is not None for job in jobs)
    return sum(job.stuff.wet_mass(job.loose or 0.0) for job in jobs if job.stuff is not None)


def test_an_order_is_no_larger_than_what_is_still_done_of_it() -> None:
    """Beds that have missed their last safe day get no pellets: the order and its money are of the rest."""
    whole, late = of(FED), of(FED, today=MISSED)
    assert [job.place for job in late.dropped] == ["salad"]
    before, after = orders(whole)[0], orders(late)[0]
    first = weight([fed(whole, place)[0] for place in ("salad", "flowers")])
    assert before.amount == f"{ceil(first / BAG)} bag"
    assert after.amount == f"{ceil(weight(fed(late, 'flowers')[:1]) / BAG)} bag"
    assert after.cash == Decimal(18) * int(after.amount.split()[0])
    came = next(job for job in late.jobs if job.job in BRINGS)
    assert came.loose is not None
    stuff = fed(late, "flowers")[0].stuff
    assert stuff is not None
    assert stuff.wet_mass(came.loose) == pytest.approx(BAG * int(after.amount.split()[0]))


def test_what_is_ordered_already_stays() -> None:
    """What was ordered comes as it was ordered, whatever is given up since; what it leaves over is used."""
    ordered = {"date": "2027-03-05", "job": "order, pellets, 1"}
    whole, late = of(FED), of(FED, ordered, today=MISSED)
    came = next(job for job in late.jobs if job.job in BRINGS)
    assert came.loose == next(job for job in whole.jobs if job.job in BRINGS).loose
    left = BAG * int(orders(whole)[0].amount.split()[0]) - weight(fed(whole, "flowers")[:1])
    wanted = weight([fed(whole, place)[1] for place in ("salad", "flowers")])
    more = ceil((wanted - left) / BAG)
    assert [job.amount for job in orders(late)][:1] == ([f"{more} bag"] if more > 0 else [])


def test_what_lies_in_the_shed_is_not_ordered_again() -> None:
    """Of ten bags that came one feed was given; what is left is taken first a year on, and enough for it."""
    came = {"date": "2027-03-05", "job": "collected", "way": "pellets", "amount": "10 bag"}
    flowers = {"date": "2027-03-18", "place": "flowers", "way": "pellets", "amount": "4 kg"}
    whole, found = of(FED), of(FED, came, flowers, today=NEXT_YEAR)
    wanted = weight([fed(whole, place)[1] for place in ("salad", "flowers")])
    assert 2 * BAG < wanted < 10 * BAG - 4
    assert len(orders(whole)) == 2
    assert orders(found) == []
    assert not any(job.job in {"ask", *BRINGS} and job.done is None for job in found.jobs)


def test_the_rest_is_ordered_beyond_what_lies_there() -> None:
    """Where what is left is too little, as many bags come as it lacks."""
    came = {"date": "2027-03-05", "job": "collected", "way": "pellets", "amount": "5 bag"}
    used = {"date": "2027-03-08", "way": "pellets", "job": "spoilt", "amount": "3 bag"}
    whole, found = of(FED), of(FED, came, used, today=NEXT_YEAR)
    wanted = weight([fed(whole, place)[1] for place in ("salad", "flowers")])
    assert [job.amount for job in orders(found)] == [f"{ceil((wanted - 2 * BAG) / BAG)} bag"]


def test_what_one_seller_brings_shares_a_trip_as_far_as_it_is_ordered() -> None:
    """Where one of two is not wanted any more, the other pays the lorry by itself."""
    yard = {"seller": "Yard", "delivery": "30 EUR", "truck": "6 m3", "step": "0.5 m3"}
    both: Plain = {
        "places": [
            {**bed("salad", dress={"depth": "4 cm", "dug": True}), "harvest_from": "07-15"},
            bed("border", dress={"depth": "1 cm"}),
        ],
        "ways": [bought("horse manure", "muck", **yard), bought(name="compost", **yard)],
        "plan": [
            {"place": "salad", "need": "dress", "way": "muck", "amount": "0.8 m3", "date": "2027-03-08"},
            {"place": "border", "need": "dress", "way": "compost", "amount": "0.2 m3", "date": "2027-03-08"},
        ],
        "limits": {"by": "2027-06-01"},
    }
    assert sorted(job.cash for job in orders(of(both)) if job.cash is not None) == [Decimal(20), Decimal(70)]
    late = of(both, today=date(2027, 5, 1))
    assert [(job.way, job.cash) for job in orders(late)] == [("compost", Decimal(50))]


def test_nothing_changes_where_all_goes_by_the_plan(demo: Season) -> None:
    """Of a season of which nothing is done and nothing given up all orders are those of the sheet."""
    if demo.dropped or any(job.done for job in demo.jobs):
        pytest.skip("some of it is done, or given up")
    told = {(job.way, job.cash) for job in orders(demo) if job.cash is not None}
    whole = demo.selection.whole.bill.orders
    assert told == {(placed.way.name, placed.order.cash) for placed in whole}
