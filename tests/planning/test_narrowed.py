"""The least cost of what is narrowed is the least of the whole, and the programme is left as it was."""

from __future__ import annotations

from collections.abc import Callable
from math import inf
from typing import Any

import pytest
from milp_least import least_of
from plan_sites import planned_site

from barrowful.answers.options import options
from barrowful.planning import search
from barrowful.planning.calendar import Calendar
from barrowful.planning.narrowed import least_narrowed
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.relaxed import Relaxed
from barrowful.planning.search import FIRST, Search
from barrowful.planning.solved import Effort
from barrowful.planning.solver import Programme
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]


def orders_of(sizes: list[float], loads: float, bags: float) -> tuple[Programme, dict[int, float]]:
    """Return a programme of beds that want so much, in loads of 10 at a price or bags of 3 at another."""
    programme, cost = Programme(), dict[int, float]()
    for size, price in ((10.0, loads), (3.0, bags)):
        columns = [programme.column(9.0, whole=True) for _ in sizes]
        in_all = programme.column(whole=True)
        programme.row({**dict.fromkeys(columns, 1.0), in_all: -1.0}, least=0.0, most=0.0)
        programme.in_all[in_all] = tuple(columns)
        cost[in_all] = price
        for number, column in enumerate(columns):
            cost[column] = number / 100
        if size == 10.0:
            by_load = columns
    for number, size in enumerate(sizes):
        programme.row({by_load[number]: 10.0, columns[number]: 3.0}, least=size)
    return programme, cost


@pytest.mark.parametrize("seed", range(24))
def test_the_least_is_that_of_the_whole(
    bytes_of: BytesOf, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of small sites, narrowed whatever their size, against another solver on the whole."""
    monkeypatch.setattr(search, "is_small", lambda _: False)
    answer = options(load(bytes_of(planned_site(seed)), "field.yaml").site)
    of = SiteProgramme(answer, Calendar(answer), Limited.of(answer))
    looked = Search(of)
    looked.run()
    again = SiteProgramme(answer, Calendar(answer), Limited.of(answer))
    if looked.stages:
        again.books.programme.row(again.weights, least=round(looked.stages[0].met))
        least = least_of(again.books.programme, again.cost)
        assert looked.proven
        assert looked.bound == pytest.approx(least, rel=1e-5, abs=2e-3)


@pytest.mark.parametrize(
    ("sizes", "loads", "bags", "least"),
    [
        # 12: a load and a bag 111, two loads 160, four bags 124; 4: two bags 62.02, a load 80.01
        ([12.0, 4.0], 80.0, 31.0, 173.02),
        # a bag at 51: 12: a load and a bag 131; 4: a load 80.01, two bags 102.02
        ([12.0, 4.0], 80.0, 51.0, 211.01),
    ],
)
def test_loads_and_bags_by_hand(sizes: list[float], loads: float, bags: float, least: float) -> None:
    """Loads of 10 and bags of 3 for two beds, each whole."""
    programme, cost = orders_of(sizes, loads, bags)
    start = tuple(programme.solve({}, FIRST).values)
    found = least_narrowed(programme, cost, Effort(1000), start)
    assert found.least == pytest.approx(least)
    assert found.bound == pytest.approx(least)
    assert not found.stopped


def test_what_is_known_stays_where_nothing_is_less() -> None:
    """The least itself is handed in: it comes back, proven."""
    programme, cost = orders_of([12.0, 4.0, 23.0], 100.0, 31.0)
    least = programme.solve(cost, Effort(1000))
    found = least_narrowed(programme, cost, Effort(1000), least.values)
    assert (found.values, found.stopped) == (least.values, False)
    assert found.bound == pytest.approx(least.least)


def test_bounds_are_as_they_were() -> None:
    """What is narrowed is free again after it, for all that is looked for next."""
    programme, cost = orders_of([12.0, 4.0], 80.0, 31.0)
    start = tuple(programme.solve({}, FIRST).values)
    before = programme.solve({0: 1.0, 3: 1.0}, Effort(1000)).least
    least_narrowed(programme, cost, Effort(1000), start)
    assert programme.solve({0: 1.0, 3: 1.0}, Effort(1000)).least == pytest.approx(before)
    assert programme.solve(cost, Effort(1000)).least == pytest.approx(173.02)


def test_stopped_by_the_grower_keeps_what_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while numbers are looked at: the values known stay, with the bound of 1.6 loads at 80 and 0.004."""
    programme, cost = orders_of([12.0, 4.0], 80.0, 31.0)
    start = tuple(programme.solve({}, FIRST).values)

    def stop(*_: object) -> float:
        raise KeyboardInterrupt

    monkeypatch.setattr(Relaxed, "cost_of", stop)
    found = least_narrowed(programme, cost, Effort(1000), start)
    assert programme.interrupted
    assert (found.values, found.stopped) == (start, True)
    assert found.bound == pytest.approx(128.004)


def test_narrowed_to_what_may_cost_less() -> None:
    """Under 200 not more than two loads come in all, 240 for three; and under 100 nothing does."""
    programme, cost = orders_of([12.0, 4.0], 80.0, 31.0)
    with programme.without_wholes(cost, 200.0) as relaxed:
        relaxed.narrow([2])
        assert relaxed.part()[2][1] == 2
        assert relaxed.cost() < inf
    with programme.without_wholes(cost, 100.0) as relaxed:
        assert relaxed.cost() == inf
