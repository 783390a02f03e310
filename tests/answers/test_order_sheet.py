"""The order sheet a grower can phone with: sellers, days, places, questions, cautions and what it comes to."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from barrowful.answers.order_lines import OrderLine
from barrowful.answers.orders import Sheet, sheet, told
from barrowful.cli.main import exit_code
from barrowful.measures.problems import Problem
from barrowful.site.records import Site
from barrowful.tables.order_sheet import tables_of

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
DEMO = Path(__file__).parents[2] / "demo"
DRESS = {"dress": {"depth": "2 cm", "allowance": "10 %"}}


@pytest.fixture(scope="module")
def field(site_of: SiteOf, bed: Describe, buy: Describe) -> Site:
    """Give a site with a seller of two stuffs, one of chip that tips on the pavement, and yearly feeds."""
    quarry = {"seller": "Quarry", "delivery": "30 EUR", "lead": "2 weeks", "tax": "10 %"}
    ways = [
        buy(name="soil", material="topsoil", **quarry),
        buy(name="crew", material="chipped wood", drop="pavement", drop_at="by the postbox", lead="5 weeks"),
        buy(name="yard", **quarry),
    ]
    pot = {
        **bed({"fill": {"volume": "100 L", "mix": {"compost": "30..40 %", "soil": "60..70 %"}}}),
        "kind": "pot",
    }
    places = [
        bed(DRESS, name="one", ways=["yard"]),
        bed({"dress": {"depth": "2 cm"}}, name="two", area=20, ways=["yard"]),
        bed({"cover": {"depth": "6 cm"}}, name="berries", ways=["crew"]),
        {**pot, "name": "pots", "count": 5, "ways": ["yard", "soil"]},
    ]
    return site_of(places, ways, drop_at="by the lower gate", labour={"push": "20 m"})


@pytest.fixture(scope="module")
def whole(field: Site) -> Sheet:
    """Give the order sheet of the whole horizon."""
    return sheet(field)


@pytest.fixture(scope="module")
def lines(whole: Sheet) -> dict[str, OrderLine]:
    """Give the first line of each way."""
    return {line.way.name: line for line in reversed(whole.orders)}


def test_those_of_a_seller_stand_together(whole: Sheet) -> None:
    """Sellers come in the order they are to be rung, and all of one before the next."""
    sellers = [line.seller for line in whole.orders]
    assert sellers == sorted(sellers, key=sellers.index)
    assert set(sellers) == {"Quarry", "crew"}
    for seller in set(sellers):
        days = [line.order_by for line in whole.orders if line.seller == seller]
        assert days == sorted(days)


def test_extra_is_told_of_what_an_order_brings(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """0.2 m3 with a tenth on top and 0.2 without are 0.42 m3, which is 5 % more than is bare wanted."""
    plain = bed({"dress": {"depth": "2 cm"}}, name="plain")
    (line,) = sheet(site_of([bed(DRESS), plain], [buy()], horizon="1 year")).orders
    assert line.order.volume == pytest.approx(0.42)
    assert line.allowance == pytest.approx(0.05)
    (line,) = sheet(site_of([plain], [buy()], horizon="1 year")).orders
    assert line.allowance == 0


def test_what_a_heap_takes_is_minded_too(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Straw that is bought for a heap alone is tipped on the road all the same, and tested for weedkiller."""
    recipe = {"bay": "1 m3", "from": [{"way": "straw"}, {"material": "grass clippings", "weekly": "300 L"}]}
    heap = {"name": "heap", "make": {**recipe, "turn_every": "2 weeks"}}

    def called(**more: str) -> tuple[set[str], set[str]]:
        straw = buy(name="straw", material="yellow stalks", price="10 EUR/m3", **more)
        ordered = sheet(site_of([bed({"dress": {"depth": "1 cm"}}, ways=["heap"])], [straw, heap]))
        (line, *_) = ordered.orders
        keys = {one.caution.key for one in ordered.cautions if "straw" in one.ways}
        return {minded.caution.key for minded in line.cautions}, keys

    on_road, told_of_road = called(drop="road")
    in_yard, told_of_yard = called()
    assert on_road - in_yard == {"road-licence", "road-pile"} == told_of_road - told_of_yard
    assert "weedkiller-manure-straw" in in_yard & told_of_yard


def test_where_it_is_tipped(lines: dict[str, OrderLine]) -> None:
    """A way's own words stand over the site's, and public ground is named first."""
    assert lines["crew"].drop == "pavement: by the postbox"
    assert lines["yard"].drop == "by the lower gate"


def test_what_is_fetched_is_not_tipped(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """The site's words are about what is brought, so they stay silent where one fetches it."""
    site = site_of([bed(DRESS)], [buy(box="1 m3")], drop_at="by the lower gate")
    (line,) = sheet(site).orders
    assert line.drop == ""


def test_cautions_stand_on_the_order_they_are_about(lines: dict[str, OrderLine]) -> None:
    """What a pavement calls for stands on the chip alone, and what must be tested first has its day."""
    crew = {minded.caution.key: minded for minded in lines["crew"].cautions}
    yard = {minded.caution.key: minded for minded in lines["yard"].cautions}
    assert crew["road-licence"].caution.source == "harrow-road"
    assert "road-licence" not in yard
    assert "lorry-access" in crew.keys() & yard.keys()
    # four weeks before 15 March nothing had begun
    assert yard["weedkiller-compost"].begin == "start at once and spread no sooner than 2027-03-29"
    assert "weedkiller-compost" not in crew
    assert "legionella-dust" not in yard  # of handling it, not of ordering it


@pytest.mark.parametrize(
    ("terms", "lorry"),
    [
        ({}, True),
        ({"price": "5 EUR/bag", "bag": "40 L"}, False),  # of a shop
        ({"price": "5 EUR/bag", "bag": "40 L", "delivery": "35 EUR"}, True),  # on a pallet
        ({"box": "1 m3"}, False),
        ({"trip": "1 h"}, False),
    ],
)
def test_a_lorry_is_minded_where_one_comes(
    site_of: SiteOf, bed: Describe, buy: Describe, terms: dict[str, str], lorry: bool
) -> None:
    """What is fetched, or carried home by the bag, asks for no hard ground at the gate."""
    (line,) = sheet(site_of([bed(DRESS)], [buy(material="green compost", **terms)])).orders
    assert ("lorry-access" in {minded.caution.key for minded in line.cautions}) is lorry


def test_sand_asks_for_no_mask_against_compost(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Soil is handled like compost; washed sand, of the same class, holds none of what may harm."""
    pots = {
        **bed({"fill": {"volume": "100 L", "mix": {"sand": "50 %", "soil": "50 %"}}}),
        "kind": "pot",
    }
    ways = [buy(name="pit", material="sand"), buy(name="field", material="topsoil")]
    found = sheet(site_of([pots], ways))
    (legionella,) = (one for one in found.cautions if one.caution.key == "legionella-dust")
    assert {line.way.name for line in found.orders} == {"pit", "field"}
    assert set(legionella.ways) == {"field"}


def test_what_is_told_is_not_asked(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Where the chip comes from is asked unless the file says so."""
    cover = bed({"cover": {"depth": "6 cm"}})

    def asked(**more: str) -> set[str]:
        site = site_of([cover], [buy(material="chipped wood", **more)], horizon="1 year")
        return {question.key for line in sheet(site).orders for question in line.questions}

    assert asked() - asked(origin="park trees") == {"chip-from"}


def test_hours_and_cash_add_up(whole: Sheet) -> None:
    """Where all is bought, the lines hold all hours and all money there are, by seller and month alike."""
    bill, total = whole.selection.whole.bill, whole.totals[-1]
    assert total.cash == bill.cash == sum((line.order.cash for line in whole.orders), Decimal(0))
    assert total.hours.likely == pytest.approx(bill.hours.likely)
    assert sum((of.cash for of in whole.sellers), Decimal(0)) == bill.cash
    assert (sum((of.cash for of in whole.months), Decimal(0)), whole.months[-1].so_far) == (bill.cash,) * 2
    assert sum(of.trips for of in whole.sellers) == total.trips
    assert (total.delivery, total.tax) == (Decimal(30), sum(line.order.charge.tax for line in whole.orders))


def test_the_first_twelve_months(field: Site, whole: Sheet) -> None:
    """What is to be ordered later is left out with what it brings, and told."""
    until = date(2028, 3, 1)
    first = sheet(field, until=until)
    assert [line.order_by for line in first.orders] == [
        line.order_by for line in whole.orders if line.order_by < until
    ]
    assert len(first.orders) < len(whole.orders)
    assert [of.of for of in first.totals] == ["first twelve months", "horizon"]
    assert first.totals[1].cash == whole.totals[0].cash
    assert {dose.day for line in first.orders for dose in line.doses} == {dose.day for dose in first.shares}
    assert any("--all" in sentence for sentence in told(first))
    assert not any("--all" in sentence for sentence in told(whole))


def test_every_share_is_of_an_order(whole: Sheet) -> None:
    """Each dose stands with the order that brings it, once, and no order brings less than it is for."""
    brought = [id(dose) for line in whole.orders for dose in line.doses]
    assert sorted(brought) == sorted(map(id, whole.shares))
    for line in whole.orders:
        assert line.order.volume >= sum(dose.loose for dose in line.doses) - 1e-9


def test_the_command_shows_a_year_unless_asked(tmp_path: Path) -> None:
    """Without --all the orders of a demo end within twelve months; with it they are more."""

    def rows(*more: str) -> list[dict[str, Any]]:
        demo = str(DEMO / "tin-comet-ground.yaml")
        with CliRunner().isolation() as (out, _, _):
            assert exit_code(["orders", demo, "--format", "json", *more]) == 0
            tables = json.loads(out.getvalue())["tables"]
        return next(table["rows"] for table in tables if table["name"] == "orders")

    first, every = rows(), rows("--all")
    assert {row["order_by"] for row in first} == {"2027-02-15"}
    assert [row for row in every if row["order_by"] < "2028-02-15"] == first
    assert len(every) > len(first)


def test_one_way_is_told_of_by_itself(field: Site) -> None:
    """Where one way is followed no other is told of, nor the rest: what it cannot serve, and why not wholly."""
    followed = sheet(field, way="yard")
    told_of = {line.split(",")[0]: line for line in followed.selection.remarks}
    assert told_of == {
        "cover": "cover, berries: yard cannot serve it; nothing is ordered for it.",
        "fill": told_of["fill"],
    }
    assert "fill_share" in told_of["fill"]
    assert "--partial" in told_of["fill"]
    assert not any("crew" in of.why or "rest" in of.why for of in followed.short)


def test_a_sheet_of_nothing_has_no_totals(site_of: SiteOf, bed: Describe) -> None:
    """Where nothing is bought there is nothing to ask, to pay or to add up."""
    stock = {"name": "pile", "have": {"material": "dark stuff", "amount": "3 m3"}}
    tables = tables_of(sheet(site_of([bed(DRESS)], [stock])))
    assert [table.name for table in tables if table.rows] == ["sharing"]


ASKS = {
    "on public ground": ({"drop_at": "on the kerb"}, {"drop": "road"}, "kerb"),
    "a tax without a rate": ({"tax_included": True}, {"tax": "20 %"}, "tax_included"),
}


@pytest.mark.parametrize("case", ASKS)
def test_terms_that_are_asked_about(
    warnings_of: Callable[..., tuple[Problem, ...]], bed: Describe, buy: Describe, case: str
) -> None:
    """What can hardly be meant is asked about on its own line, with what would be right; said so, it is not."""
    terms, right, word = ASKS[case]
    asked = [str(one) for one in warnings_of([bed(DRESS)], [buy(**terms)]) if "ways.yard.buy" in one.message]
    assert len(asked) == 1
    assert word in asked[0]
    assert not [one for one in warnings_of([bed(DRESS)], [buy(**terms, **right)]) if one.code == "unusual"]


def test_a_place_of_all_is_asked_about_once(
    warnings_of: Callable[..., tuple[Problem, ...]], bed: Describe, buy: Describe
) -> None:
    """The site's own place is asked about where no way says that it tips on public ground."""

    def asked(**more: str) -> list[str]:
        noted = warnings_of([bed(DRESS)], [buy(**more)], drop_at="on the verge")
        return [one.message[:8] for one in noted if "verge" in one.message]

    assert (asked(), asked(drop="road")) == (["drop_at:"], [])


WRONG = {
    "priority": ({"priority": "4"}, "1 to 3"),
    "useful_depth": ({"limits": {"useful_depth": "5"}}, "unit"),
}


@pytest.mark.parametrize("key", WRONG)
def test_what_is_wrong_of_a_place(
    problems_of: Callable[..., tuple[Problem, ...]], bed: Describe, key: str
) -> None:
    """A wrong value of a new key is refused with what would be right."""
    terms, right = WRONG[key]
    (problem,) = problems_of([bed(DRESS, **terms)], [])
    assert key in problem.message
    assert right in problem.message


def test_a_raise_that_is_not_met_takes_nothing_of_a_feed(site_of: SiteOf) -> None:
    """A farm lets 25 g/m2 of nitrogen on a year; a raise that is out of reach took it all, and cabbages got none."""
    needs = [
        {"feed": {"for": "cabbage"}},
        {"raise": {"organic_matter": "6 %", "depth": "20 cm", "by": "2028-08-01"}},
    ]
    beds = {"name": "cabbages", "kind": "bed", "shape": {"area": "180 m2"}, "needs": needs}
    ways = [
        {"name": "tip", "buy": {"material": "green compost", "price": "18 EUR/m3"}},
        {
            "name": "pellets",
            "buy": {"material": "pelleted poultry manure", "price": "11 EUR/bag", "bag": "20 kg"},
        },
    ]
    partly = sheet(site_of([beds], ways, horizon="2 years", limits={"farm": True}), partial=True)
    assert partly.orders[0].way.name == "pellets"
    assert all("feed" in line.needs for line in partly.orders if line.way.name == "pellets")
    fed = [dose for dose in partly.selection.whole.together.all_doses if dose.kind == "feed"]
    of_nitrogen = sum(dose.material.holds(dose.loose, "nitrogen") for dose in fed if dose.day.year == 2027)
    assert of_nitrogen == pytest.approx(0.025 * 180, rel=0.02)
