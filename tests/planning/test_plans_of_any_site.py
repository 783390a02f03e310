"""What is told beside a plan on small random sites with tight limits: there is always an answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from draws import draws
from hypothesis import Phase, given
from hypothesis import strategies as st
from small_sites import tight_site

import barrowful
from barrowful.measures.problems import CannotMeet
from barrowful.sitefile.keys.need import NEED_KINDS

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
#: Seeds of sites on which a plan once ended in a bug: something was met by what went on for another need.
ONCE_WRONG = 16, 24, 50


def needs_of(described: Plain) -> set[tuple[str, str]]:
    """Return the needs of a site, by kind and place."""
    return {
        (kind, place["name"]) for place in described["places"] for need in place["needs"] for kind in need
    }


def check_plan(bytes_of: BytesOf, seed: int) -> None:
    """Assert that a plan is told with its sums, and that each need is met or stands among what is not met."""
    described = tight_site(seed)
    site = barrowful.load(bytes_of(described))
    tables, refused = dict[str, Any](), ""
    try:
        tables = {table.name: table.rows for table in barrowful.plan(site).tables}
    except CannotMeet as none:
        refused = str(none)
    if refused:
        assert "no need can be met" in refused
        return
    [totals] = tables["plan_totals"]
    left_out = {(row["need"], row["place"]) for row in tables["clash"]}
    assert left_out <= needs_of(described)
    assert totals["places_met"] + len(left_out) == totals["needs"] == len(needs_of(described))
    assert sum(row["cash"] or 0 for row in tables["plan"]) == totals["cash"]


@draws(150, derandomize=True, phases=[Phase.explicit, Phase.generate])
@given(st.integers(0, 10**6))
def test_a_plan_within_tight_limits_says_what_is_left_out(bytes_of: BytesOf, seed: int) -> None:
    """Whatever is met by what goes on for others, beside what a limit leaves out, is told."""
    check_plan(bytes_of, seed)


@pytest.mark.parametrize("seed", ONCE_WRONG)
def test_plans_that_ended_in_a_bug_are_told(bytes_of: BytesOf, seed: int) -> None:
    """So are those that once were not."""
    check_plan(bytes_of, seed)


def test_the_sites_ask_for_everything() -> None:
    """Every kind of need and each limit is among them."""
    text = str([tight_site(seed) for seed in range(60)])
    assert [kind for kind in (*NEED_KINDS, "cash", "hours", "by") if f"'{kind}'" not in text] == []
