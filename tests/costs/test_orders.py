"""Orders in the seller's units against sums done by hand, and what must hold for every order."""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.costs.order import Order, order
from barrowful.site.ways import Buy

QUICK = draws(50)
Seller = Callable[..., Buy]
LITRES = st.integers(1, 60_000)
CENTS = st.integers(0, 30_000)


def made(way: Buy, loose: float, currency: str = "EUR") -> Order:
    """Return an order that must be there."""
    found = order(way, loose, currency)
    assert found is not None
    return found


def money(cents: int, currency: str = "EUR", per: str = "") -> str:
    """Return a price as a grower writes it."""
    return f"{cents // 100}.{cents % 100:02d} {currency}{per}"


@pytest.mark.parametrize("litres", [15, 25, 30, 40, 45, 50, 60, 70])
def test_whole_numbers_of_bags_stay_whole(seller: Seller, litres: int) -> None:
    """A need of exactly n bags is n bags, however the need was summed up."""
    way = seller("5 EUR/bag", bag=f"{litres} L")
    for count in range(1, 201):
        summed = sum([litres / 1000] * count)
        for loose in (summed, count * (litres / 1000), count * litres / 1000):
            assert made(way, loose).quantity == count, (count, loose)


@pytest.mark.parametrize(
    "step", ["0.1 m3", "0.2 m3", "0.3 m3", "0.5 m3", "0.7 m3", "1 yd3", "25 kg", "0.1 t"]
)
def test_whole_numbers_of_steps_stay_whole(seller: Seller, step: str) -> None:
    """A need of exactly n steps of a bulk seller is n steps, in any unit."""
    way = seller("40 EUR/m3", step=step)
    size, unit = step.split()
    one = float(size) * {"m3": 1, "yd3": 0.764554857984, "kg": 1 / 600, "t": 1000 / 600}[unit]
    for count in range(1, 121):
        for loose in (count * one, sum([one] * count)):
            assert float(made(way, loose).quantity) == pytest.approx(count * one, rel=1e-8), (count, loose)


@pytest.mark.parametrize(
    ("terms", "loose", "quantity", "volume", "trips", "cash"),
    [
        ({"price": "6 EUR/bag", "bag": "40 L"}, 0.401, 11, 0.44, 1, "66.00"),
        ({"price": "6 EUR/bag", "bag": "20 kg"}, 0.1, 3, 0.1, 1, "18.00"),
        ({"price": "40 EUR/m3", "step": "0.5 m3"}, 2.01, 2.5, 2.5, 1, "100.00"),
        ({"price": "40 EUR/m3", "minimum": "2 m3"}, 0.3, 2, 2, 1, "80.00"),
        ({"price": "40 EUR/m3", "minimum": "2.2 m3", "step": "0.5 m3"}, 0.3, 2.5, 2.5, 1, "100.00"),
        ({"price": "40 EUR/m3", "minimum": "2.2 m3", "step": "0.5 m3"}, 2.6, 3, 3, 1, "120.00"),
        ({"price": "40 EUR/m3", "minimum": "900 kg"}, 0.3, 1.5, 1.5, 1, "60.00"),
        ({"price": "90 EUR/load", "load": "10 m3", "delivery": "20 EUR"}, 10.5, 2, 20, 2, "220.00"),
        ({"price": "90 EUR/load", "load": "10 m3", "whole_loads": "false"}, 7.5, 0.75, 7.5, 1, "67.50"),
        ({"price": "0 EUR/load", "load": "10 m3"}, 0.2, 1, 10, 1, "0.00"),
        ({"price": "10 EUR/m3", "truck": "8 m3", "delivery": "55 EUR"}, 8, 8, 8, 1, "135.00"),
        ({"price": "10 EUR/m3", "truck": "8 m3", "delivery": "55 EUR"}, 8.5, 8.5, 8.5, 2, "195.00"),
        ({"price": "10 EUR/m3", "payload": "600 kg", "delivery": "5 EUR"}, 2.5, 2.5, 2.5, 3, "40.00"),
        ({"price": "10 EUR/m3", "truck": "1 m3", "payload": "3 t", "delivery": "5 EUR"}, 4, 4, 4, 4, "60.00"),
        (
            {"price": "10 EUR/m3", "truck": "9 m3", "payload": "600 kg", "delivery": "5 EUR"},
            4,
            4,
            4,
            4,
            "60.00",
        ),
        ({"price": "10 EUR/m3", "box": "1.5 m3", "payload": "1 t"}, 3, 3, 3, 2, "30.00"),
        ({"price": "48 EUR/t"}, 2.5, 1.5, 2.5, 1, "72.00"),
        ({"price": "48 EUR/t", "step": "0.5 t"}, 2.6, 2, 10 / 3, 1, "96.00"),
        ({"price": "48 EUR/t", "step": "0.5 m3"}, 2.6, 1.8, 3, 1, "86.40"),
        ({"price": "48 EUR/t", "payload": "1 t", "delivery": "10 EUR"}, 2.5, 1.5, 2.5, 2, "92.00"),
        ({"price": "40 EUR/m3", "delivery": "50 EUR", "tax": "20 %"}, 2, 2, 2, 1, "156.00"),
        ({"price": "3.33 EUR/bag", "bag": "40 L", "tax": "7.5 %"}, 0.12, 3, 0.12, 1, "10.74"),
    ],
)
def test_against_sums_done_by_hand(
    seller: Seller, terms: dict[str, str], loose: float, quantity: float, volume: float, trips: int, cash: str
) -> None:
    """Bags, steps, minimum, loads, trips by volume or mass, delivery each trip and tax, reckoned apart."""
    found = made(seller(**terms), loose)
    assert float(found.quantity) == pytest.approx(quantity)
    assert found.volume == pytest.approx(volume)
    assert found.mass == pytest.approx(600 * volume)
    assert found.leftover == pytest.approx(volume - loose, abs=1e-9)
    assert found.trips == trips
    assert found.cash == Decimal(cash)


def test_nothing_needed_is_nothing_ordered(seller: Seller) -> None:
    """No minimum is bought for a need of nothing."""
    assert order(seller("40 EUR/m3", minimum="2 m3", delivery="50 EUR"), 0.0, "EUR") is None


TERMS = st.fixed_dictionaries(
    {"price": CENTS, "delivery": CENTS},
    optional={
        "step": LITRES,
        "minimum": LITRES,
        "truck": st.integers(500, 20_000),
        "payload": st.integers(200, 20_000),
        "tax": st.integers(0, 250),
    },
)


def terms_of(drawn: dict[str, int], kind: str, size: int) -> dict[str, str | bool]:
    """Return drawn numbers as the words of a site file; ``kind`` is m3, bag, load, part load or t."""
    per = {"m3": "/m3", "bag": "/bag", "load": "/load", "part load": "/load", "t": "/t"}[kind]
    words: dict[str, str | bool] = {
        "price": money(drawn["price"], per=per),
        "delivery": money(drawn["delivery"]),
    }
    words |= {key: f"{drawn[key] / 1000} m3" for key in ("step", "minimum", "truck") if key in drawn}
    if kind in {"bag", "load", "part load"}:
        words[kind.split()[-1]] = f"{size} L"
    if kind == "part load":
        words["whole_loads"] = "false"
    if "payload" in drawn:
        words["payload"] = f"{drawn['payload']} kg"
    if "tax" in drawn:
        words["tax"] = f"{drawn['tax'] / 10} %"
    return words


KINDS = st.sampled_from(["m3", "bag", "load", "part load", "t"])


@QUICK
@given(TERMS, KINDS, st.integers(20, 12_000), LITRES)
def test_enough_comes_and_no_more_than_the_terms_force(
    seller: Seller, drawn: dict[str, int], kind: str, size: int, litres: int
) -> None:
    """An order holds what is needed; what is over is less than a bag, step or load, or the minimum's."""
    way, loose = seller(**terms_of(drawn, kind, size)), litres / 1000
    found = made(way, loose)
    assert found.volume >= loose * (1 - 1e-8)
    assert found.leftover == pytest.approx(max(0.0, found.volume - loose), abs=1e-9)
    grain = max(drawn.get("step", 0) / 1000, size / 1000 if kind in {"bag", "load"} else 0.0)
    least = max(loose, drawn.get("minimum", 0) / 1000)
    assert found.volume < least + grain + 1e-7 * max(1.0, least)


@QUICK
@given(TERMS, KINDS, st.integers(20, 12_000), LITRES)
def test_steps_of_bags_and_loads_are_whole(
    seller: Seller, drawn: dict[str, int], kind: str, size: int, litres: int
) -> None:
    """Bags and whole loads are whole in number, and an order is a whole number of the seller's steps."""
    found = made(seller(**terms_of(drawn, kind, size)), litres / 1000)
    if kind in {"bag", "load"} and "step" not in drawn:
        assert found.quantity == found.quantity.to_integral_value()
    if "step" in drawn and kind not in {"bag", "load"}:
        steps = found.volume / (drawn["step"] / 1000)
        assert steps == pytest.approx(round(steps), rel=1e-6)


@pytest.mark.parametrize(("kind", "step"), [("bag", "100 L"), ("load", "7 m3"), ("bag", "0.05 m3")])
def test_a_step_beside_bags_or_loads_leaves_both_whole(seller: Seller, kind: str, step: str) -> None:
    """A seller of bags or loads who also has a step still brings whole bags and whole loads."""
    size = {"bag": "40 L", "load": "5 m3"}[kind]
    way = seller(f"5 EUR/{kind}", step=step, **{kind: size})
    for loose in (0.03, 0.11, 0.5, 3.3, 8.0, 21.0):
        found = made(way, loose)
        assert float(found.quantity) == pytest.approx(round(float(found.quantity))), loose


@QUICK
@given(TERMS, KINDS, st.integers(20, 12_000), LITRES, LITRES)
def test_more_never_costs_less(
    seller: Seller, drawn: dict[str, int], kind: str, size: int, litres: int, more: int
) -> None:
    """Cash, trips and quantity never fall when more is needed."""
    way = seller(**terms_of(drawn, kind, size))
    one, other = made(way, litres / 1000), made(way, (litres + more) / 1000)
    assert one.cash <= other.cash
    assert one.trips <= other.trips
    assert one.quantity <= other.quantity


@QUICK
@given(TERMS, KINDS, st.integers(20, 12_000), LITRES)
def test_trips_carry_it_all_and_are_as_few_as_may_be(
    seller: Seller, drawn: dict[str, int], kind: str, size: int, litres: int
) -> None:
    """Trips times room and times payload hold the order; with one trip less, something would not."""
    found = made(seller(**terms_of(drawn, kind, size)), litres / 1000)
    rooms = [(found.volume, drawn["truck"] / 1000)] if "truck" in drawn else []
    rooms += [(600 * found.volume, float(drawn["payload"]))] if "payload" in drawn else []
    if kind in {"load", "part load"} and "truck" not in drawn:
        rooms.append((found.volume, size / 1000))
    assert all(amount <= found.trips * room * (1 + 1e-8) for amount, room in rooms)
    fewer = found.trips - 1
    assert fewer == 0 or any(amount > fewer * room * (1 - 1e-8) for amount, room in rooms)


@QUICK
@given(TERMS, KINDS, st.integers(20, 12_000), LITRES, st.integers(2, 9))
def test_price_times_k_is_material_cost_times_k(
    seller: Seller, drawn: dict[str, int], kind: str, size: int, litres: int, times: int
) -> None:
    """With delivery and tax left out, k times the price is k times the cash, to the rounding of a cent."""
    plain = {**drawn, "delivery": 0, "tax": 0}
    one = made(seller(**terms_of(plain, kind, size)), litres / 1000).cash
    dear = {**plain, "price": plain["price"] * times}
    other = made(seller(**terms_of(dear, kind, size)), litres / 1000).cash
    assert abs(other - times * one) <= Decimal("0.005") * (times + 1)


@QUICK
@given(TERMS, KINDS, st.integers(20, 12_000), LITRES)
def test_cash_is_exact_to_the_last_cent(
    seller: Seller, drawn: dict[str, int], kind: str, size: int, litres: int
) -> None:
    """Cash is a Decimal of whole cents: goods and delivery each to the cent, and tax on both, halves up."""
    found = made(seller(**terms_of(drawn, kind, size)), litres / 1000)
    goods = cents(Fraction(drawn["price"], 100) * Fraction(found.quantity))
    brought = cents(Fraction(drawn["delivery"], 100) * found.trips)
    assert isinstance(found.cash, Decimal)
    assert found.cash.as_tuple().exponent == -2
    assert Fraction(found.cash) == cents((goods + brought) * (1 + Fraction(drawn.get("tax", 0), 1000)))


def cents(money: Fraction) -> Fraction:
    """Return money to the nearest cent, the half one up."""
    return Fraction(math.floor(money * 100 + Fraction(1, 2)), 100)


@pytest.mark.parametrize(
    ("currency", "price", "wanted", "terms", "charged"),
    [
        ("EUR", "17.13 EUR/m3", 2.5, {}, ("42.83", "0", "0", "42.83")),
        ("JPY", "33 JPY/m3", 2.5, {}, ("83", "0", "0", "83")),
        ("JPY", "2.53 JPY/m3", 1.0, {"tax": "20 %"}, ("3", "0", "1", "4")),
    ],
)
def test_half_a_coin_is_one_and_tax_is_on_what_the_bill_has(
    seller: Seller, currency: str, price: str, wanted: float, terms: dict[str, str], charged: tuple[str, ...]
) -> None:
    """42.825 is 42.83, 82.5 yen are 83, and a fifth of the 3 yen on the bill is 0.6: one."""
    found = made(seller(price, currency=currency, **terms), wanted, currency)
    assert found.charge == tuple(map(Decimal, charged))


@pytest.mark.parametrize(("currency", "places"), [("EUR", 2), ("JPY", 0), ("KWD", 3)])
def test_cash_has_the_smallest_coin_of_its_currency(seller: Seller, currency: str, places: int) -> None:
    """Yen have no cents and Kuwaiti dinars have thousandths (ISO 4217)."""
    found = made(seller(f"7 {currency}/m3", currency=currency), 1.2345678, currency)
    exponent = found.cash.as_tuple().exponent
    assert exponent == -places
    assert abs(found.cash - Decimal("8.6419746")) <= Decimal(1).scaleb(-places) / 2


def test_a_great_order_is_still_exact(seller: Seller) -> None:
    """Ten million bags at 1.01 come to the cent."""
    assert made(seller("1.01 EUR/bag", bag="10 L"), 100_000.0).cash == Decimal("10100000.00")
    assert math.isclose(float(made(seller("1.01 EUR/bag", bag="10 L"), 100_000.0).quantity), 1e7)
