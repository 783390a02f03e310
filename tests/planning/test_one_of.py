"""Of columns one is yes where another is, whatever is whole behind them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrowful.planning.solved import Effort
from barrowful.planning.solver import Programme

SURELY = Effort(1000)
values = st.lists(st.integers(-9, 9), min_size=2, max_size=6)


@given(costs=values, counted=st.data(), whether=st.booleans())
def test_what_is_counted_is_that_of_the_one(costs: list[int], counted: st.DataObject, whether: bool) -> None:
    """The cheapest is picked of those that count enough in a row, and none where the other says no."""
    each = counted.draw(st.lists(st.integers(0, 3), min_size=len(costs), max_size=len(costs)))
    programme = Programme()
    other = programme.yes()
    columns = programme.one_of(len(costs), other)
    programme.row({other: 1.0}, least=float(whether), most=float(whether))
    programme.row({**dict(zip(columns, map(float, each), strict=True)), other: -2.0}, least=0.0)
    found = programme.solve(
        {column: float(cost) for column, cost in zip(columns, costs, strict=True)}, SURELY
    )
    enough = [cost for cost, count in zip(costs, each, strict=True) if count >= 2]
    if whether and not enough:
        assert not found.found
    else:
        assert found.least == pytest.approx(min(enough) if whether else 0.0)
        assert sum(found.says_yes(column) for column in columns) == whether


def test_half_of_two_is_neither() -> None:
    """Three of which the first and the last each count half: no mean of the two is the one in between."""
    programme = Programme()
    other = programme.yes()
    first, between, last = programme.one_of(3, other)
    programme.row({other: 1.0}, least=1.0)
    found = programme.solve({first: 2.0, between: 3.0, last: 2.0}, SURELY)
    assert found.least == pytest.approx(2.0)
    programme.row({first: 1.0, last: -1.0}, least=0.0, most=0.0)
    assert programme.solve({first: 2.0, between: 3.0, last: 2.0}, SURELY).least == pytest.approx(3.0)


def test_one_of_one_is_the_other() -> None:
    """No column is added."""
    programme = Programme()
    other = programme.yes()
    assert programme.one_of(1, other) == [other]
    assert len(programme.most) == 1
