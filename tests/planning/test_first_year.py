"""Money of the first year: nothing goes over it, and what it does not do for waits for the second."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

import barrowful
from barrowful.answers.options import options
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import Limited
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
Bed = Callable[..., Plain]
#: Stuff at 50 a cubic metre: a square metre dressed 2 cm deep costs 1.
YARD = {"name": "yard", "buy": {"material": "dark stuff", "price": "50 EUR/m3", "lead": "2 weeks"}}
CHIP = {"name": "chip", "buy": {"material": "chipped wood", "price": "50 EUR/m3"}}
DRESS = {"dress": {"depth": "2 cm"}}
SECOND_YEAR = date(2028, 3, 1)


def described(bed: Bed, *areas: float, need: Plain = DRESS, **more: Any) -> Plain:
    """Return a site of beds with one need."""
    places = [bed(need, area=area, name=f"bed of {area}") for area in areas]
    return {"horizon": "3 years", "places": places, "ways": [YARD, CHIP], **more}


def planned(data: bytes, first_year: str) -> Plan | None:
    """Return the plan within so much money in the first year."""
    answer = options(load(data, "field.yaml").site)
    limited = Limited.of(answer)
    return plan_of(answer, Limited(cash=limited.cash, by=limited.by, cash_first_year=Decimal(first_year)))


@pytest.mark.parametrize(
    ("first_year", "put_off"),
    [("0", {1, 2, 4}), ("0.99", {1, 2, 4}), ("1", {2, 4}), ("3.5", {4}), ("6", {1}), ("7", set())],
)
def test_what_does_not_fit_waits(bytes_of: BytesOf, bed: Bed, first_year: str, put_off: set[int]) -> None:
    """Beds of 1, 2 and 4 m2 cost 1, 2 and 4: as few as may be wait, for the first day of the second year."""
    plan = planned(bytes_of(described(bed, 1, 2, 4)), first_year)
    assert plan is not None
    assert len(plan.whole.places_met) == 3
    assert plan.whole.bill.cash == 7
    assert plan.whole.bill.cash_first_year <= Decimal(first_year)
    late = {line.place for line in plan.lines if line.day is not None and line.day >= SECOND_YEAR}
    assert len(late) == len(put_off)
    assert {line.day for line in plan.lines if line.place in late} <= {SECOND_YEAR}
    assert {name for _, name in plan.put_off} == late
    assert plan.proven


def test_a_cover_begins_with_the_second_year(bytes_of: BytesOf, bed: Bed) -> None:
    """It is not put off further, though begun later it would cost less to the horizon."""
    plan = planned(bytes_of(described(bed, 4, need={"cover": {"depth": "5 cm"}})), "1")
    assert plan is not None
    assert min(dose.day for dose in plan.whole.together.all_doses) == SECOND_YEAR


@pytest.mark.parametrize("limits", [{"by": "2027-12-01"}, {"cash": "0.80 EUR"}])
def test_nothing_that_fits_is_no_plan(bytes_of: BytesOf, bed: Bed, limits: Plain) -> None:
    """Where nothing can be met in the money there is that is said, as it is for any other limit."""
    data = bytes_of(described(bed, 1, 2, limits=limits))
    with pytest.raises(barrowful.CannotMeet, match="no need can be met: dress, bed of 1: ") as none:
        barrowful.plan(barrowful.load(data), cash_first_year="0.40 EUR")
    wanted = "0.60 EUR more would do (cash in the first year)" if "by" in limits else "0.20 EUR more would do"
    assert wanted in str(none.value)


def test_what_fits_is_met_alone(bytes_of: BytesOf, bed: Bed) -> None:
    """Where nothing may wait, only what fits is met, and how much more the rest takes is told."""
    data = bytes_of(described(bed, 1, 2, 4, limits={"by": "2027-12-01"}))
    report = barrowful.plan(barrowful.load(data), cash_first_year="3 EUR")
    rows = {table.name: table.rows for table in report.tables}
    [totals] = rows["plan_totals"]
    assert (totals["places_met"], totals["cash_first_year"], totals["proven"]) == (2, 3, True)
    assert {line["place"] for line in rows["plan"]} == {"bed of 1", "bed of 2"}
    assert {clash["place"] for clash in rows["clash"]} == {"bed of 4"}
    assert ("cash in the first year", "4.00 EUR more") in {
        (clash["limit"], clash["least_change"]) for clash in rows["clash"]
    }


def test_what_waits_is_told(bytes_of: BytesOf, bed: Bed) -> None:
    """The first lines say what is put off, and nothing of it where nothing is."""
    site = barrowful.load(bytes_of(described(bed, 1, 2)))
    told = " ".join(barrowful.plan(site, cash_first_year="1 EUR").answer)
    assert "Put off to the second year, within the money of the first: dress, bed of 2." in told
    assert "Put off" not in " ".join(barrowful.plan(site, cash_first_year="3 EUR").answer)


def test_litres_do_not_go_over_it(bytes_of: BytesOf, bed: Bed) -> None:
    """Where rounding up to litres would go over the money there is, amounts stay as they are."""
    plan = planned(bytes_of(described(bed, 1.0333)), "1.04")
    assert plan is not None
    assert plan.whole.bill.cash_first_year == Decimal("1.03")
