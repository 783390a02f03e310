"""Rows that hold anyway: no least is another by them, and fewer halves are let on where no number is whole."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from milp_least import least_of
from plan_sites import planned_site

from barrowful.answers.options import options
from barrowful.planning import programme, sellers
from barrowful.planning.calendar import Calendar
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.search import FIRST
from barrowful.planning.solved import Effort
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]


def programmes(data: bytes, patch: pytest.MonkeyPatch) -> list[SiteProgramme]:
    """Return the programme of a site's file with the rows that hold anyway, and without."""
    answer, made = options(load(data, "field.yaml").site), list[SiteProgramme]()
    for many in (-1, 1_000_000):
        patch.setattr(programme, "MANY_PORTIONS", many)
        made.append(SiteProgramme(answer, Calendar(answer), Limited.of(answer)))
    return made


def least(of: SiteProgramme) -> tuple[int, float]:
    """Return how many needs are met at the most, and the least cost of that."""
    met = -least_of(of.books.programme, {column: -weight for column, weight in of.weights.items()})
    of.books.programme.row(of.weights, least=round(met))
    return round(met), least_of(of.books.programme, of.cost)


def check_same_least(told: SiteProgramme, untold: SiteProgramme) -> None:
    """Check that as much is met by a programme with more rows, at the same least cost."""
    (met, cost), (met_so, cost_so) = least(told), least(untold)
    assert met == met_so
    assert cost == pytest.approx(cost_so, rel=1e-5, abs=2e-3)


@pytest.mark.parametrize(
    "seed", [17, 23, 44, 63, 64, 68, 71, 75, 86, 107, 110, 119, 125, 155, 160, 166, 177, 194, 195, 205, 212]
)
def test_no_least_is_another(bytes_of: BytesOf, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    """Of small sites that have such rows for covers of several first days, or for feeds beside other needs."""
    told, untold = programmes(bytes_of(planned_site(seed)), monkeypatch)
    assert len(told.books.programme.rows) > len(untold.books.programme.rows)
    check_same_least(told, untold)


def test_halves(bytes_of: BytesOf, monkeypatch: pytest.MonkeyPatch) -> None:
    """A site may seem to cost two fifths of what it does where halves of yes and no are let on."""
    told, untold = programmes(bytes_of(planned_site(44)), monkeypatch)
    for of in (told, untold):
        of.books.programme.demand(of.weights)
        of.books.programme.near(of.cost, FIRST)
    assert told.books.programme.relaxed > 2.5 * untold.books.programme.relaxed


@pytest.mark.parametrize("seed", [1, 3, 44, 71, 119, 166, 205, 220])
def test_trips_in_all(bytes_of: BytesOf, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    """That trips and steps are whole in all holds anyway."""
    data = bytes_of(planned_site(seed))
    told, _ = programmes(data, monkeypatch)
    monkeypatch.setattr(sellers, "_add_in_all", lambda books, wholes: None)
    untold, _ = programmes(data, monkeypatch)
    assert sum(told.books.programme.whole) > sum(untold.books.programme.whole)
    check_same_least(told, untold)


def test_what_is_known_is_not_lost(bytes_of: BytesOf, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the solver's sum is not that of its values, it looks again, from the values known."""
    told, _ = programmes(bytes_of(planned_site(44)), monkeypatch)
    solver, sums = told.books.programme, iter([False])
    known = solver.solve(told.cost, Effort(20_000))
    monkeypatch.setattr(solver, "_adds_up", lambda solved: next(sums, True))
    again = solver.solve(told.cost, Effort(0), known.values)
    assert next(sums, None) is None
    assert again.found
    assert again.least == pytest.approx(known.least, abs=1e-6)
