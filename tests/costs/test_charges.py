"""What an order is charged: goods, deliveries and tax by hand, and parts that add up to the last coin."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.costs.order import Charge, charge_for, order
from barrowful.site.ways import Buy

Seller = Callable[..., Buy]
TERMS = {"delivery": "55 EUR", "truck": "2 m3", "tax": "20 %"}


def charged(way: Buy, loose: float) -> Charge:
    """Return what the order for a loose volume [m3] is charged."""
    placed = order(way, loose, "EUR")
    assert placed is not None
    assert placed.cash == placed.charge.cash
    return placed.charge


def test_tax_on_top(seller: Seller) -> None:
    """3 m3 at 46 in two trips of 55: 138 and 110, 20 % on both is 49.60."""
    charge = charged(seller("46 EUR/m3", **TERMS), 3.0)
    assert charge == Charge(Decimal(138), Decimal(110), Decimal("49.60"), Decimal("297.60"))


def test_tax_in_the_price(seller: Seller) -> None:
    """The same with the tax in the prices is 248 in all, of which 248 less 248 / 1.2 is tax."""
    charge = charged(seller("46 EUR/m3", tax_included=True, **TERMS), 3.0)
    assert charge == Charge(Decimal(138), Decimal(110), Decimal("41.33"), Decimal(248))


def test_without_a_rate_there_is_no_tax(seller: Seller) -> None:
    """Prices of which no tax is told are what is paid, whether they are said to hold it or not."""
    for said in (True, False):
        charge = charged(seller("46 EUR/m3", tax_included=said), 3.0)
        assert charge == Charge(Decimal(138), Decimal(0), Decimal(0), Decimal(138))


@draws(40)
@given(
    price=st.decimals(0, 500, places=4),
    quantity=st.decimals(0, 99, places=3),
    trips=st.integers(0, 9),
    rate=st.integers(0, 300),
    held=st.booleans(),
)
def test_the_parts_add_up(
    seller: Seller, price: Decimal, quantity: Decimal, trips: int, rate: int, held: bool
) -> None:
    """Goods and deliveries, and a tax on top, are what is paid; a tax they hold is a part of it."""
    terms = {"delivery": "33.33 EUR", "tax": f"{rate / 10} %", "tax_included": held}
    goods, delivery, tax, cash = charge_for(seller(f"{price:f} EUR/m3", **terms), quantity, trips, "EUR")
    assert goods + delivery + (0 if held else tax) == cash
    assert 0 <= tax <= cash
    assert delivery == trips * Decimal("33.33")
    assert abs(goods - price * quantity) <= Decimal("0.01")
