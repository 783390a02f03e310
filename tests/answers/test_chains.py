"""Ways one after another: no order of them that comes to something else is left out."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from itertools import permutations
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.chains import Chains
from barrowful.answers.choices import cheapest
from barrowful.answers.options import options
from barrowful.site.records import Site

Plain = dict[str, Any]
SiteOf = Callable[..., Site]
BEDS, WAYS = "abcd", "wxyz"


@st.composite
def who_serves(draw: st.DrawFn) -> tuple[dict[str, set[str]], dict[str, set[str]]]:
    """Draw the beds that each way serves by itself, and those it may."""
    may = {way: draw(st.sets(st.sampled_from(BEDS))) for way in WAYS}
    met = {way: {bed for bed in beds if draw(st.booleans())} for way, beds in may.items()}
    return met, may


def served_by(chain: tuple[str, ...], may: dict[str, set[str]]) -> dict[str, list[str]]:
    """Return which ways are asked for each bed, in their order: what a chain comes to."""
    return {bed: [way for way in chain if bed in may[way]] for bed in BEDS}


def all_chains(met: dict[str, set[str]], may: dict[str, set[str]]) -> list[tuple[str, ...]]:
    """Return every order of ways in which each may serve what those before it do not."""
    found = []
    for count in range(1, len(WAYS) + 1):
        for chain in permutations(WAYS, count):
            left = [set(BEDS).difference(*(met[way] for way in chain[:at])) for at in range(count)]
            if all(may[way] & of for way, of in zip(chain, left, strict=True)) and all(
                met[way] for way in chain[:-1]
            ):
                found.append(chain)
    return found


@draws(200)
@given(who_serves())
def test_every_order_that_differs_is_tried(served: tuple[dict[str, set[str]], dict[str, set[str]]]) -> None:
    """Of orders in which each bed is asked about by the same ways in turn, one is enough."""
    met, may = served
    found = Chains(set(BEDS), met, may, dict.fromkeys(WAYS, Decimal(1))).found(beside_all=False)
    tried = {str(served_by(chain, may)) for chain in found}
    for chain in all_chains(met, may):
        assert str(served_by(chain, may)) in tried, chain
    assert len(found) == len(set(found))


@pytest.mark.parametrize("count", [6, 8, 30])
def test_beds_that_each_have_a_way_of_their_own_are_all_served(
    site_of: SiteOf, bed: Callable[..., Plain], count: int
) -> None:
    """Where there are too many ways to try all orders, what they serve together is not left out."""
    beds = [
        bed({"dress": {"depth": "1 cm"}}, name=f"bed {number}", ways=[f"way {number}"])
        for number in range(count)
    ]
    sellers = [
        {"name": f"way {number}", "buy": {"material": "green compost", "price": "30 EUR/m3"}}
        for number in range(count)
    ]
    whole = cheapest(options(site_of(beds, sellers)))
    assert len(whole.together.unmet) == 0
    assert whole.together.met == count
