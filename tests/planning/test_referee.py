"""The very programme of a plan given to another solver: no least is less, nor any more."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from milp_least import least_of
from plan_sites import planned_site

from barrowful.answers.options import options
from barrowful.planning.calendar import Calendar
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.search import Search
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]


def programme_of(data: bytes) -> SiteProgramme:
    """Return the programme of a site's file."""
    answer = options(load(data, "field.yaml").site)
    return SiteProgramme(answer, Calendar(answer), Limited.of(answer))


def compare(data: bytes) -> bool:
    """Assert that both solvers meet as many needs at the same least cost; say whether any can be met."""
    of = programme_of(data)
    if not of.weights:
        return False
    search = Search(of)
    search.run()
    again = programme_of(data)
    met = -least_of(again.books.programme, {column: -weight for column, weight in again.weights.items()})
    assert search.stages[0].met == pytest.approx(met, abs=1e-4)
    again.books.programme.row(again.weights, least=round(met))
    assert search.proven
    assert search.bound == pytest.approx(least_of(again.books.programme, again.cost), rel=1e-5, abs=2e-3)
    return round(met) > 0


def middle_site(seed: int) -> Plain:
    """Return a site of 5 to 9 places, with the ways of three small ones."""
    parts = [planned_site(3 * seed + number) for number in range(3)]
    ways = [
        {**way, "name": f"{number} {way['name']}"} for number, of in enumerate(parts) for way in of["ways"]
    ]
    bought = [way for way in ways if not {"make", "grow"} & way.keys()]
    for way in bought:
        way.get("buy", {}).pop("seller", None)
    places = [
        {**{key: value for key, value in place.items() if key != "ways"}, "name": f"{number} {place['name']}"}
        for number, of in enumerate(parts)
        for place in of["places"]
    ]
    return {"horizon": "18 months", "soil": parts[0]["soil"], "places": places, "ways": bought[:4]}


@pytest.mark.parametrize("seed", [*range(18), 118, 166])
def test_small_programmes(bytes_of: BytesOf, seed: int) -> None:
    """Of small sites: among them two that were once called solved when they were not."""
    compare(bytes_of(planned_site(seed)))


@pytest.mark.parametrize(
    "seed", [seed for seed in range(700, 730) if len(middle_site(seed)["places"]) >= 5][:6]
)
def test_middle_programmes(bytes_of: BytesOf, seed: int) -> None:
    """Of sites of five places and more, with four ways bought or had."""
    assert compare(bytes_of(middle_site(seed)))
