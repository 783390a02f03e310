"""Plans of small random sites in all kinds of need and way: sound, as they say, and never dearer than a row."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from draws import cases, draws
from hypothesis import Phase, given
from hypothesis import strategies as st
from plan_lines import check_carried_out, check_never_dearer, planned
from plan_sites import planned_site

from barrowful.answers.options import options
from barrowful.planning.plan import Plan
from barrowful.site.load import load
from barrowful.sitefile.keys.need import NEED_KINDS
from barrowful.sitefile.keys.way import WAY_KINDS

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
#: So many sites are asked whether all is asked for among them.
SITES = 60
#: Seeds of sites of which a row was not met as lines, or the plan could not be written.
ONCE_WRONG = 245, 262, 390


def check(bytes_of: BytesOf, seed: int) -> None:
    """Assert that the plan of a site is met, and sound, at the money and day it says, and that no row is better."""
    data = bytes_of(planned_site(seed))
    answer = options(load(data, "field.yaml").site)
    plan = planned(answer)
    check_never_dearer(answer, plan)
    if plan:
        check_carried_out(data, plan)


@draws(200, derandomize=True, phases=[Phase.explicit, Phase.generate])
@given(st.integers(0, 10**6))
def test_plans_are_sound(bytes_of: BytesOf, seed: int) -> None:
    """Each is met, within ceilings, stocks and limits, at the money and day it says, and no row is better."""
    check(bytes_of, seed)


@pytest.mark.parametrize("seed", ONCE_WRONG)
def test_plans_that_were_not_sound_are(bytes_of: BytesOf, seed: int) -> None:
    """So are those that once were not."""
    check(bytes_of, seed)


def test_the_sites_ask_for_everything() -> None:
    """Every kind of need, way and term is asked for among them."""
    text = str([planned_site(seed) for seed in range(SITES)])
    words = [*NEED_KINDS, *WAY_KINDS, "left", "around"]
    words += [
        "step",
        "minimum",
        "truck",
        "payload",
        "load",
        "seller",
        "tax",
        "trip",
        "lead",
        "per_year",
        "weekly",
    ]
    words += ["new", "history", "harvest_from", "farm", "depth_per_year", "lift", "cash", "hours", "south"]
    assert [word for word in words if f"'{word}'" not in text and f"'{word}" not in text] == []


def said(plan: Plan | None) -> object:
    """Return all that a plan says."""
    if plan is None:
        return None
    bill = plan.whole.bill
    return sorted(map(str, plan.lines)), bill.cash, bill.cash_first_year, plan.ready_on, plan.stages


def turned(described: Plain) -> Plain:
    """Return a site with places and ways in reversed order."""
    return {**described, "places": described["places"][::-1], "ways": described["ways"][::-1]}


def luck() -> Iterator[int]:
    """Yield the seeds of sites that are planned more than once."""
    yield from random.Random(14).sample(range(200, 2000), 20)[: cases(20)]


def test_the_order_of_the_file_changes_nothing(bytes_of: BytesOf) -> None:
    """With places and ways in reversed order lines, money, hours and day are the same to the bit."""
    for seed in luck():
        here, there = (
            options(load(bytes_of(each), "field.yaml").site)
            for each in (planned_site(seed), turned(planned_site(seed)))
        )
        assert said(planned(there)) == said(planned(here)), seed


def test_the_same_file_gives_the_same_plan(bytes_of: BytesOf) -> None:
    """Planned twice, a site gets the same lines, money and stages to the bit."""
    for seed in [*luck()][: cases(10)]:
        data = bytes_of(planned_site(seed))
        first, second = (planned(options(load(data, "field.yaml").site)) for _ in range(2))
        assert said(first) == said(second), seed
