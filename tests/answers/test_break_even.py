"""Break-evens: against the arithmetic of two sellers, and against looking at every value."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import cache
from itertools import pairwise

import pytest

from barrowful.answers.break_even import Search, break_evens
from barrowful.answers.break_even_range import asked
from barrowful.answers.break_even_told import break_even_advice
from barrowful.answers.cases import Standing
from barrowful.answers.outlook import best_outlook
from barrowful.measures.problems import WrongUse
from barrowful.site.load import load

#: Invented: beds that get a dressing from one of two sellers, and trees whose chip is cheap if waited for.
TWO = b"""\
site: Two Sellers
currency: EUR
start: 2027-03-01
horizon: 2 years
climate: {annual_mean: 12 degC}
limits: {by: 2029-01-01}
places:
  - {name: beds, kind: bed, shape: {area: 20 m2}, count: 4, needs: [{dress: {depth: 2 cm}}]}
  - {name: plums, kind: tree, shape: {area: 2 m2}, count: 3, needs: [{cover: {depth: 6 cm, keep: 20 %}}]}
ways:
  - {name: bulk, buy: {material: green compost, price: 30 EUR/m3, delivery: 20 EUR, truck: 2 m3}}
  - {name: near, buy: {material: green compost, price: 45 EUR/m3}}
  - {name: chip, buy: {material: arborist chip, price: 50 EUR/m3}}
  - {name: tree crew, buy: {material: arborist chip, price: 5 EUR/m3, lead: 6 months}}
"""
PRICE = "ways.bulk.buy.price"


@cache
def standing() -> Standing:
    """Return the site as it stands."""
    return Standing(load(TWO, "two.yaml"))


@cache
def search(text: str) -> Search:
    """Return what a break-even finds."""
    of = asked(standing(), text)
    return break_evens(standing(), of.scale, of.looks, of.why)


def told(text: str) -> list[tuple[object, str, str, str]]:
    """Return each change that is found: where, which need, and by what before and after."""
    return [(of.at, of.need, of.before, of.after) for of in search(text).changes]


def test_the_price_is_where_two_sellers_cost_the_same() -> None:
    """The first price from which on the other seller is cheaper is that of the arithmetic, to the cent."""
    loose = Decimal(str(next(row.loose for row in standing().case.answer.options if row.name == "near")))

    def cents(amount: Decimal) -> Decimal:
        return round(amount, 2)

    price = Decimal("0.01")
    while cents(loose * price) + 20 <= cents(loose * 45):  # of equal ones the first of the file is taken
        price += Decimal("0.01")
    assert told(f"{PRICE}=10..60 EUR/m3:4") == [(float(price), "dress", "bulk", "near")]
    [change] = search(f"{PRICE}=10..60 EUR/m3:4").changes
    assert change.unit == "EUR/m3"
    rest = change.now.cash - cents(loose * 45)
    assert change.was.cash == rest + 20 + cents(loose * (price - Decimal("0.01")))
    assert change.unchanged == rest + 20 + cents(loose * price) > change.now.cash


def test_ends_may_be_in_other_units_and_the_other_way_round() -> None:
    """What is found does not go by the units of the ends or by which stands first."""
    [(cubic, *ways)] = told(f"{PRICE}=10..60 EUR/m3:4")
    for text in (f"{PRICE}=60..10 EUR/m3:4", f"{PRICE}=10 EUR/m3..60 EUR/m3:9"):
        assert told(text) == [(cubic, *ways)]
    [(yard, *_)] = told(f"{PRICE}=10 EUR/m3..40 EUR/yd3:4")
    assert isinstance(yard, float)
    assert yard / 0.764554857984 == pytest.approx(cubic, abs=0.02)


def test_a_date_is_found_to_the_day() -> None:
    """Chip that takes six months to come covers from the day on which waiting six months is allowed."""
    day = date(2027, 9, 1)
    assert told("limits.by=2027-03-01..2028-12-01:5") == [(day, "cover", "chip", "tree crew")]


def test_every_change_is_found_that_looking_at_every_value_shows() -> None:
    """Looked at closely, the changes are those of all values one by one; looked at less, some of them."""
    served = []
    for count in range(1, 31):
        loaded = standing().changed("", [("places.beds.count", f"{count}")])
        served.append(best_outlook(standing().beside("", loaded)).served["dress"].in_short)
    every = [
        (float(count + 1), "dress", before, after)
        for count, (before, after) in enumerate(pairwise(served), 1)
        if before != after
    ]
    assert len(every) > 2
    assert told("places.beds.count=1..30:30") == every
    assert set(told("places.beds.count=1..30:3")) <= set(every)


def test_a_range_of_its_own_is_round_the_value_and_said() -> None:
    """Without ends it looks from half to twice the file's value, or a year round its date, and says so."""
    price, day = search(PRICE), search("limits.by")
    assert [price.scale.text(0), price.scale.text(price.scale.last)] == ["15 EUR/m3", "60 EUR/m3"]
    assert [day.scale.text(0), day.scale.text(day.scale.last)] == ["2028-01-02", "2030-01-01"]
    lines = [*break_even_advice(price)]
    assert lines[0].startswith(f"{PRICE}: from 15 EUR/m3 to 60 EUR/m3 the best ways change once")
    assert "dress by near instead of bulk; the whole site costs" in lines[1]
    assert "33 values (50 % to 200 % of the file's 30 EUR/m3)" in lines[2]
    assert "the best ways stay the same" in next(break_even_advice(day))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("ways.bluk.buy.price", "bulk"),
        ("ways.bulk.buy.prise", 'did you mean "price"?'),
        ("ways.bulk.buy.material", "no number or date"),
        ("site=1..2", "Two Sellers"),
        ("ways.bulk.buy", "no single value"),
        ("labour.hourly_value", "give a range"),
        (f"{PRICE}=", 'write --break-even "PATH"'),
        (f"{PRICE}=cheap", 'write --break-even "PATH=A..B"'),
        (f"{PRICE}=1 EUR/m3..9 EUR", "do not measure the same"),
        (f"{PRICE}=9..9 EUR/m3", "give two that differ"),
        (f"{PRICE}=1..9 EUR/m3:1", "look at 2 to 10,000 values"),
        (f"{PRICE}=-9..9 EUR/m3", "less than nothing"),
        ("limits.by=2020-01-01..2028-01-01", "limits.by"),
    ],
)
def test_what_cannot_be_searched_says_what_can(text: str, says: str) -> None:
    """Each is wrong use, with what would be right."""
    with pytest.raises(WrongUse) as wrong:
        search(text)
    assert says in str(wrong.value)
