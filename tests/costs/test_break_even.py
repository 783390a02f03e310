"""Bags against bulk: the volume at which both cost the same, by hand and by pricing both."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from draws import draws
from hypothesis import assume, given
from hypothesis import strategies as st

from barrowful.costs.order import break_even
from barrowful.site.ways import Buy

QUICK = draws(50)
Seller = Callable[..., Buy]


def test_by_hand(seller: Seller) -> None:
    """Bags of 40 L at 6.50 are 162.50 a cubic metre; bulk at 44 and 60 for the lorry is level at 0.506 m3."""
    bags, bulk = seller("6.50 EUR/bag", bag="40 L"), seller("44 EUR/m3", delivery="60 EUR")
    assert break_even(bags, bulk) == pytest.approx(60 / (162.5 - 44))


def test_bags_by_mass(seller: Seller) -> None:
    """A bag of 24 kg at 600 kg/m3 holds 40 L."""
    bags, bulk = seller("6.50 EUR/bag", bag="24 kg"), seller("44 EUR/m3", delivery="60 EUR")
    assert break_even(bags, bulk) == pytest.approx(60 / (162.5 - 44))


def test_cheap_bags_are_never_beaten(seller: Seller) -> None:
    """Where bags cost no more by volume there is no such volume."""
    assert break_even(seller("1 EUR/bag", bag="40 L"), seller("44 EUR/m3", delivery="60 EUR")) is None
    assert break_even(seller("1 EUR/bag", bag="40 L"), seller("25 EUR/m3", delivery="60 EUR")) is None


def test_bulk_brought_free_is_cheaper_from_the_first_barrow(seller: Seller) -> None:
    """Without a charge for bringing it, dear bags never pay."""
    assert break_even(seller("6 EUR/bag", bag="40 L"), seller("44 EUR/m3")) == 0.0
    bags = seller("6 EUR/bag", bag="40 L", delivery="9 EUR")
    assert break_even(bags, seller("44 EUR/m3", delivery="5 EUR")) == 0.0


CENTS = st.integers(0, 20_000)
TENTHS = st.integers(0, 250)


@QUICK
@given(st.integers(1, 3000), st.integers(10, 80), CENTS, TENTHS, CENTS, CENTS, TENTHS)
def test_both_cost_the_same_there(
    seller: Seller, bag: int, litres: int, brought: int, tax: int, price: int, lorry: int, tax_of_bulk: int
) -> None:
    """At the volume given, each seller's own price, delivery and tax come to one sum of money."""
    bags = seller(
        f"{bag / 100} EUR/bag", bag=f"{litres} L", delivery=f"{brought / 100} EUR", tax=f"{tax / 10} %"
    )
    bulk = seller(f"{price / 100} EUR/m3", delivery=f"{lorry / 100} EUR", tax=f"{tax_of_bulk / 10} %")
    with_tax, with_bulk_tax = 1 + Fraction(tax, 1000), 1 + Fraction(tax_of_bulk, 1000)
    dear = Fraction(bag * 1000, litres * 100) * with_tax
    cheap = Fraction(price, 100) * with_bulk_tax
    fixed = Fraction(lorry, 100) * with_bulk_tax - Fraction(brought, 100) * with_tax
    assume(abs(dear - cheap) > Fraction(1, 100))
    found = break_even(bags, bulk)
    if dear <= cheap:
        assert found is None
    else:
        assert found == pytest.approx(float(max(Fraction(0), fixed / (dear - cheap))), rel=1e-6, abs=1e-9)
