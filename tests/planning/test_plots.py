"""Places that are alike but for their size: where not all can be met, as many are as may be."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from itertools import accumulate
from typing import Any

import pytest

from barrowful.answers.options import options
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import Limited
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
Bed = Callable[..., Plain]
DRESS = {"dress": {"depth": "2 cm"}}
#: Stuff at 50 a cubic metre: a square metre dressed 2 cm deep costs 1.
YARD = {"name": "yard", "buy": {"material": "dark stuff", "price": "50 EUR/m3"}}
SIZES = (2, 3, 3, 5, 8, 13)
#: Money a rounding to litres may add.
ROUNDING = Decimal("0.10")


def planned(
    bytes_of: BytesOf, places: list[Plain], ways: list[Plain], horizon: str = "1 year", **limits: str
) -> Plan | None:
    """Return the plan of some places by some ways within limits."""
    described = {"horizon": horizon, "places": places, "ways": ways, "limits": limits}
    answer = options(load(bytes_of(described), "field.yaml").site)
    return plan_of(answer, Limited.of(answer))


def beds(bed: Bed, sizes: tuple[float, ...], need: Plain = DRESS, **more: Any) -> list[Plain]:
    """Return beds of some sizes, the largest first."""
    return [bed(need, area=size, name=f"bed {number}", **more) for number, size in enumerate(sizes[::-1])]


@pytest.mark.parametrize("cash", [1, 2, 4.99, 5, 8, 12.99, 13, 20, 33.99, 34])
def test_money_for_some_beds(bytes_of: BytesOf, bed: Bed, cash: float) -> None:
    """The smallest beds are dressed, one after another as far as the money goes."""
    plan = planned(bytes_of, beds(bed, SIZES), [YARD], cash=f"{cash} EUR")
    spent = [each for each in accumulate(SIZES) if each <= cash]
    if not spent:
        assert plan is None
        return
    assert plan is not None
    assert len(plan.whole.places_met) == len(spent)
    assert spent[-1] <= plan.whole.bill.cash <= min(spent[-1] + ROUNDING, Decimal(str(cash)))
    assert plan.proven


@pytest.mark.parametrize("count", [5, 20, 37])
@pytest.mark.parametrize("share", [0.1, 0.52, 0.95])
def test_any_number_of_the_same(bytes_of: BytesOf, bed: Bed, count: int, share: float) -> None:
    """Of beds that are the same just as many are dressed as there is money for, however many they are."""
    enough = max(1, int(count * share))
    plan = planned(bytes_of, beds(bed, (4,) * count), [YARD], cash=f"{4 * enough + 3} EUR")
    assert plan is not None
    assert len(plan.whole.places_met) == enough
    assert plan.whole.bill.cash == 4 * enough
    assert plan.proven


def test_hours_for_some_beds(bytes_of: BytesOf, bed: Bed) -> None:
    """Hours that do for the smallest of two beds dress it."""
    whole = planned(bytes_of, beds(bed, (20,)), [YARD])
    assert whole is not None
    hours = whole.whole.bill.hours.compared
    plan = planned(bytes_of, beds(bed, (20, 60)), [YARD], hours=f"{hours * 1.5:.3f} h")
    assert plan is not None
    assert {name for _, name in plan.whole.places_met} == {"bed 1"}


def test_what_there_is_goes_to_some_beds(bytes_of: BytesOf, bed: Bed) -> None:
    """What lies there does for the smallest bed of three, and no more is to be had."""
    heap = {"name": "heap", "have": {"material": "dark stuff", "amount": "90 L"}}
    plan = planned(bytes_of, beds(bed, (4, 5, 6)), [heap])
    assert plan is not None
    assert {name for _, name in plan.whole.places_met} == {"bed 2"}


def test_stock_and_money_together(bytes_of: BytesOf, bed: Bed) -> None:
    """The two smallest of three beds take what lies there and one delivery: 0.9 m3 at 40, and 30."""
    heap = {"name": "heap", "have": {"material": "dark stuff", "amount": "900 L"}}
    yard = {"name": "yard", "buy": {"material": "dark stuff", "price": "40 EUR/m3", "delivery": "30 EUR"}}
    plan = planned(bytes_of, beds(bed, (40, 50, 60)), [heap, yard], cash="110 EUR")
    assert plan is not None
    assert len(plan.whole.places_met) == 2
    assert 66 <= plan.whole.bill.cash <= 66 + ROUNDING
    assert plan.proven


def test_a_stock_that_comes_each_year(bytes_of: BytesOf, bed: Bed) -> None:
    """Beds that are the same are covered for no more than beds that are told apart by their clay.

    What there is each year covers one after another: that is less than to begin all at once.
    """
    ways = [
        {"name": "yard", "buy": {"material": "chipped wood", "price": "90 EUR/m3"}},
        {"name": "pile", "have": {"material": "chipped wood", "amount": "900 L", "per_year": True}},
    ]
    need, sizes = {"cover": {"depth": "2 cm"}}, (45.0, 45.0, 45.0)
    same = planned(bytes_of, beds(bed, sizes, need), ways, "3 years")
    apart = [{**each, "soil": {"clay": f"{10 + n} %"}} for n, each in enumerate(beds(bed, sizes, need))]
    other = planned(bytes_of, apart, ways, "3 years")
    assert same is not None
    assert other is not None
    assert same.whole.bill.cash <= other.whole.bill.cash


def test_what_is_too_much_to_look_at_place_by_place_is_told(
    bytes_of: BytesOf, bed: Bed, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where time does not allow plots, nothing is said to be proven of beds of which some are left out."""
    from barrowful.planning import plots
    from barrowful.planning.told import proof_of

    monkeypatch.setattr(plots, "MOST_AMOUNTS", 1)
    plan = planned(
        bytes_of,
        [*beds(bed, SIZES), bed(DRESS, area=1, name="other", soil={"clay": "9 %"})],
        [YARD],
        cash="1.50 EUR",
    )
    assert plan is not None
    assert (plan.coarse, plan.proven) == (True, False)
    assert "planned in lots" in proof_of(plan)
