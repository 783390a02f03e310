"""Ranges on small random sites in all kinds of need: there is always an answer, and its ends are in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

import pytest
from draws import draws
from hypothesis import Phase, given
from hypothesis import strategies as st
from small_sites import tight_site

import barrowful
from barrowful.measures.problems import CannotMeet

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
#: Draws of a range: as few as the tool takes.
DRAWS = 100
#: Seeds of sites whose ranges once ended in a bug: a pH that is reached already, by what limes nothing; a cover
#: told as spread beside stuff that settles otherwise; and two ways of one feed, with figures that have no range.
ONCE_WRONG = 22, 24, 427, 731, 1144


def ranges_in(tables: Iterable[Any]) -> Iterator[tuple[str, str, float, float]]:
    """Yield each range of tables: table and column, what a tenth of the draws is under, and what a tenth is over."""
    for table in tables:
        for row in table.rows:
            for key in row:
                low, high = row[key], row.get(f"{key.removesuffix('_10')}_90")
                if key.endswith("_10") and low is not None and high is not None:
                    yield table.name, key, float(low), float(high)


def check_ranges(bytes_of: BytesOf, seed: int) -> None:
    """Assert that each answer that has ranges has them, the lower end under the upper."""
    described = {**tight_site(seed), "limits": {}}
    site = barrowful.load(bytes_of(described))
    for answer in (barrowful.options, barrowful.sizes, barrowful.orders, barrowful.course):
        tables, refused = tuple[Any, ...](), ""
        try:
            tables = tuple(answer(site, ranges=True, draws=DRAWS).tables)
        except CannotMeet as none:
            refused = str(none)
        if refused:
            assert answer is barrowful.course
            assert refused.startswith(("nothing is put on any place", "nothing to follow"))
        for name, key, low, high in ranges_in(tables):
            assert low <= high, (seed, name, key)


@draws(100, derandomize=True, phases=[Phase.explicit, Phase.generate])
@given(st.integers(0, 10**6))
def test_ranges_have_an_answer_on_any_site(bytes_of: BytesOf, seed: int) -> None:
    """Of sizes, options, orders and the course, for every kind of need, and those that are met already."""
    check_ranges(bytes_of, seed)


@pytest.mark.parametrize("seed", ONCE_WRONG)
def test_ranges_that_ended_in_a_bug_have_an_answer(bytes_of: BytesOf, seed: int) -> None:
    """So have those that once had none."""
    check_ranges(bytes_of, seed)
