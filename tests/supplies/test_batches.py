"""Batches week by week: what came in, what stands where, what is lost, and how long it takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date, timedelta
from itertools import chain, cycle
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.options import options
from barrowful.measures.dates import Step
from barrowful.measures.problems import CannotMeet
from barrowful.site.records import Site
from barrowful.site.ways import Make
from barrowful.supplies.heap.batch import Batch
from barrowful.supplies.heap.heap import Heap

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
START = date(2027, 3, 1)
MONTH = 365.25 / 12
STUFFS = (
    "chipped wood",
    "yellow stalks",
    "coffee grounds",
    "grass clippings",
    "horse manure",
    "vegetable scraps",
    "autumn leaves",
)


def heap_of(site: Site, name: str = "heap") -> Heap:
    """Return a site's heap."""
    found = options(site).supplies[name]
    assert isinstance(found, Heap)
    return found


@pytest.fixture(scope="session")
def heap(site_of: SiteOf, buy: Describe) -> Callable[..., Heap]:
    """Give a function that returns a heap of ingredients, with chip to buy, leaves and stalks on hand."""

    def build(parts: list[dict[str, Any]], site: dict[str, Any] | None = None, **words: Any) -> Heap:
        ways = [
            buy(name="crew", material="chipped wood", price="80 EUR/load", load="8 m3", lead="6 weeks"),
            {"name": "barn", "have": {"material": "autumn leaves", "amount": "2 m3", "per_year": True}},
            buy(name="dealer", material="yellow stalks", price="9 EUR/m3"),
            {"name": "stack", "have": {"material": "yellow stalks", "amount": "3 m3"}},
            {"name": "heap", "make": {"bay": "1 m3", "from": parts, **words}},
        ]
        return heap_of(site_of([], ways, **(site or {})))

    return build


DRAWN_FROM = {"chipped wood": "crew", "autumn leaves": "barn", "yellow stalks": "stack"}


@st.composite
def ingredients(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Draw two to five stuffs: one lot, so much a week in some months, or drawn from a way."""
    found: list[dict[str, Any]] = []
    for name in draw(st.lists(st.sampled_from(STUFFS), min_size=2, max_size=5, unique=True)):
        sort = draw(st.sampled_from(["lot", "weekly", "weekly", "way"]))
        if sort == "way" and name in DRAWN_FROM:
            found.append({"way": DRAWN_FROM[name]})
        elif sort == "lot":
            found.append({"material": name, "volume": f"{draw(st.integers(1, 40)) * 100} L"})
        else:
            first, length = draw(st.integers(1, 12)), draw(st.integers(1, 12))
            months = sorted({(first + after - 1) % 12 + 1 for after in range(length)})
            weekly = f"{draw(st.integers(1, 30)) * 10} L"
            found.append({"material": name, "weekly": weekly, "months": months})
    return found


WORDS = st.fixed_dictionaries(
    {"bays": st.integers(1, 3), "bay": st.sampled_from(["0.4 m3", "0.8 m3", "1 m3", "1.5 m3"])},
    optional={
        "turn_every": st.sampled_from(["3 days", "2 weeks", "10 weeks"]),
        "target_cn": st.sampled_from([25, 30, 38]),
    },
)


def arrived(made: Heap, index: int, day: date) -> float:
    """Return all that has come in of an ingredient by a day [kg], the greatest it can be."""
    way = made.way
    assert isinstance(way, Make)
    part = way.ingredients[index]
    density = part.material.get("density") or 500.0
    if part.once is not None:
        return part.once.wet(density)
    if part.weekly is not None:
        weeks = (START + timedelta(weeks=n) for n in range((day - START).days // 7 + 1))
        return part.weekly.wet(density) * sum(1 for week in weeks if week.month in part.months)
    if part.way == "crew":
        return float("inf") if day >= START + timedelta(weeks=6) else 0.0
    if part.way == "barn":
        return 2.0 * density * sum(1 for year in range(2027, 2040) if date(year, 3, 1) <= day)
    return 3.0 * density


QUICK = draws(25)


@QUICK
@given(ingredients(), WORDS)
def test_nothing_is_used_before_it_came(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """Of each ingredient, the batches built by any day took no more than has come in by then.

    What was screened out before and put back did not come in again.
    """
    made = heap(parts, **words)
    for index in range(len(parts)):
        used = 0.0
        for batch in made.batches:
            used += batch.fresh_of(index)
            assert used <= arrived(made, index, batch.built) * (1 + 1e-6) + 1e-3


@QUICK
@given(ingredients(), WORDS)
def test_a_batch_is_made_of_its_ingredients(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """The masses told for each ingredient sum to the recipe's."""
    made = heap(parts, **words)
    for batch in made.batches:
        told = sum(batch.recipe.mass_of(index) for index in range(len(parts)))
        assert told == pytest.approx(sum(batch.recipe.masses))


@QUICK
@given(ingredients(), WORDS)
def test_there_is_a_bay_for_each_batch(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """At no time stand more batches than there are bays, and none is larger than a bay."""
    made = heap(parts, **words)
    size = float(words["bay"].split()[0])
    for batch in made.batches:
        standing = [other for other in made.batches if other.built <= batch.built < other.ready[1]]
        assert len(standing) <= words["bays"]
        assert batch.recipe.volume <= size * (1 + 1e-6)


@QUICK
@given(ingredients(), WORDS)
def test_what_goes_in_comes_out_or_is_lost(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """Nitrogen in is in the compost, lost or screened out; phosphorus and potassium stay; carbon only goes."""
    made = heap(parts, **words)
    held = dict.fromkeys(("nitrogen", "phosphorus", "potassium", "carbon"), 0.0)
    dry_in = 0.0
    for batch in made.batches:
        for offer, mass in zip(batch.recipe.offers, batch.recipe.masses, strict=True):
            dry = mass * (1 - offer.material["moisture"])
            dry -= batch.overs[offer.number] * (1 - offer.material["moisture"])
            dry_in += dry
            for name in held:
                held[name] += dry * (offer.material.get(name) or 0.0)
        low, likely, high = batch.nitrogen
        assert 0 <= low <= likely <= high <= batch.recipe.total("nitrogen") * (1 + 1e-9)
    if not made.batches:
        return
    stuff, volume = made.material, sum(batch.volume[1] for batch in made.batches)
    dry = volume * stuff["density"] * (1 - stuff["moisture"])
    assert 0.4 * dry_in <= dry <= 0.75 * dry_in
    assert dry * stuff["phosphorus"] == pytest.approx(held["phosphorus"])
    assert dry * stuff["potassium"] == pytest.approx(held["potassium"])
    assert dry * stuff["nitrogen"] == pytest.approx(sum(batch.nitrogen[1] for batch in made.batches))
    assert dry * stuff["carbon"] <= held["carbon"] * (1 + 1e-9)


@QUICK
@given(ingredients(), WORDS)
def test_it_shrinks_as_published(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """40 to 70 % of the volume and 25 to 60 % of the dry matter go (extension sheets, home bins).

    That is of what is not screened out: two fifths of the wood, which shrinks no more.
    """
    for batch in heap(parts, **words).batches:
        dry = volume = 0.0
        for offer, mass in zip(batch.recipe.offers, batch.recipe.masses, strict=True):
            rotted = mass * (0.6 if offer.material.class_ == "wood" else 1.0)
            dry += rotted * (1 - offer.material["moisture"])
            volume += rotted / (offer.material.get("density") or 500.0)
        assert [part / volume for part in batch.volume] == pytest.approx([0.3, 0.45, 0.6])
        assert [part / dry for part in batch.dry] == pytest.approx([0.4, 0.6, 0.75])


@QUICK
@given(ingredients(), WORDS)
def test_what_is_screened_out_goes_into_the_next(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """Two fifths of the wood come back, none before they are screened, and nothing is made of nothing."""
    made = heap(parts, **words)
    for index, part in enumerate(made.way.ingredients):
        wood = part.material.class_ == "wood"
        for batch in made.batches:
            assert batch.overs[index] == pytest.approx(0.4 * batch.recipe.mass_of(index) if wood else 0.0)
            assert 0 <= batch.put_back[index] <= batch.recipe.mass_of(index) * (1 + 1e-9)
            screened = sum(other.overs[index] for other in made.batches if other.ready[1] <= batch.built)
            used = sum(other.put_back[index] for other in made.batches if other.built <= batch.built)
            assert used <= screened * (1 + 1e-9) + 1e-9


TRIO: list[dict[str, Any]] = [
    {"material": "chipped wood", "volume": "20 m3"},
    {"material": "coffee grounds", "weekly": "40 kg"},
    {"material": "grass clippings", "weekly": "150 L", "months": [4, 5, 6, 7, 8, 9]},
]


@pytest.mark.parametrize("bay", ["0.3 m3", "0.5 m3", "0.7 m3", "0.74 m3", "0.745 m3"])
@pytest.mark.parametrize("turns", ["2 days", "2 weeks"])
def test_a_small_heap_is_never_credited_with_heating(heap: Callable[..., Heap], bay: str, turns: str) -> None:
    """Below 0.75 m3 a heap counts as left alone however often it is turned: six months at the least."""
    batches = heap(TRIO, bay=bay, turn_every=turns).batches
    assert batches
    for batch in batches:
        assert not batch.hot
        assert min(batch.ready) - batch.built >= timedelta(180)


def months(batch: Batch) -> list[float]:
    """Return the months a batch takes: low, likely and high."""
    return [(day - batch.built).days / MONTH for day in batch.ready]


@pytest.mark.parametrize("turns", ["1 week", "2 weeks", "3 weeks"])
def test_chip_with_coffee_and_grass(heap: Callable[..., Heap], turns: str) -> None:
    """Common practice, no source: 1 m3 of these built in the warm half is compost in 3.5 to 5.5 months."""
    batches = [one for one in heap(TRIO, turn_every=turns).batches if one.built.month in range(4, 9)]
    assert len(batches) >= 4
    for batch in batches:
        assert batch.recipe.volume == pytest.approx(1.0, rel=0.02)
        assert 3.5 <= months(batch)[1] <= 5.5


def test_chip_with_coffee_and_grass_in_the_south(heap: Callable[..., Heap]) -> None:
    """Common practice, no source: the same holds for heaps built from October to February in the south."""
    parts = [*TRIO[:2], {**TRIO[2], "months": [10, 11, 12, 1, 2, 3]}]
    made = heap(parts, site={"hemisphere": "south"}, bays=2, turn_every="2 weeks")
    batches = [
        one for one in made.batches if one.built.month in {10, 11, 12, 1, 2} and one.recipe.volume >= 0.98
    ]
    assert len(batches) >= 4
    assert all(3.5 <= months(one)[1] <= 5.5 for one in batches)


def test_times_keep_to_their_class(heap: Callable[..., Heap]) -> None:
    """Left alone 6 to 18 months, turned 3 to 6, turned every few days 1.5 to 4.5, likely in between.

    A bay filled in part counts as left alone, and is looked at elsewhere.
    """
    for words, low, high in (
        ({}, 6, 18),
        ({"turn_every": "2 weeks"}, 3, 6),
        ({"turn_every": "3 days"}, 1.5, 4.5),
    ):
        batches = [batch for batch in heap(TRIO, **words).batches if batch.recipe.volume >= 0.75]
        assert batches
        for batch in batches:
            found = months(batch)
            assert found == sorted(found)
            assert (found[0], found[2]) == (pytest.approx(low, abs=0.05), pytest.approx(high, abs=0.05))


def test_turning_is_for_heaps_that_are_turned(heap: Callable[..., Heap]) -> None:
    """A heap turned fortnightly is turned while it works, one left alone never, and turning costs hours."""
    left, turned = heap(TRIO), heap(TRIO, turn_every="2 weeks")
    assert {batch.turns for batch in left.batches} == {0}
    assert all(4 <= batch.turns <= 11 for batch in turned.batches if batch.hot)
    assert any(batch.hot for batch in turned.batches)
    both = left.batch_hours(left.batches[0]), turned.batch_hours(turned.batches[0])
    assert both[0].likely < both[1].likely
    assert all(hours.low <= hours.likely <= hours.high for hours in both)


@pytest.mark.parametrize(("first", "second"), [("4", "9"), ("9", "4")])
def test_equal_stuff_of_two_seasons(heap: Callable[..., Heap], first: str, second: str) -> None:
    """Grass of spring and grass of autumn are two ingredients of one material; each is used up by itself."""
    parts: list[dict[str, Any]] = [
        {"material": "yellow stalks", "volume": "40 m3"},
        {"material": "grass clippings", "weekly": "300 L", "months": [int(first)]},
        {"material": "grass clippings", "weekly": "300 L", "months": [int(second)]},
    ]
    made = heap(parts, bays=3, turn_every="2 weeks")
    assert made.batches
    for index in (1, 2):
        used = sum(batch.fresh_of(index) for batch in made.batches)
        assert used <= arrived(made, index, date(2031, 3, 1)) * (1 + 1e-6)


def test_a_lot_comes_in_its_months(heap: Callable[..., Heap]) -> None:
    """Leaves that fall in October are in no heap before, though they come but once."""
    lot = {"material": "autumn leaves", "volume": "2 m3"}
    greens = {"material": "grass clippings", "weekly": "300 L"}
    built = [heap([part, greens]).batches[0].built for part in (lot, {**lot, "months": [10, 11]})]
    assert built[0] < date(2027, 5, 1)
    assert date(2027, 10, 1) <= built[1] < date(2027, 11, 1)


def test_greens_do_not_keep_over_winter(heap: Callable[..., Heap]) -> None:
    """The last mowings of October are gone when a bay falls free in winter: four weeks are all they keep."""
    grass = {"material": "grass clippings", "weekly": "300 L", "months": [4, 5, 6, 7, 8, 9, 10]}
    made = heap(
        [{"way": "crew"}, {"material": "horse manure", "volume": "1 m3"}, grass], turn_every="2 weeks"
    )
    assert any(batch.built.month in {8, 9, 10} for batch in made.batches)
    assert not [batch.built for batch in made.batches if batch.built.month in {1, 2, 3}]


def test_chip_and_mowings_alone_make_a_heap(heap: Callable[..., Heap]) -> None:
    """Half and half come to a C:N of 40, the most that works where wood is in it; straw has no such leave."""
    grass = {"material": "grass clippings", "weekly": "400 L"}
    made = heap([{"material": "arborist chip", "volume": "20 m3"}, grass], turn_every="2 weeks")
    assert made.batches
    assert all(35 < batch.recipe.cn <= 40 for batch in made.batches)
    straw = heap([{"material": "yellow stalks", "volume": "20 m3"}], target_cn=55, turn_every="2 weeks")
    assert straw.note.startswith("too little nitrogen")


def test_what_comes_too_late_for_the_horizon_is_not_built(heap: Callable[..., Heap]) -> None:
    """Every batch is built between the start and the end of the horizon, in weekly steps."""
    made = heap(TRIO, turn_every="2 weeks")
    assert all(START <= batch.built <= date(2031, 3, 1) for batch in made.batches)
    assert all((batch.built - START).days % 7 == 0 for batch in made.batches)


def test_stuff_of_one_side_makes_no_heap(heap: Callable[..., Heap]) -> None:
    """Stalks alone never make a heap of C:N 30, and the answer says so."""
    made = heap([{"material": "yellow stalks", "volume": "20 m3"}])
    assert made.batches == []
    assert made.note.startswith("too little nitrogen: a C:N of")


def test_a_heap_costs_what_goes_in(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Chip drawn from a seller is paid by the load; grounds at a price are paid by the kilogram used."""
    ways = [
        buy(name="crew", material="chipped wood", price="80 EUR/load", load="1 m3", delivery="5 EUR"),
        {
            "name": "heap",
            "make": {
                "bays": 3,
                "bay": "1 m3",
                "turn_every": "2 weeks",
                "from": [
                    {"way": "crew"},
                    {"material": "coffee grounds", "mass": "2 t", "price": "0.31 EUR/kg"},
                ],
            },
        },
    ]
    needs = [{"fill": {"depth": "10 cm", "settled": False}}]
    lifted = {"lift": ["fill_share", "heap_share"]}
    answer = options(site_of([bed(*needs, ways=["heap"])], ways, limits=lifted))
    row, made = answer.options[0], answer.supplies["heap"]
    assert isinstance(made, Heap)
    batches, wanted = [], row.loose
    for batch in made.batches:
        if wanted > 1e-9:
            batches.append(batch)
            wanted -= batch.volume[1]
    chip, grounds = (sum(batch.fresh_of(index) for batch in batches) for index in (0, 1))
    loads = -(-chip / 280 // 1)
    assert len(batches) == 3
    assert float(row.cash) == pytest.approx(85 * loads + 0.31 * grounds, abs=0.006)


#: Stuff enough for many bays a week; the stalks are drawn from a seller.
MIX = [{"way": "dealer"}, {"material": "grass clippings", "weekly": "20 m3"}]


def naive(made: Heap, wanted: float) -> list[Batch]:
    """Return the batches used one after another: all of them, then those of the last year over and over."""
    batches = sorted(made.batches, key=lambda batch: batch.ready[1])
    year = [batch for batch in batches if batch.built > Step(months=-12).after(made.site.end)]
    found: list[Batch] = []
    for batch in chain(batches, cycle(year or batches)):
        if wanted <= 1e-9:
            break
        found.append(batch)
        wanted -= batch.volume[1]
    return found


@QUICK
@given(ingredients(), WORDS, st.floats(0.001, 60))
def test_what_is_drawn_is_built(
    heap: Callable[..., Heap], parts: list[dict[str, Any]], words: dict[str, Any], wanted: float
) -> None:
    """The batches counted are those that come up one after another, and draw their stuff on their own days."""
    made = heap(parts, **words)
    if not made.batches:
        assert made.used({START: wanted}) == []
        return
    used, expected = made.used({START: wanted}), Counter(map(id, naive(made, wanted)))
    assert {id(batch): count for batch, count in used} == expected or same_volume(used, wanted)
    for way, days in made.passed_on({START: wanted}):
        index = next(n for n, part in enumerate(made.way.ingredients) if part.way == way)
        whole = sum(count * batch.fresh_of(index) for batch, count in used)
        assert sum(days.values()) == pytest.approx(whole / made.way.ingredients[index].material["density"])


def same_volume(used: list[tuple[Batch, int]], wanted: float) -> bool:
    """Say whether batches come to what is wanted, with no one of them to spare: rounding may shift the last."""
    volume = sum(count * batch.volume[1] for batch, count in used)
    return wanted - 1e-6 <= volume <= wanted + max(batch.volume[1] for batch, _ in used) + 1e-6


def test_ten_thousand_cubic_metres_of_a_litre_each(heap: Callable[..., Heap]) -> None:
    """However much is wanted of however small a heap, each batch of it is listed once with its count."""
    made = heap(MIX, bay="1 L")
    used = made.used({START: 10_000.0})
    assert len(used) == len(made.batches)
    volume = sum(count * batch.volume[1] for batch, count in used)
    assert volume == pytest.approx(10_000, abs=0.002)
    assert made.cost({START: 10_000.0}).hours.likely == pytest.approx(
        sum(count * made.batch_hours(batch).likely for batch, count in used)
    )


def test_a_thousand_bays_are_one_recipe_a_day(heap: Callable[..., Heap]) -> None:
    """Equal bays built on a day are one batch many times over, and one lot when they are ready."""
    made = heap(MIX, bay="1 L", bays=1000)
    assert len(made.batches) >= 1000
    assert len(set(map(id, made.batches))) == len({batch.built for batch in made.batches})
    lots = made.lots(made.site.end)
    assert len(lots) == len({lot.day for lot in lots})
    ready = [batch for batch in made.batches if batch.ready[1] <= made.site.end]
    assert sum(lot.loose for lot in lots) == pytest.approx(sum(batch.volume[1] for batch in ready))


def test_more_batches_than_anybody_could_look_after(heap: Callable[..., Heap]) -> None:
    """A thousand bays of a litre for sixty years are refused, with what would be right."""
    with pytest.raises(
        CannotMeet, match="1000 bays of 1 L make more than 10,000 batches by 2087-03-01; give"
    ):
        heap(MIX, {"horizon": "60 years"}, bay="1 L", bays=1000)


def test_two_bays_built_on_a_day_draw_twice(heap: Callable[..., Heap]) -> None:
    """What both bays of one day draw of another way is asked of it, not what the last of them draws."""
    made = heap(MIX, bay="1 m3", bays=2)
    first = made.batches_sorted[0].built
    pair = [batch for batch in made.batches_sorted if batch.built == first]
    assert len(pair) == 2
    [(way, days)] = made.passed_on({START: sum(batch.volume[1] for batch in pair)})
    stalks = sum(batch.recipe.mass_of(0) for batch in pair) / made.way.ingredients[0].material["density"]
    assert (way, days) == ("dealer", {first: pytest.approx(stalks)})
