"""The very programme of a plan given to another solver: no least is less, nor any more."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy
import pytest
from plan_sites import planned_site
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from barrowful.answers.options import options
from barrowful.planning.calendar import Calendar
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.search import Search
from barrowful.planning.solver import Programme
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]


def least_of(programme: Programme, costs: Mapping[int, float]) -> float:
    """Return the least that the costs of columns come to, by a solver that simplifies nothing first.

    Simplified first, some of these programmes come out wrong, or as having no answer at all.
    """
    cost = numpy.zeros(len(programme.most))
    for column, each in costs.items():
        cost[column] = each
    entries = [(row, column, each) for row, of in enumerate(programme.rows) for column, each in of[0].items()]
    rows, columns, values = zip(*entries, strict=True)
    matrix = csr_matrix((values, (rows, columns)), shape=(len(programme.rows), len(programme.most)))
    least, most = ([of[side] for of in programme.rows] for side in (1, 2))
    found = milp(
        cost,
        constraints=LinearConstraint(matrix, least, most),
        bounds=Bounds(0, programme.most),
        integrality=[int(whole) for whole in programme.whole],
        options={"mip_rel_gap": 0, "presolve": False},
    )
    assert found.success, found.message
    return float(found.fun)


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
