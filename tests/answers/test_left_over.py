"""What is left of what was bought before the start: it goes on before more is ordered, in every answer."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest

from barrowful.answers.advice import advice
from barrowful.answers.choices import followed
from barrowful.answers.options import options
from barrowful.answers.orders import Sheet, sheet
from barrowful.answers.orders_told import used_later_told
from barrowful.jobs.season import season
from barrowful.measures.elementwise import likely
from barrowful.measures.problems import SiteProblems
from barrowful.planning.plan import plan_of
from barrowful.planning.programme import Limited
from barrowful.planning.ranges.answers import of_orders
from barrowful.planning.ranges.figures import Draws
from barrowful.site.load import load
from barrowful.site.records import Site

#: 30 m2 want 0.6 m3 of compost, six rings 1.6 m3 of chip and a top-up later, the beds a meal each season.
TEXT = """\
site: Left
currency: EUR
start: 2027-03-01
horizon: 3 years
climate: {annual_mean: 15 degC}
places:
  - name: beds
    kind: bed
    shape: {area: 30 m2}
    needs: [{dress: {depth: 2 cm, dug: true}}, {feed: {nitrogen: 8 g/m2}}]
  - name: trees
    kind: tree
    shape: {ring: {radius: 1 m, collar: 10 cm}}
    count: 6
    needs: [{cover: {depth: 7 cm}}]
ways:
  - {name: yard, buy: {material: green compost, price: 40 EUR/m3, minimum: 0.5 m3, step: 0.1 m3, delivery: 20 EUR%s}}
  - {name: crew, buy: {material: arborist chip, price: 9 EUR/load, load: 2 m3, lead: 2 weeks%s}}
  - {name: meal, buy: {material: feather meal, price: 40 EUR/bag, bag: 20 kg%s}}
"""


@cache
def site_with(yard: str = "", crew: str = "", meal: str = "") -> Site:
    """Return the site with what is left of each way."""
    lefts = (f", left: {left}" if left else "" for left in (yard, crew, meal))
    return load((TEXT % tuple(lefts)).encode(), "left").site


def ordered(found: Sheet, way: str) -> list[tuple[date, float]]:
    """Return the orders of a way: the day each is needed, and how much in its unit."""
    return [(line.needed, float(line.order.quantity)) for line in found.orders if line.way.name == way]


def test_it_goes_on_before_more_is_ordered() -> None:
    """Of 0.6 m3 wanted 0.2 m3 are there: the least that is brought is ordered; the chip's first load is not."""
    without, found = sheet(site_with()), sheet(site_with("200 L", "3 m3", "3 kg"))
    assert [quantity for _, quantity in ordered(without, "yard")] == [pytest.approx(0.6)]
    assert [quantity for _, quantity in ordered(found, "yard")] == [pytest.approx(0.5)]
    first, *later = ordered(without, "crew")
    assert first == (date(2027, 3, 15), 1.0)
    assert ordered(found, "crew") == later
    assert ordered(without, "meal")[0][0] == date(2027, 3, 1)
    assert ordered(found, "meal")[0][0] == date(2028, 3, 1)
    assert found.selection.whole.bill.cash < without.selection.whole.bill.cash


def test_it_does_not_keep_for_ever() -> None:
    """What is left of meal serves three years: of 40 kg the fourth season has its part, the fifth none."""
    assert not ordered(sheet(site_with(meal="40 kg")), "meal")
    longer = load((TEXT % ("", "", ", left: 40 kg")).replace("3 years", "5 years").encode(), "left").site
    assert [day for day, _ in ordered(sheet(longer), "meal")] == [date(2031, 3, 1)]


@pytest.mark.parametrize(
    ("history", "day"),
    [
        ("{date: 2025-03-10, job: delivery, way: meal, amount: 40 kg}", date(2029, 3, 1)),
        ("{date: 2025-03-10, place: beds, way: meal, amount: 1 kg}", date(2031, 3, 1)),
        ("{date: 2023-03-10, job: delivery, way: meal, amount: 40 kg}", date(2031, 3, 1)),
    ],
)
def test_it_keeps_from_the_day_it_came(history: str, day: date) -> None:
    """Brought two years ahead it is too old by the third season; what is older than it keeps is vouched for."""
    text = (TEXT % ("", "", ", left: 40 kg")).replace("3 years", "5 years") + f"history: [{history}]\n"
    found = load(text.encode(), "left").site
    assert [needed for needed, _ in ordered(sheet(found), "meal")] == [day]


#: A bed that is fed in each of five seasons, by far less than the least that is brought at once.
FED = """\
site: Fed
currency: EUR
start: 2027-03-01
horizon: 5 years
climate: {annual_mean: 11 degC}
places:
  - {name: beds, kind: bed, shape: {area: 20 m2}, needs: [{feed: {nitrogen: 6 g/m2}}]}
ways:
  - {name: stuff, buy: {material: %s, price: 5 EUR/%s, minimum: %s}}
"""


@pytest.mark.parametrize(
    ("stuff", "unit", "least", "seasons"),
    [
        ("grass clippings", "m3", "8 m3", [0, 1, 2, 3, 4]),  # four weeks
        ("cattle manure", "m3", "8 m3", [0, 1, 2, 3, 4]),  # 90 days
        ("green compost", "m3", "20 m3", [0, 2, 4]),  # 400 days
        ("feather meal", "kg", "50 kg", [0, 4]),  # three years and the days to that season
    ],
)
def test_what_is_left_over_keeps_by_what_it_is(stuff: str, unit: str, least: str, seasons: list[int]) -> None:
    """Of an order fresh grass and raw muck are for no second season, compost for one more, meal for three."""
    lines = (
        f"  - {{place: beds, need: feed, way: stuff, amount: 2 L, date: {2027 + of}-03-01}}"
        for of in range(5)
    )
    text = "\n".join([(FED % (stuff, unit, least)) + "plan:", *lines])
    whole = sheet(load(text.encode(), "fed").site).selection.whole
    assert [of.day.year - 2027 for of in whole.bill.orders] == seasons
    rotted = "after 90 days; it is rotted and less by then: measure it, and order so much less."
    assert any(line.endswith(rotted) for line in advice(whole)) is (stuff == "cattle manure")


@pytest.mark.parametrize(
    ("stuff", "unit", "least", "orders"),
    [("grass clippings", "m3", "8 m3", 5), ("feather meal", "kg", "50 kg", 2)],
)
def test_a_plan_counts_on_no_more_than_keeps(stuff: str, unit: str, least: str, orders: int) -> None:
    """Eight cubic metres of grass would feed all five seasons: each has its own load all the same."""
    answer = options(load((FED % (stuff, unit, least)).encode(), "fed").site)
    plan = plan_of(answer, Limited.of(answer))
    assert len(plan.whole.bill.orders) == orders
    assert not plan.whole.unmet
    assert plan.whole.bill.cash == followed(answer).bill.cash


def test_an_order_of_greens_is_for_the_weeks_they_keep() -> None:
    """Grass for two beds six weeks apart comes twice: the second is not of a heap six weeks old. Compost comes once."""
    beds = (
        "  - {name: early, kind: bed, shape: {area: 9 m2}, needs: [{dress: {depth: 2 cm}}]}\n"
        "  - {name: late, kind: bed, shape: {area: 9 m2}, needs: [{dress: {depth: 2 cm}}]}\n"
    )
    plan = (
        "plan:\n  - {place: early, need: dress, way: stuff, amount: 180 L, date: 2027-04-01}\n"
        "  - {place: late, need: dress, way: stuff, amount: 180 L, date: 2027-05-13}\n"
    )
    for stuff, orders in (("grass clippings", 2), ("green compost", 1)):
        head, tail = (FED % (stuff, "m3", "1 m3")).split("  - {name: beds")
        text = head + beds + tail[tail.index("ways:") :] + plan
        assert len(sheet(load(text.encode(), "weeks").site).orders) == orders


@pytest.mark.parametrize("bag", ["20 kg", "60 kg"])
def test_what_later_uses_leave_is_told(bag: str) -> None:
    """What is left after the last use, or lies too long, is all that is bought less all that goes on.

    Of the first order the second to the fourth season take, so that it leaves less than the sheet has as left over.
    """
    text = (TEXT % ("", "", "")).replace("bag: 20 kg", f"bag: {bag}").replace("3 years", "5 years")
    whole = sheet(load(text.encode(), "left").site).selection.whole
    orders = [of for of in whole.bill.orders if of.way.name == "meal"]
    on = sum(dose.loose for dose in whole.together.all_doses if dose.way == "meal")
    rest = sum(of.rest for of in orders)
    assert rest == pytest.approx(sum(of.order.volume for of in orders) - on)
    assert orders[0].rest < orders[0].order.leftover
    [told] = used_later_told(orders)
    assert told.endswith(f": {orders[0].way.material.told(rest, 2)} of meal.")
    assert used_later_told(orders[-1:]) == ()


def test_all_of_it_is_there() -> None:
    """Where all lies there nothing is ordered or paid, and the answer says of what it goes on."""
    found = site_with("1 m3", "8 m3", "5 kg")
    assert not ordered(sheet(found), "yard")
    told = "\n".join(advice(followed(options(found))))
    assert "- yard: what is left of it; dress beds" in told
    assert "- meal: what is left of it, then 1 bag" in told


@pytest.mark.parametrize("lefts", [("200 L", "3 m3", "3 kg"), ("", "500 L", "25 kg"), ("2 m3", "5 m3", "")])
def test_a_plan_uses_it_first(lefts: tuple[str, str, str]) -> None:
    """A plan is proven by the ordinary code, costs no more than options do, and is no dearer for what is left."""
    cash = []
    for site in (site_with(), site_with(*lefts)):
        answer = options(site)
        plan = plan_of(answer, Limited.of(answer))
        assert plan.whole.bill.cash <= followed(answer).bill.cash
        cash.append(plan.whole.bill.cash)
    assert cash[1] < cash[0]


def test_a_season_waits_for_no_delivery_of_it() -> None:
    """What lies there is put on by itself; what has to come in the years after has its order as ever."""
    jobs = season(site_with("", "3 m3", "3 kg")).jobs
    for way, word in (("crew", "mulch"), ("meal", "feed")):
        first = min((job for job in jobs if job.way == way and job.job == word), key=lambda job: job.on)
        assert first.after == []
        assert first.on.year == 2027
        assert min(job.on for job in jobs if job.way == way and job.job == "order").year == 2028


def test_ranges_use_it_first() -> None:
    """Draw by draw it is what it is in the likely answer, by weight too."""
    found = sheet(site_with("200 L", "3 m3", "3 kg"))
    drawn = of_orders(Draws(8, 1), found).cells["orders"]
    for line, cells in zip(found.orders, drawn, strict=True):
        assert likely(cells["ordered_m3"]) == pytest.approx(line.order.volume)


def test_greens_do_not_keep() -> None:
    """Of what rots where it lies none is left: that is told, with what to do."""
    text = (TEXT % ("", "", "")).replace("material: feather meal", "material: grass clippings")
    text = text.replace("bag: 20 kg", "bag: 20 kg, left: 5 kg")
    with pytest.raises(
        SiteProblems, match='grass clippings does not keep, so none is left; leave "left" out'
    ):
        load(text.encode(), "left")


def test_it_is_counted_in_what_it_is_sold_by() -> None:
    """A bag of 20 kg and a load of 2 m3 are what the way says; what it has none of is refused with what it has."""
    by_piece, by_size = site_with(meal="0.5 bag", crew="2 load"), site_with(meal="10 kg", crew="4 m3")
    assert [way.lies_there for way in by_piece.ways] == [way.lies_there for way in by_size.ways]
    with pytest.raises(
        SiteProblems, match=r':18:\d+: ways\.crew\.buy\.left: "1 bag": crew comes by the load'
    ):
        site_with(crew="1 bag")


KEPT = """\
site: Kept
currency: EUR
start: 2027-03-01
horizon: 4 years
climate: {annual_mean: 11 degC, last_frost: 04-01, first_frost: 11-20}
soil: {organic_matter: 0.9 %%, clay: 4 %%, bulk_density: 1.5 g/cm3}
places:
  - name: beds
    kind: bed
    shape: {area: 36 m2}
    needs: [{raise: {organic_matter: 3 %%, depth: 20 cm, by: 2030-03-01}}]
ways:
  - {name: yard, buy: {material: green compost, price: 35 EUR/m3, minimum: %s, lead: 2 weeks}}
"""


def test_what_is_too_old_to_count_is_told_where_more_is_bought_for_it() -> None:
    """Of 3 m3 half is left after two years and three months, and as much is ordered again: the screen says so."""
    found = sheet(load((KEPT % "3 m3").encode(), "kept").site)
    first, second = found.selection.whole.bill.orders
    used = sum(dose.loose for dose in found.selection.whole.together.all_doses if dose.day < second.day)
    assert second.too_old == pytest.approx(3 - used)
    assert (second.day - first.day).days > 400
    told = (
        f"yard: {first.way.material.told(second.too_old)} is left over by {second.day} and is not counted on after"
        " 400 days; kept covered it may still be good, and less is ordered then."
    )
    assert told in advice(found.selection.whole)


def test_what_is_used_up_is_not_told_as_too_old() -> None:
    """Of a seller without a minimum nothing is left over."""
    whole = sheet(load((KEPT % "0.001 m3").encode(), "kept").site).selection.whole
    assert not any(order.too_old for order in whole.bill.orders)
    assert not any("not counted on" in line for line in advice(whole))


LOADS = """\
site: Loads
currency: EUR
start: 2027-03-01
horizon: 1 year
places:
  - name: path
    kind: row
    shape: {area: 20 m2}
    needs: [{cover: {depth: 5 cm}}]
ways:
  - {name: crew, buy: {material: arborist chip, price: %s, origin: clean}}
"""


@pytest.mark.parametrize(
    ("price", "told"),
    [
        ("0 EUR/load, load: 8 m3", True),
        ("0 EUR/load, load: 1.5 m3", False),
        ("9 EUR/m3, minimum: 4 m3", True),
        ("9 EUR/m3, step: 0.1 m3", False),
        ("4 EUR/bag, bag: 5 m3", False),
    ],
)
def test_much_of_a_load_that_is_left_over_is_told_first(price: str, told: bool) -> None:
    """Of a load of 8 m3 most lies on the drive; a sixth of one of 1.5 m3, and what is left of a bag, is no news."""
    whole = sheet(load((LOADS % price).encode(), "loads").site).selection.whole
    order, lines = whole.bill.orders[0].order, " ".join(advice(whole))
    assert ("left over" in lines) is told
    if told:
        assert f", {whole.bill.orders[0].way.material.told(order.leftover, 0)} left over." in lines
