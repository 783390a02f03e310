"""Who gets what there is too little of: by priority, and nothing thinner than is worth spreading."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.orders import Sheet, sheet
from barrowful.site.records import Site
from barrowful.supplies.lot import Lot
from barrowful.supplies.stock import Lots, Stock

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Short = Callable[..., Site]


@pytest.fixture(scope="module")
def short(site_of: SiteOf, bed: Describe) -> Short:
    """Give a function that returns a site where beds are to be dressed 2 cm deep of one pile [m3].

    The beds are told by area [m2] and priority: they want 2 m3, 0.6 m3 and 6 m3 where nothing is said.
    """

    def build(pile: float, beds: dict[str, tuple[int, int]] | None = None, **more: Any) -> Site:
        told = beds or {"large": (100, 1), "small": (30, 2), "huge": (300, 3)}
        places = [
            bed({"dress": {"depth": "2 cm"}}, name=name, area=area, priority=str(priority))
            for name, (area, priority) in told.items()
        ]
        stock = {"name": "pile", "have": {"material": "dark stuff", "amount": f"{pile} m3"}}
        return site_of(places, [stock], horizon="1 year", **more)

    return build


def given(ordered: Sheet) -> dict[str, float]:
    """Return what each place gets [m3]."""
    return {dose.place.name: pytest.approx(dose.loose) for dose in ordered.shares}


def test_the_first_priority_is_served_first(short: Short) -> None:
    """2.2 m3 fill the large bed, which comes first; the small one would come first among equals."""
    assert given(sheet(short(2.2))) == {"large": 2.0}
    assert given(sheet(short(2.2, {"large": (100, 2), "small": (30, 2)}))) == {"small": 0.6}


def test_what_is_not_met_stands_back(short: Short) -> None:
    """1.6 m3 are too little for the large bed: nothing goes there, and the small one is met."""
    assert given(sheet(short(1.6))) == {"small": 0.6}


def test_in_part_the_first_keeps_what_there_is(short: Short) -> None:
    """Where a part is wanted all the same, the first in turn gets all of it."""
    assert given(sheet(short(1.6), partial=True)) == {"large": 1.6}


def test_nothing_too_thin_is_spread(short: Short) -> None:
    """0.4 m3 on 100 m2 are 4 mm, less than the usual 5: they go to the next bed, where they lie 13 mm deep."""
    assert given(sheet(short(0.4), partial=True)) == {"small": 0.4}
    assert given(sheet(short(0.6), partial=True)) == {"large": 0.6}
    assert given(sheet(short(0.4, limits={"useful_depth": "4 mm"}), partial=True)) == {"large": 0.4}
    assert given(sheet(short(0.6, limits={"useful_depth": "7 mm"}), partial=True)) == {"small": 0.6}


def test_a_place_has_its_own_thinnest_layer(site_of: SiteOf, bed: Describe) -> None:
    """What a place says of it stands over what the site says."""
    stock = {"name": "pile", "have": {"material": "dark stuff", "amount": "0.1 m3"}}
    place = bed({"dress": {"depth": "2 cm"}}, area=30, limits={"useful_depth": "3 mm"})
    assert sheet(site_of([place], [stock], limits={"useful_depth": "1 cm"}), partial=True).shares
    assert not sheet(site_of([{**place, "limits": {}}], [stock]), partial=True).shares


def test_who_lacks_what(short: Short) -> None:
    """Wanted, given and short of each place, in their turn: what is wanted is its 2 cm.

    The 0.2 m3 that are left would go to the small bed next.
    """
    rows = {of.place.name: of for of in sheet(short(2.2)).short}
    assert list(rows) == ["large", "small", "huge"]
    assert {name: of.wanted for name, of in rows.items()} == pytest.approx(
        {"large": 2.0, "small": 0.6, "huge": 6.0}
    )
    assert {name: of.short for name, of in rows.items()} == pytest.approx(
        {"large": 0.0, "small": 0.6, "huge": 6.0}
    )
    assert rows["large"].layer == pytest.approx(0.02)
    assert [of.why[:13] for of in rows.values()] == ["", "0.4 m3 short ", "6 m3 short by"]


def test_where_there_is_enough_nothing_is_short(short: Short) -> None:
    """With 9 m3 all three beds are met."""
    assert sheet(short(9.0)).short == []


RAISE = {"raise": {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2028-03-01", "hold": "1 month"}}


def test_raises_take_their_turn(site_of: SiteOf, bed: Describe) -> None:
    """Of a pile that does for one of two equal beds, the one with the first priority is raised."""
    stock = {"name": "pile", "have": {"material": "dark stuff", "amount": "0.06 m3"}}

    def raised(first: str) -> list[str]:
        places = [bed(RAISE, name=name, priority="1" if name == first else "3") for name in ("one", "two")]
        return list(given(sheet(site_of(places, [stock]))))

    assert (raised("one"), raised("two")) == (["one"], ["two"])


def test_a_limit_goes_by_priority_too(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """80 buys 2 m3, which is what the large bed wants; with the small one first, 24 is spent and 56 left."""

    def bought(cash: str, large: int, partial: bool = False) -> tuple[dict[str, float], list[str]]:
        beds = [("large", 100, large), ("small", 30, 2)]
        places = [
            bed({"dress": {"depth": "2 cm"}}, name=name, area=area, priority=str(of))
            for name, area, of in beds
        ]
        site = site_of(places, [buy()], horizon="1 year", limits={"cash": cash})
        ordered = sheet(site, partial=partial)
        return given(ordered), [of.place.name for of in ordered.short if of.short]

    assert bought("80 EUR", 1) == ({"large": 2.0}, ["small"])
    assert bought("80 EUR", 3) == ({"small": 0.6}, ["large"])
    assert bought("79 EUR", 1) == ({"small": 0.6}, ["large"])
    assert bought("104 EUR", 3) == ({"large": 2.0, "small": 0.6}, [])
    assert bought("23 EUR", 1) == ({}, ["large", "small"])
    assert bought("80 EUR", 1, partial=True) == bought("80 EUR", 1)


def test_what_rounding_leaves_is_nothing_to_put_on() -> None:
    """A lot of 0.6 m3 taken in thirds is used up: a last 0.00000000000000006 m3 is nobody's dose."""
    day = date(2027, 3, 1)
    stock = Stock(Lots([Lot(day, 0.6)], keeps=True, until=day.toordinal()))
    parts = [stock.take(day.toordinal(), 0.6 / 3) for _ in range(3)]
    assert parts == pytest.approx([0.2, 0.2, 0.2])
    assert stock.take(day.toordinal(), 1.0) == 0
    assert stock.nothing_by(day)


def test_a_part_is_of_the_way_that_meets_most(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Where none of two ways meets a feed whole, --partial takes the one that meets most, whichever costs nothing."""
    little = {"name": "pellets", "have": {"material": "pelleted poultry manure", "amount": "1 kg"}}
    place = bed({"feed": {"nitrogen": "12 g/m2", "potassium": "60 g/m2"}})
    sacks = buy("sacks", "pelleted poultry manure", "2 EUR/kg")
    ordered = sheet(site_of([place], [little, sacks], horizon="1 year"), partial=True)
    assert [of.way for of in ordered.shares] == ["sacks"]
