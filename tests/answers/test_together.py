"""One load for all who want it, needs settled one beside the other, and an order sheet that agrees."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from plan_sites import SOIL

from barrowful.answers.option import Option
from barrowful.answers.orders import sheet
from barrowful.measures.dates import read_step
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
Total = Callable[..., Any]
Decide = Callable[..., Any]


def test_one_load_serves_several_places(site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf) -> None:
    """Three places that take 3 m3 each share one load of 10 m3: one price, one trip, one order."""
    lifted = {"lift": ["yearly_depth"]}
    places = [bed({"dress": {"depth": "30 cm"}}, name=name) for name in ("one", "two", "three")]
    site = site_of(places, [buy(price="90 EUR/load", load="10 m3", delivery="20 EUR")], limits=lifted)
    row = row_of(site, "dress")
    assert (row.loose, row.cash) == (pytest.approx(9.0), Decimal(110))
    found = sheet(site)
    assert len(found.orders) == 1
    assert found.orders[0].order.trips == 1
    assert found.orders[0].order.leftover == pytest.approx(1.0)
    assert [(share.place.name, share.loose) for share in found.shares] == [
        ("one", pytest.approx(3.0)),
        ("two", pytest.approx(3.0)),
        ("three", pytest.approx(3.0)),
    ]


def test_one_load_serves_several_needs(site_of: SiteOf, bed: Describe, buy: Describe, total: Total) -> None:
    """A cover here and a dressing there out of one load: the whole site pays for one."""
    places = [
        bed({"cover": {"depth": "30 cm", "settled": False}}, name="one"),
        bed({"dress": {"depth": "30 cm"}}, name="two"),
    ]
    site = site_of(
        places,
        [buy(material="chipped wood", price="90 EUR/load", load="10 m3")],
        horizon="1 year",
        limits={"lift": ["cover_depth", "suits"]},
    )
    assert total(site).cash == Decimal(90)
    assert total(site).loose == pytest.approx(6.0)
    assert [line.order.cash for line in sheet(site).orders] == [Decimal(90)]


#: A look ahead of one season; the compost's phosphorus counts whole, and any depth may go on.
ONE_SEASON: dict[str, Any] = {"horizon": "1 year", "limits": {"lift": ["yearly_depth", "available_nitrogen"]}}


@pytest.fixture(scope="session")
def season_of(site_of: SiteOf, apart: Any) -> SiteOf:
    """Give a function that returns a site that looks one season ahead, its compost's phosphorus usable."""
    usable = {**apart.stuff, "dark stuff": {**apart.stuff["dark stuff"], "available_phosphorus": "100 %"}}

    def build(places: list[Any], ways: list[Any]) -> Site:
        return site_of(places, ways, materials=usable, **ONE_SEASON)

    return build


def test_a_feed_counts_what_a_dressing_brings(
    season_of: SiteOf, bed: Describe, buy: Describe, total: Total
) -> None:
    """Compost that dresses a bed 3 cm deep feeds it too; of a thin dressing the feed makes up the rest.

    The feed wants 10 m2 x 2 g = 20 g of phosphorus, which is in 20 / 0.25 % / 55 % dry / 600 kg = 24.2 L.
    """
    feeds = {"feed": {"phosphorus": "2 g/m2"}}
    fed = 10 * 0.002 / 0.0025 / 0.55 / 600
    deep = season_of([bed({"dress": {"depth": "3 cm"}}, feeds)], [buy()])
    assert total(deep).loose == pytest.approx(0.3)
    assert total(deep, "yard").loose == pytest.approx(0.3)
    assert total(deep).unmet == ()
    thin = season_of([bed({"dress": {"depth": "1 mm"}}, feeds)], [buy()])
    doses = {share.kind: share.loose for share in sheet(thin).shares}
    assert doses == {"dress": pytest.approx(0.01), "feed": pytest.approx(fed - 0.01)}


def test_what_a_dressing_brings_counts_in_its_own_place(
    season_of: SiteOf, bed: Describe, buy: Describe, total: Total
) -> None:
    """The deep dressing of one bed feeds that bed and no other; each bed is brought to what it wants."""
    fed = 10 * 0.02 / 0.0025 / 0.55 / 600
    places = [
        bed({"dress": {"depth": "5 cm"}}, {"feed": {"phosphorus": "20 g/m2"}}, name="one"),
        bed({"dress": {"depth": "1 cm"}}, {"feed": {"phosphorus": "20 g/m2"}}, name="two"),
    ]
    assert total(season_of(places, [buy()])).loose == pytest.approx(0.5 + fed)


def test_a_dressing_by_one_way_counts_for_a_feed_by_another(
    season_of: SiteOf, bed: Describe, buy: Describe, total: Total
) -> None:
    """Bags for the small need and bulk for the large one bring one material to one bed: no more than it wants."""
    needs = [{"dress": {"depth": "5 mm"}}, {"feed": {"phosphorus": "40 g/m2"}}]
    ways = [
        buy(name="bags", price="3 EUR/bag", bag="25 L"),
        buy(name="bulk", price="20 EUR/m3", delivery="15 EUR"),
    ]
    found = total(season_of([bed(*needs)], ways))
    assert found.loose == pytest.approx(max(10 * 0.005, 10 * 0.04 / 0.0025 / 0.55 / 600))
    assert found.unmet == ()


@pytest.mark.parametrize("dug", [True, False])
def test_a_dressing_counts_a_raise_in_its_own_manner_alone(
    season_of: SiteOf, bed: Describe, buy: Describe, total: Total, dug: bool
) -> None:
    """What a raise digs in is part of a dressing that is dug in, 50 L here; one on top comes beside it."""
    raised = {"raise": {"organic_matter": "2.2 %", "depth": "15 cm", "by": "2027-09-01", "hold": "0 days"}}
    alone = total(season_of([bed(raised)], [buy()])).loose
    found = total(season_of([bed(raised, {"dress": {"depth": "5 mm", "dug": dug}})], [buy()]))
    assert 0 < alone < 0.05
    assert found.unmet == ()
    assert found.loose == pytest.approx(0.05 if dug else 0.05 + alone)


def test_a_fill_is_beside_what_feeds_it(site_of: SiteOf, bed: Describe, buy: Describe, total: Total) -> None:
    """A box is filled and then fed: what fills it is the ground, not a dose."""
    needs = [{"fill": {"depth": "30 cm", "settled": False}}, {"dress": {"depth": "2 cm"}}]
    site = site_of([bed(*needs)], [buy()], limits={"lift": ["fill_share"]})
    assert total(site).loose == pytest.approx(3.0 + 0.2)


def test_a_stock_is_not_spread_twice(site_of: SiteOf, bed: Describe, total: Total) -> None:
    """A pile of 1.5 m3 cannot both cover one bed and dress another with 1 m3 each."""
    places = [
        bed({"cover": {"depth": "10 cm", "settled": False}}, name="one"),
        bed({"dress": {"depth": "10 cm"}}, name="two"),
    ]
    site = site_of(
        places,
        [{"name": "pile", "have": {"material": "chipped wood", "amount": "1.5 m3"}}],
        horizon="1 year",
        limits={"lift": ["suits"]},
    )
    assert sum(share.loose for share in sheet(site).shares) <= 1.5 + 1e-9
    assert total(site).loose <= 1.5 + 1e-9


def test_a_stock_goes_on_the_heap_or_on_the_ground(
    site_of: SiteOf, bed: Describe, buy: Describe, decided: Decide
) -> None:
    """What a heap has drawn from a pile is no longer there to mulch with."""
    stock = {"name": "pile", "have": {"material": "chipped wood", "amount": "1 m3"}}
    heap = {
        "name": "heap",
        "make": {
            "bay": "1 m3",
            "turn_every": "2 weeks",
            "from": [
                {"way": "pile"},
                {"material": "coffee grounds", "mass": "400 kg"},
                {"material": "grass clippings", "volume": "2 m3"},
            ],
        },
    }
    places = [
        bed({"cover": {"depth": "10 cm", "settled": False}}, name="one"),
        bed({"fill": {"depth": "1 cm", "settled": False}}, name="two", ways=["heap"]),
    ]
    site = site_of(places, [stock, heap])
    found = decided(site)
    spread = sum(share.loose for share in sheet(site).shares if share.way == "pile")
    supply = found.answer.supplies["heap"]
    heaped = any(row.name == "heap" for row in found.chosen)
    used = supply.batches[0].recipe.mass_of(0) / 280 if heaped else 0.0  # type: ignore[attr-defined]
    assert used > 0 or "fill" not in {row.need for row in found.chosen}
    assert spread + used <= 1.0 + 1e-9


AMOUNTS = st.integers(1, 40)
NEEDS = st.fixed_dictionaries(
    {},
    optional={
        "fill": AMOUNTS.map(lambda n: {"depth": f"{n} cm"}),
        "lime": AMOUNTS.map(lambda n: {"ph": f"{5.6 + n / 40:.6g}"}),
        "cover": AMOUNTS.map(lambda n: {"depth": f"{n} cm"}),
        "dress": AMOUNTS.map(lambda n: {"depth": f"{n} mm"}),
        "feed": AMOUNTS.map(lambda n: {"phosphorus": f"{n} g/m2"}),
        "raise": AMOUNTS.map(
            lambda n: {"organic_matter": f"{2 + n / 50:.6g} %", "depth": "20 cm", "by": "2029-06-01"}
        ),
    },
)
SELLERS = st.lists(
    st.tuples(
        st.sampled_from(["dark stuff", "chipped wood", "wood ash", "topsoil"]),
        st.integers(1, 80),
        st.integers(0, 90),
        st.integers(0, 20),
    ),
    min_size=1,
    max_size=4,
)


@draws(40)
@given(st.lists(NEEDS, min_size=1, max_size=3), SELLERS)
def test_the_order_sheet_is_the_whole_site(
    site_of: SiteOf,
    bed: Describe,
    buy: Describe,
    total: Total,
    decided: Decide,
    needs: list[dict[str, Any]],
    sellers: list[tuple[str, int, int, int]],
) -> None:
    """With sellers alone, the orders cost what the whole-site row that is followed costs, the cheapest."""
    places = [
        bed(*({kind: words} for kind, words in each.items()), name=f"bed {index}")
        for index, each in enumerate(needs)
    ]
    ways = [
        buy(
            name=f"way {index}",
            material=stuff,
            price=f"{price} EUR/m3",
            delivery=f"{lorry} EUR",
            lead=f"{weeks} weeks",
        )
        for index, (stuff, price, lorry, weeks) in enumerate(sellers)
    ]
    site = site_of(places, ways, soil=SOIL)
    found, followed = sheet(site), decided(site)
    if not followed.chosen:
        assert not found.orders
        return
    row = total(site, followed.title)
    assert sum((line.order.cash for line in found.orders), Decimal(0)) == row.cash
    assert sum(share.loose for share in found.shares) == pytest.approx(row.loose)
    ordered = sum(line.order.volume - line.order.leftover for line in found.orders)
    assert ordered == pytest.approx(row.loose)
    each_need = total(site)
    assert len(row.met) > len(each_need.met) or row.cash <= each_need.cash


def test_the_order_sheet_follows_a_plan(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A plan's amount and date stand over the tool's own choice."""
    ways = [buy(), buy(name="dear", price="90 EUR/m3")]
    plan = [{"place": "bed", "need": "dress", "way": "dear", "amount": "2 m3", "date": "2027-05-05"}]
    found = sheet(site_of([bed({"dress": {"depth": "2 cm"}})], ways, plan=plan))
    line = found.orders[0]
    assert (line.way.name, line.order.cash, str(line.needed)) == ("dear", Decimal(180), "2027-05-05")


def test_two_dated_lines_of_a_plan_are_two_applications(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """A cubic metre in April and one in September are two, ordered for their own days."""
    line = {"place": "bed", "need": "dress", "way": "yard", "amount": "1 m3"}
    plan = [{**line, "date": "2027-04-01"}, {**line, "date": "2027-09-01"}]
    found = sheet(site_of([bed({"dress": {"depth": "2 cm"}})], [buy()], plan=plan))
    assert [(str(line.needed), line.order.cash) for line in found.orders] == [
        ("2027-04-01", Decimal(40)),
        ("2027-09-01", Decimal(40)),
    ]


@pytest.mark.parametrize("what", ["seed", "ingredient"])
def test_all_that_is_paid_for_stands_on_the_order_sheet(
    site_of: SiteOf, bed: Describe, what: str, total: Total
) -> None:
    """Seed for a cover crop and stuff bought for a heap cost money, so they are on the order sheet."""
    ways = {
        "seed": {"grow": {"plant": "rye", "area": "100 m2", "planted": "2027-09-13", "seed": "3 EUR/kg"}},
        "ingredient": {
            "make": {
                "bay": "1 m3",
                "turn_every": "2 weeks",
                "from": [
                    {"material": "chipped wood", "volume": "9 m3"},
                    {"material": "grass clippings", "volume": "2 m3"},
                    {"material": "coffee grounds", "mass": "2 t", "price": "0.31 EUR/kg"},
                ],
            }
        },
    }
    site = site_of([bed({"dress": {"depth": "1 cm"}})], [{"name": "way", **ways[what]}])
    assert total(site).cash > 0
    assert sum((one.cash for one in sheet(site).payments), Decimal(0)) == total(site).cash


def test_orders_by_one_way_cost_what_its_row_says(
    site_of: SiteOf, bed: Describe, buy: Describe, total: Total
) -> None:
    """All that one way can serve in time is ordered for the cash of that way's row of the whole site."""
    needs = [
        {"raise": {"organic_matter": "6 %", "depth": "15 cm", "by": "2029-09-01"}},
        {"cover": {"depth": "4 cm"}},
    ]
    site = site_of([bed(*needs)], [buy()])
    assert (
        sum((line.order.cash for line in sheet(site, "yard").orders), Decimal(0)) == total(site, "yard").cash
    )


@pytest.mark.parametrize(("lead", "order_by"), [("2 weeks", "2028-02-16"), ("1 month", "2028-02-01")])
def test_orders_are_placed_in_time(
    site_of: SiteOf, bed: Describe, buy: Describe, lead: str, order_by: str
) -> None:
    """The day to order lies the lead before the day it is needed, never before the start."""
    plan = [{"place": "bed", "need": "dress", "way": "yard", "date": "2028-03-01"}]
    site = site_of([bed({"dress": {"depth": "2 cm"}})], [buy(lead=lead)], plan=plan)
    line = sheet(site).orders[0]
    assert (str(line.order_by), str(line.needed)) == (order_by, "2028-03-01")
    assert line.earliest is None
    first = sheet(site_of([bed({"dress": {"depth": "2 cm"}})], [buy(lead=lead)])).orders[0]
    assert (first.order_by, first.earliest) == (site.start, None)


@draws(60)
@given(st.integers(0, 400), st.integers(0, 400), st.sampled_from(["days", "weeks", "months"]))
def test_a_day_the_lead_cannot_meet(
    site_of: SiteOf, bed: Describe, buy: Describe, ahead: int, lead: int, unit: str
) -> None:
    """A typed day is late just when ordering on the start comes later; the row and a warning say when it can be."""
    day = date(2027, 3, 1) + timedelta(ahead)
    plan = [{"place": "bed", "need": "dress", "way": "yard", "amount": "200 L", "date": f"{day}"}]
    site = site_of([bed({"dress": {"depth": "2 cm"}})], [buy(lead=f"{lead} {unit}")], plan=plan)
    found = sheet(site)
    line = found.orders[0]
    earliest = read_step(f"{lead} {unit}").after(site.start)
    assert line.needed == day
    if day >= earliest:
        assert line.earliest is None
        assert site.start <= line.order_by <= day
        assert found.selection.warnings == []
    else:
        assert line.earliest == earliest
        assert line.order_by < site.start
        [warning] = found.selection.warnings
        assert f"wanted on {day}, but comes on {earliest} at the soonest" in warning


def test_many_late_lines_are_one_warning(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Of several lines that come too late the latest is named, and how many more there are."""
    days = {"one": "2027-03-20", "two": "2027-03-05", "three": "2027-04-30"}
    beds = [bed({"dress": {"depth": "2 cm"}}, name=name) for name in days]
    plan = [{"place": name, "need": "dress", "way": "yard", "date": day} for name, day in days.items()]
    [warning] = sheet(site_of(beds, [buy(lead="6 weeks")], plan=plan)).selection.warnings
    assert warning == (
        "plan: two, dress by yard is wanted on 2027-03-05, but comes on 2027-04-12 at the soonest when it is"
        " ordered on 2027-03-01 (and 1 more late)"
    )
