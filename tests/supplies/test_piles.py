"""Piles left to rot: when they are ready, what is left of them, and that nothing is made or lost on the way."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.cautions import cautions_for
from barrowful.answers.heaps import heap_sentences
from barrowful.answers.ledger import ledger
from barrowful.answers.options import options
from barrowful.measures.problems import Problem
from barrowful.site.records import Site
from barrowful.supplies.heap.heap import Heap

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Told = Callable[..., tuple[Problem, ...]]
START = date(2027, 3, 1)
YEAR = 365.25
WARM = {"climate": {"annual_mean": "15 degC"}}
PAIR = [{"material": "arborist chip", "volume": "2 m3"}, {"material": "autumn leaves", "volume": "1 m3"}]


def described(*parts: dict[str, Any], **words: Any) -> dict[str, Any]:
    """Return a pile left to rot as it stands in a site file."""
    return {"name": "pile", "make": {"bay": "1 m3", "left": True, "from": list(parts), **words}}


def lot(name: str, volume: str = "1 m3") -> dict[str, Any]:
    """Return an ingredient of one lot."""
    return {"material": name, "volume": volume}


@pytest.fixture(scope="session")
def pile(site_of: SiteOf) -> Callable[..., Heap]:
    """Give a function that returns a pile of some ingredients at 15 degC."""

    def build(
        *parts: dict[str, Any],
        ways: list[dict[str, Any]] | None = None,
        site: dict[str, Any] | None = None,
        **words: Any,
    ) -> Heap:
        told = {**WARM, **(site or {})}
        made = options(site_of([], [*(ways or []), described(*parts, **words)], **told)).supplies["pile"]
        assert isinstance(made, Heap)
        return made

    return build


def years(pile: Heap) -> list[float]:
    """Return the years from the first pile's building to its being ready: early, likely, late."""
    batch = pile.batches[0]
    return [(day - batch.built).days / YEAR for day in batch.ready]


def test_chip_takes_the_time_of_half_its_carbon(pile: Callable[..., Heap]) -> None:
    """At 15 degC chip decays at 0.35 a year, 0.2 to 0.6: half is gone after two years, 1.2 to 3.5."""
    told = years(pile(lot("arborist chip")))
    assert told == pytest.approx([math.log(2) / rate for rate in (0.6, 0.35, 0.2)], abs=0.01)
    assert 1.9 <= told[1] <= 2.1


def test_a_colder_place_takes_longer(pile: Callable[..., Heap]) -> None:
    """At 8 degC a pile takes longer than at 15, and longer still in a dry summer."""
    cold = pile(lot("arborist chip"), site={"climate": {"annual_mean": "8 degC"}})
    dry = pile(
        lot("arborist chip"),
        site={"climate": {"annual_mean": "8 degC", "rain_less_evaporation": "-500 mm"}},
    )
    assert years(pile(lot("arborist chip")))[1] < years(cold)[1] < years(dry)[1]


def test_leaves_left_alone_and_turned(pile: Callable[..., Heap]) -> None:
    """New Jersey's manual: leaves turned once a year take 36 to 60 months, with a few turns 16 to 18.

    At its 12 degC both lie within what is told, and the few turns are nearer to the likely time.
    """
    jersey = {"climate": {"annual_mean": "12 degC"}}
    alone = years(pile(lot("autumn leaves"), site=jersey))
    turned = years(pile(lot("autumn leaves"), site=jersey, turn_every="4 months"))
    assert alone[0] < 3 < 5 < alone[2]
    assert turned[0] < 16 / 12 < 18 / 12 < turned[2]
    assert turned[1] / alone[1] == pytest.approx(0.6, abs=0.01)
    assert 18 / 12 <= turned[1] < alone[1]


def test_turned_once_a_year_is_left_alone(pile: Callable[..., Heap]) -> None:
    """A turn a year is the least care: it is not counted and takes no time off."""
    yearly, half = (pile(lot("autumn leaves"), turn_every=every) for every in ("1 year", "6 months"))
    assert years(yearly) == years(pile(lot("autumn leaves")))
    assert (yearly.batches[0].care, yearly.batches[0].turns) == ("left", 0)
    assert (half.batches[0].care, half.batches[0].turns) == ("turned", 2)


def test_what_chip_becomes(pile: Callable[..., Heap]) -> None:
    """A cubic metre of chip, worked out by hand: 154 kg dry, half fresh, a fifth humus, a quarter screened out."""
    made = pile(lot("chipped wood"))
    [batch] = made.batches[:1]
    assert batch.recipe.dry == pytest.approx(154.0)
    assert batch.overs[0] == pytest.approx(280 / 4, rel=1e-3)
    assert batch.overs_volume == pytest.approx(0.25, rel=1e-3)
    dry = 0.98 * (0.7 * 154 - 38.5) + 0.02 * (154 - 38.5)
    assert batch.dry[1] == pytest.approx(dry, rel=1e-3)
    assert batch.nitrogen[1] == pytest.approx(0.95 * 0.0045 * (154 - 38.5), rel=1e-3)
    stuff = made.material
    assert stuff.name == "rotted chip"
    assert stuff.class_ == "compost"
    assert stuff["nitrogen"] == pytest.approx(batch.nitrogen[1] / dry, rel=1e-3)
    assert stuff["carbon"] == pytest.approx(0.48 * (0.7 * 154 - 38.5) / dry, rel=1e-3)
    assert stuff["density"] == pytest.approx(450)
    assert batch.volume[1] == pytest.approx(dry / 0.4 / 450, rel=1e-3)
    assert batch.volume[0] < batch.volume[1] < batch.volume[2] or batch.dry[0] == batch.dry[2]


def test_leaf_mould(pile: Callable[..., Heap]) -> None:
    """Leaves become leaf mould of a fifth of their volume, nothing is screened out, the C:N falls by a third."""
    made = pile(lot("autumn leaves"))
    [batch] = made.batches
    assert made.material.name == "leaf mould"
    assert batch.overs == (0.0,)
    assert 0.15 <= batch.volume[1] <= 0.3
    assert batch.recipe.cn == pytest.approx(51, abs=0.5)
    assert made.material["carbon"] / made.material["nitrogen"] == pytest.approx(51.1 * 0.675 / 0.95, rel=0.01)


@draws(25)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(
                ["arborist chip", "ramial chip", "sawdust", "bark mulch", "autumn leaves", "shredded leaves"]
            ),
            st.integers(1, 40),
        ),
        min_size=1,
        max_size=4,
        unique_by=lambda pair: pair[0],
    ),
    st.integers(3, 26),
    st.sampled_from([None, "2 months", "1 year"]),
)
def test_nothing_is_made_and_nothing_lost(
    pile: Callable[..., Heap], parts: list[tuple[str, int]], warmth: int, turns: str | None
) -> None:
    """Nitrogen goes by a tenth at most, phosphorus and potassium stay, dry matter and volume only go.

    In ground that is frozen all year no pile is ever ready.
    """
    more = {} if turns is None else {"turn_every": turns}
    lots = [lot(name, f"{tenths / 10} m3") for name, tenths in parts]
    made = pile(*lots, site={"climate": {"annual_mean": f"{warmth} degC"}}, **more)
    for batch in made.batches:
        recipe = batch.recipe
        assert batch.built <= batch.ready[0] <= batch.ready[1] <= batch.ready[2]
        for low, likely, high in (batch.volume, batch.dry, batch.nitrogen):
            assert 0 < low <= likely <= high
        assert batch.volume[2] + batch.overs_volume < recipe.volume
        assert batch.dry[2] + recipe.dry_in(batch.overs) <= recipe.dry * (1 + 1e-9)
        assert batch.carbon is not None
        assert batch.carbon + batch.screened("carbon") <= recipe.total("carbon") * (1 + 1e-9)
        nitrogen = [each + batch.screened("nitrogen") for each in batch.nitrogen]
        assert nitrogen[2] <= recipe.total("nitrogen") * (1 + 1e-9)
        assert nitrogen[0] >= 0.9 * recipe.total("nitrogen") * (1 - 1e-9)
    if made.batches:
        dry = sum(batch.dry[1] for batch in made.batches)
        for nutrient in ("phosphorus", "potassium"):
            held = sum(batch.recipe.total(nutrient) - batch.screened(nutrient) for batch in made.batches)
            assert dry * made.material[nutrient] == pytest.approx(held)


def test_the_order_of_what_goes_in_changes_nothing(pile: Callable[..., Heap]) -> None:
    """Chip and leaves make one pile in either order, of rotted chip, for the wood decides."""
    first, second = pile(*PAIR, bay="3 m3"), pile(*PAIR[::-1], bay="3 m3")
    assert first.material.name == second.material.name == "rotted chip"
    assert first.batches[0].ready == second.batches[0].ready
    assert first.batches[0].volume == pytest.approx(second.batches[0].volume)
    assert first.material["nitrogen"] == pytest.approx(second.material["nitrogen"])


@pytest.mark.parametrize(
    ("bay", "volume"), [("2 m3", "2 m3"), ("2000 L", "2000 L"), ("2.6159 yd3", "2.6159 yd3")]
)
def test_units_do_not_matter(pile: Callable[..., Heap], bay: str, volume: str) -> None:
    """Litres, cubic metres and cubic yards give one pile."""
    made = pile(lot("arborist chip", volume), bay=bay)
    plain = pile(lot("arborist chip", "2 m3"), bay="2 m3")
    assert made.batches[0].ready == plain.batches[0].ready
    assert made.batches[0].volume == pytest.approx(plain.batches[0].volume, rel=1e-4)


def test_what_is_bought_fills_a_pile_when_it_comes(pile: Callable[..., Heap], buy: Describe) -> None:
    """Chip of a seller with six weeks' lead is piled six weeks after the start, and again when that is ready."""
    crew = buy(name="crew", material="chipped wood", price="9 EUR/m3", lead="6 weeks")
    made = pile({"way": "crew"}, ways=[crew])
    first, second = made.batches[:2]
    assert first.built == START + timedelta(weeks=6)
    assert first.ready[1] <= second.built < first.ready[1] + timedelta(weeks=1)
    assert second.put_back[0] == pytest.approx(first.overs[0])
    assert second.fresh_of(0) == pytest.approx(280 - first.overs[0])
    [(way, days)] = made.passed_on({first.ready[1]: first.volume[1]})
    assert (way, days) == ("crew", {first.built: pytest.approx(1.0)})


def test_leaves_of_an_autumn_rot_from_the_last_of_them(pile: Callable[..., Heap]) -> None:
    """Leaves of October and November fill a part of a cage: it is closed with the last of them."""
    weekly = {"material": "autumn leaves", "weekly": "100 L", "months": [10, 11]}
    [first, *_] = pile(weekly, bay="2 m3").batches
    assert first.built.month == 11
    assert first.built + timedelta(weeks=1) >= date(2027, 12, 1)
    full = pile(weekly, bay="0.4 m3").batches[0]
    assert full.built.month == 10


def test_its_lot_comes_when_it_is_ready(pile: Callable[..., Heap], site_of: SiteOf, bed: Describe) -> None:
    """Nothing is there before, and a need is met on the day it is."""
    made = pile(lot("arborist chip"))
    ready = made.batches[0].ready[1]
    assert made.lots(ready - timedelta(1)) == []
    assert [each.day for each in made.lots(ready)] == [ready]
    site = site_of([bed({"dress": {"depth": "1 cm"}}, area=10)], [described(lot("arborist chip"))], **WARM)
    [row] = options(site).options
    assert row.decision.feasible
    assert row.ready_on == ready


def test_the_ledger_adds_up(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """What came into the pile is spread, lost, or still in it."""
    crew = buy(name="crew", material="chipped wood", price="9 EUR/m3")
    need = {"dress": {"depth": "1 cm"}}
    site = site_of([bed(need, area=10, ways=["pile"])], [crew, described({"way": "crew"})], **WARM)
    answer = options(site)
    accounts = ledger(site, answer, [row for row in answer.options if row.decision.feasible])
    (zone,) = [each for each in accounts if each.zone == "pile" and each.nutrient == "nitrogen"]
    made = answer.supplies["pile"]
    assert isinstance(made, Heap)
    batch = made.batches[0]
    assert zone.brought + zone.moved_in == pytest.approx(batch.recipe.total("nitrogen"))
    assert zone.lost == pytest.approx(0.05 * (batch.recipe.total("nitrogen") - batch.screened("nitrogen")))
    assert zone.balance >= batch.screened("nitrogen") * (1 - 1e-9)


def test_what_is_said_of_it(pile: Callable[..., Heap], site_of: SiteOf, bed: Describe) -> None:
    """The answer tells what becomes of it, when and from when to when, and warns of its dust, not of its size."""
    made = pile(lot("arborist chip"))
    [sentence] = heap_sentences([made])
    batch = made.batches[0]
    assert f"left from 2027-03-01 and not turned, becomes {batch.volume[1]:.2f} m3" in sentence
    assert f"of rotted chip on {batch.ready[1]} ({batch.ready[0]} to {batch.ready[2]})" in sentence
    assert "is screened out and goes into the next" in sentence
    place = bed({"dress": {"depth": "1 mm"}}, area=10)
    keys = {
        size: {
            one.caution.key
            for one in cautions_for(
                options(site_of([place], [described(lot("arborist chip", size), bay=size)], **WARM))
            )
        }
        for size in ("0.5 m3", "12 m3")
    }
    assert {"opening-pile", "legionella-dust"} <= keys["0.5 m3"]
    assert not {"small-heap-hygiene", "small-heap-slow", "fire-height"} & keys["0.5 m3"]
    assert "fire-height" in keys["12 m3"]


def test_it_costs_no_building(pile: Callable[..., Heap], site_of: SiteOf) -> None:
    """A pile is tipped, not built in layers: it takes fewer hours than a heap, and each turn takes more."""
    alone, turned = pile(lot("arborist chip")), pile(lot("arborist chip"), turn_every="3 months")
    assert alone.batch_hours(alone.batches[0]).likely < turned.batch_hours(turned.batches[0]).likely
    way = {
        "name": "heap",
        "make": {"bay": "1 m3", "from": [lot("yellow stalks", "830 L"), lot("coffee grounds")]},
    }
    heap = options(site_of([], [way])).supplies["heap"]
    assert isinstance(heap, Heap)
    [batch] = heap.batches[:1]
    assert heap.batch_hours(batch).likely > 1.4 + alone.batch_hours(batch).likely


def test_too_little_for_a_pile(pile: Callable[..., Heap]) -> None:
    """A barrow of leaves in a cage of 4 m3 is no pile: it says how much is missing."""
    made = pile(lot("autumn leaves", "80 L"), bay="4 m3")
    assert made.batches == []
    assert "80 L, and 1,000 L (25 % of a bay) are needed; bring 920 L more" in made.note


def test_frozen_ground(pile: Callable[..., Heap]) -> None:
    """Where nothing rots a pile is never ready within any horizon, and nothing breaks."""
    made = pile(lot("arborist chip"), site={"climate": {"annual_mean": "-20 degC"}})
    assert made.lots(made.site.end) == []


@pytest.mark.parametrize(
    "name",
    [
        "vegetable scraps",
        "horse manure",
        "grass clippings",
        "straw",
        "coffee grounds",
        "cardboard",
        "green compost",
    ],
)
def test_what_cannot_be_left(problems_of: Told, name: str) -> None:
    """Kitchen waste, manure, grass and the like left to rot are a problem where they stand, with what is right."""
    [problem] = problems_of([], [described(lot("arborist chip"), lot(name))])
    assert problem.code == "cannot-be-left"
    assert problem.message.startswith(f"ways.pile.make.from.2.material: {name} is not left to rot by itself")
    assert 'put it on a heap with a C:N to aim for, without "left"' in problem.message
    assert problem.column > 1


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("target_cn", 30),
        ("target_moisture", "55 %"),
        ("chopped", True),
        ("readings", [{"date": "2027-05-02", "temperature": "50 degC"}]),
    ],
)
def test_keys_that_say_nothing_of_a_pile(problems_of: Told, key: str, value: Any) -> None:
    """An aim, or a log of heat, of a pile left to rot is a problem where it stands."""
    [problem] = problems_of([], [described(lot("arborist chip"), **{key: value})])
    assert problem.code == "not-of-a-pile"
    assert problem.message.startswith(f"ways.pile.make.{key}: ")


def test_stuff_that_cannot_be_followed(problems_of: Told) -> None:
    """Wood of which only the label is known lacks what rotting goes by: it says what."""
    own = {
        "old chip": {
            "class": "wood",
            "moisture": "40 %",
            "carbon": "48 %",
            "nitrogen": "0.4 %",
            "density": "250 kg/m3",
        }
    }
    [problem] = problems_of([], [described(lot("old chip"))], materials=own)
    assert problem.code == "missing-figure"
    assert "old chip needs organic_matter, decay, humus to be followed while it rots" in problem.message


def test_what_comes_once_makes_no_more_after_the_horizon(pile: Callable[..., Heap]) -> None:
    """Of 2 m3 of chip there is no more to come, however far ahead one looks; of leaves each year there is."""
    once = pile(lot("arborist chip", "2 m3"), site={"horizon": "6 years"})
    made = sum(batch.volume[1] for batch in once.batches)
    assert sum(of.loose for of in once.lots(date(2087, 3, 1))) == pytest.approx(made)
    leaves = {"name": "lane", "have": {"material": "autumn leaves", "amount": "1 m3", "per_year": True}}
    yearly = pile({"way": "lane"}, ways=[leaves], site={"horizon": "6 years"})
    assert len(yearly.lots(date(2047, 3, 1))) > len(yearly.lots(date(2033, 3, 1)))
