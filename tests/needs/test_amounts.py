"""How much each need takes, against sums done by hand: cover, dress, feed and fill."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.option import Option
from barrowful.catalogue.rates import rate
from barrowful.measures.problems import Problem
from barrowful.needs.doses import ground_shares
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
#: What no ceiling is to cut short here; test_ceilings.py is about those.
LIFTED = {"lift": ["yearly_depth", "cover_depth", "fill_share"]}
BED = {
    "name": "long beds",
    "kind": "bed",
    "shape": {"rectangle": ["9 m", "1.2 m"]},
    "count": 4,
    "limits": LIFTED,
}


@pytest.mark.parametrize(
    ("need", "loose"),
    [
        ({"cover": {"depth": "10 cm"}}, 4.32 / 0.88),
        ({"cover": {"depth": "10 cm", "settled": True}}, 4.32 / 0.88),
        ({"cover": {"depth": "10 cm", "settled": False}}, 4.32),
        ({"cover": {"depth": "10 cm", "allowance": "10 %"}}, 4.32 / 0.88 * 1.1),
        ({"cover": {"depth": "10 cm", "settled": False, "allowance": "25 %"}}, 5.4),
        ({"dress": {"depth": "2 cm"}}, 0.864),
        ({"dress": {"depth": "2 cm", "settled": True}}, 0.864 / 0.88),
        ({"dress": {"depth": "2 cm", "allowance": "10 %"}}, 0.9504),
        ({"dress": {"dose": "3 kg/m2"}}, 43.2 * 3 / 600),
        ({"dress": {"dose": "3 kg/m2", "allowance": "10 %"}}, 43.2 * 3 / 600 * 1.1),
        ({"dress": {"dose": "3 kg/m2", "settled": True}}, 43.2 * 3 / 600),
        ({"fill": {"depth": "30 cm"}}, 12.96 * 1.15),
        ({"fill": {"depth": "30 cm", "settled": False}}, 12.96),
        ({"fill": {"volume": "200 L", "settled": False}}, 0.8),
        ({"fill": {"volume": "200 L", "allowance": "5 %"}}, 0.8 * 1.15 * 1.05),
        ({"feed": {"nitrogen": "12 g/m2"}}, 43.2 * 0.012 / (0.014 * 0.05) / 0.55 / 600),
        ({"feed": {"phosphorus": "2 g/m2"}}, 43.2 * 0.002 / (0.0025 * 0.5) / 0.55 / 600),
        ({"feed": {"potassium": "9 g/m2"}}, 43.2 * 0.009 / (0.009 * 0.8) / 0.55 / 600),
        ({"feed": {"nitrogen": "12 g/m2", "phosphorus": "20 g/m2"}}, 43.2 * 0.012 / 0.0007 / 0.55 / 600),
        ({"feed": {"potassium": "9 g/m2", "allowance": "10 %"}}, 43.2 / 0.8 / 0.55 / 600 * 1.1),
    ],
)
def test_by_hand(site_of: SiteOf, buy: Describe, row_of: RowOf, need: dict[str, Any], loose: float) -> None:
    """Four beds of 10.8 m2: depth times area, what settles once, allowance once, all of the count.

    Of the total in compost 5 % of the nitrogen (stated), half the phosphorus and 80 % of the potassium count
    in the season.
    """
    site = site_of([{**BED, "needs": [need]}], [buy()], horizon="1 year")
    row = row_of(site, next(iter(need)))
    assert row.feasible
    assert row.loose == pytest.approx(loose, rel=1e-9)


def test_round_pots(site_of: SiteOf, buy: Describe, row_of: RowOf) -> None:
    """Six pots 60 cm across and 38 cm deep hold 0.107 m3 each; 15 % more settle."""
    pots = {"name": "pots", "kind": "pot", "shape": {"circle": {"diameter": "60 cm"}}, "count": 6}
    pots["limits"] = LIFTED
    row = row_of(site_of([{**pots, "needs": [{"fill": {"depth": "38 cm"}}]}], [buy()]), "fill")
    assert row.loose == pytest.approx(6 * 3.141592653589793 * 0.09 * 0.38 * 1.15)


@pytest.mark.parametrize(("layer", "share"), [("0 cm", 1.0), ("3 cm", 0.7), ("10 cm", 0.0), ("14 cm", 0.0)])
def test_mulch_that_lies_there_is_taken_off(
    site_of: SiteOf, buy: Describe, row_of: RowOf, layer: str, share: float
) -> None:
    """A stated layer is taken off the depth wanted; a layer deep enough asks for nothing."""
    place = {**BED, "layer_now": layer, "needs": [{"cover": {"depth": "10 cm", "allowance": "10 %"}}]}
    row = row_of(site_of([place], [buy()]), "cover")
    assert row.feasible
    assert row.loose == pytest.approx(4.32 * share / 0.88 * 1.1, abs=1e-12)


@pytest.mark.parametrize(("put_on", "years"), [("2026-03-01", 1.0), ("2025-03-01", 2.0), ("2023-03-01", 4.0)])
def test_mulch_of_the_history_is_taken_off(
    site_of: SiteOf, buy: Describe, row_of: RowOf, put_on: str, years: float
) -> None:
    """5 cm of chip, settled to 4 cm, halves every two years at 15 degC; what is left is taken off 10 cm."""
    done = [{"date": put_on, "place": "long beds", "material": "chipped wood", "depth": "5 cm"}]
    place = {**BED, "needs": [{"cover": {"depth": "10 cm"}}]}
    row = row_of(site_of([place], [buy(material="chipped wood")], history=done), "cover")
    left = 0.05 * 0.8 * 0.5 ** (years / 2)
    assert row.loose == pytest.approx(43.2 * (0.1 - left) / 0.8, rel=1e-3)


def test_a_stated_layer_stands_for_the_history(site_of: SiteOf, buy: Describe, row_of: RowOf) -> None:
    """What the grower measured counts, not what the history would leave, and never both."""
    done = [{"date": "2026-03-01", "place": "long beds", "material": "chipped wood", "depth": "5 cm"}]
    place = {**BED, "layer_now": "1 cm", "needs": [{"cover": {"depth": "10 cm"}}]}
    row = row_of(site_of([place], [buy(material="chipped wood")], history=done), "cover")
    assert row.loose == pytest.approx(43.2 * 0.09 / 0.8)


def test_mulch_logged_since_the_start(
    site_of: SiteOf, buy: Describe, row_of: RowOf, warnings_of: Callable[..., tuple[Problem, ...]]
) -> None:
    """An entry later than the start is warned of; with the start moved on, it is taken off."""
    done = [{"date": "2027-03-20", "place": "long beds", "material": "chipped wood", "depth": "5 cm"}]
    place = {**BED, "needs": [{"cover": {"depth": "10 cm"}}]}
    ways = [buy(material="chipped wood")]
    assert "late-history" in {one.code for one in warnings_of([place], ways, history=done)}
    row = row_of(site_of([place], ways, history=done, start="2027-03-20"), "cover")
    assert row.loose == pytest.approx(43.2 * 0.06 / 0.8)


def test_nitrogen_still_to_come_is_taken_off(site_of: SiteOf, buy: Describe, row_of: RowOf) -> None:
    """Compost of last year gives 2.5 % of its nitrogen this season; the feed asks for the rest alone."""
    done = [{"date": "2026-03-10", "place": "long beds", "material": "dark stuff", "depth": "4 cm"}]
    place = {**BED, "needs": [{"feed": {"nitrogen": "12 g/m2"}}]}
    row = row_of(site_of([place], [buy()], history=done), "feed")
    credit = 0.04 * 600 * 0.55 * 0.014 * 0.025
    assert row.loose == pytest.approx(43.2 * (0.012 - credit) / (0.014 * 0.05) / 0.55 / 600)


def test_a_feed_covered_by_the_past_asks_for_nothing(site_of: SiteOf, buy: Describe, row_of: RowOf) -> None:
    """Where earlier seasons give more than is wanted the need is met at no cost."""
    done = [{"date": "2026-03-10", "place": "long beds", "material": "dark stuff", "depth": "60 cm"}]
    place = {**BED, "needs": [{"feed": {"nitrogen": "1 g/m2"}}]}
    row = row_of(site_of([place], [buy()], history=done), "feed")
    assert row.feasible
    assert row.loose == 0
    assert row.cash == 0


def test_a_feed_is_met_by_every_nutrient_or_not_at_all(site_of: SiteOf, buy: Describe, row_of: RowOf) -> None:
    """12 g of nitrogen bring 12 / 0.014 / 0.05 x 0.0025 / 2 = 21.43 g of phosphorus, of 30 g wanted 71.4 %."""
    place = {**BED, "needs": [{"feed": {"nitrogen": "12 g/m2", "phosphorus": "30 g/m2"}}]}
    row = row_of(site_of([place], [buy()], horizon="1 year"), "feed")
    assert not row.feasible
    assert row.decision.met_share == pytest.approx(12 / 0.014 / 0.05 * 0.0025 / 2 / 30)
    assert "100% of the nitrogen, 71% of the phosphorus" in row.why_not


def test_where_the_past_gives_the_nitrogen_nothing_is_put_on(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Nitrogen sizes a feed: where the past gives it all, no more comes, and the phosphorus is not met."""
    done = [{"date": "2026-03-10", "place": "bed", "material": "dark stuff", "depth": "60 cm"}]
    feed = {"feed": {"nitrogen": "1 g/m2", "phosphorus": "1 g/m2"}}
    row = row_of(site_of([bed(feed)], [buy()], history=done), "feed")
    assert (row.feasible, row.loose, row.decision.binding) == (False, 0, "")
    assert "100% of the nitrogen, 0% of the phosphorus" in row.why_not


def test_what_gives_no_nitrogen_gives_no_phosphorus_either(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Wood suits no feed, whatever the past gives already."""
    done = [{"date": "2026-03-10", "place": "bed", "material": "dark stuff", "depth": "60 cm"}]
    feed = {"feed": {"nitrogen": "1 g/m2", "phosphorus": "1 g/m2"}}
    row = row_of(site_of([bed(feed)], [buy(material="chipped wood")], history=done), "feed")
    assert (row.feasible, row.decision.ceiling) == (False, "suits")


def test_a_cover_of_several_lots_makes_up_what_rots_meanwhile(
    site_of: SiteOf, bed: Describe, row_of: RowOf
) -> None:
    """Half now and the rest a year later: of the first half some 29 % is gone by then, and is made up."""
    stock = {"name": "pile", "have": {"material": "chipped wood", "amount": "0.5 m3", "per_year": True}}
    row = row_of(site_of([bed({"cover": {"depth": "8 cm"}})], [stock]), "cover")
    first, rest = row.decision.doses[0], row.decision.doses[1:]
    assert first.loose == pytest.approx(0.5)
    year = (rest[0].day - first.day).days / 365.25
    gone = 0.5 * (1 - 0.5 ** (year / 2))
    assert rest[0].loose == pytest.approx(min(0.5, 1.0 - 0.5 + gone))
    assert row.loose > 1.0


@pytest.mark.parametrize("need", ["dress", "cover", "fill"])
def test_no_layer_is_deeper_than_one_application_may_be(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, need: str
) -> None:
    """With at most 5 cm at a time, 10 cm do not go on in one day."""
    words = {"depth": "10 cm", "settled": False, "most_per_application": "5 cm"}
    row = row_of(site_of([bed({need: words})], [buy()]), need)
    by_day: dict[date, float] = {}
    for dose in row.decision.doses:
        by_day[dose.day] = by_day.get(dose.day, 0.0) + dose.loose / dose.place.total_area
    assert max(by_day.values()) <= 0.05 + 1e-9


@draws(60)
@given(st.lists(st.integers(1, 40), min_size=1, max_size=4), st.integers(1, 150))
def test_hours_to_dig_are_for_ground_that_gets_something(
    site_of: SiteOf, bed: Describe, row_of: RowOf, areas: list[int], percent: int
) -> None:
    """A stock that ends part of the way is dug in as far as it reaches, 3 cm deep, and no further."""
    stock = f"{percent / 100 * 0.03 * sum(areas):.6f} m3"
    way = {"name": "pile", "have": {"material": "dark stuff", "amount": stock}}
    hours = []
    for dug in (True, False):
        needs = {"dress": {"depth": "3 cm", "dug": dug}}
        places = [
            bed(needs, name=f"bed {number}", area=area, limits=LIFTED) for number, area in enumerate(areas)
        ]
        hours.append(row_of(site_of(places, [way]), "dress").hours.likely)
    reached = sum(areas) * min(1, percent / 100)
    assert hours[0] - hours[1] == pytest.approx(reached * rate("dig_in"), rel=1e-3)


@pytest.mark.parametrize("need", ["dress", "fill"])
def test_what_goes_on_in_parts_is_dug_in_as_often(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, need: str
) -> None:
    """Each of four parts is dug into all of the ground, for a fill as for a dressing."""
    hours = []
    for dug in (True, False):
        words = {"depth": "12 cm", "dug": dug, "settled": False, "most_per_application": "3 cm"}
        place = bed({need: words}, area=10, limits=LIFTED)
        hours.append(row_of(site_of([place], [buy()]), need).hours.likely)
    assert hours[0] - hours[1] == pytest.approx(4 * 10 * rate("dig_in"), rel=1e-9)


@pytest.mark.parametrize(
    ("need", "words"),
    [
        ("dress", {"depth": "5 cm", "dug": True}),
        ("raise", {"organic_matter": "6 %", "depth": "20 cm", "by": "2028-03-01", "hold": "0 days"}),
    ],
)
def test_what_a_ceiling_leaves_goes_on_all_of_the_ground(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, need: str, words: dict[str, Any]
) -> None:
    """A ceiling of 25 mm is nowhere passed: what it leaves is not heaped on a part of the bed."""
    doses = row_of(site_of([bed({need: words})], [buy()]), need).decision.every_dose
    assert doses
    assert all(dose.loose / (dose.share * 10) <= 0.025 * (1 + 1e-9) for dose in doses)


@draws(80)
@given(st.lists(st.integers(1, 400), min_size=1, max_size=30), st.integers(1, 4000), st.integers(1, 4000))
def test_shares_of_the_ground(parts: list[int], wanted: int, most: int) -> None:
    """No part covers more than all of the ground, and scarce parts as much as they fill to the depth meant."""
    at_once = min(wanted, most)
    parts = [min(part, at_once) for part in parts]
    shares = ground_shares([float(part) for part in parts], float(wanted), float(at_once))
    assert all(0 < share <= 1 for share in shares)
    scarce = sum(parts) < wanted or len(parts) > -(-sum(parts) // at_once)
    if scarce:
        assert sum(shares) == pytest.approx(sum(parts) / at_once)
    else:
        assert shares == [1.0] * len(parts)
