"""Kinds give what the records hold: the likely of a range, sizes by volume or mass, money for its unit."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from barrowful.catalogue.figures import SITE_GRADE, Figure
from barrowful.ground.sizes import Selling, Size
from barrowful.measures.text import read_measure
from barrowful.sitefile.keys.buy import BUY
from barrowful.sitefile.keys.way import MAKE
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.language.money import CashPer, PriceFor, SellersPrice
from barrowful.sitefile.language.quantity import Measure, Stated, Stuff, limits
from barrowful.sitefile.text.nodes import parse

OWN = {
    "crate": read_measure("20 kg", ("volume", "mass"), {}),
    "barrow": read_measure("80 L", ("volume", "mass"), {}),
}


def value_of(kind: Kind, text: str) -> Any:
    """Return what a kind reads from a text that is sound."""
    context = ReadContext("x", "EUR", OWN)
    value = kind.read(parse(f"\nkey: {text}".encode(), "x").top.entries["key"][1], context, "key")
    assert context.problems == []
    return value


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (Measure("length"), "50 cm", 0.5),
        (Measure("temperature", least="-30 degC"), "50 degF", 10.0),
        (Measure("feed"), "12 g/m2", 12.0),
        (Measure("feed", gives="dose"), "12 g/m2", 0.012),
        (Stuff(), "2 barrows", Size(volume=0.16)),
        (Stuff(), "3 crate", Size(mass=60.0)),
        (CashPer("hours"), "0.25 EUR/min", Decimal(15)),
        (CashPer("mass"), "3 EUR/crate", Decimal("0.15")),
        (PriceFor(), "46 EUR/m3", SellersPrice(Decimal(46), Selling("m3", volume=1.0))),
        (PriceFor(), "2 EUR/crate", SellersPrice(Decimal(2), Selling("crate", mass=20.0))),
        (PriceFor(("bag",)), "6 EUR/bag", SellersPrice(Decimal(6), Selling("bag"))),
    ],
)
def test_a_text_is_read_once_and_for_all(kind: Kind, text: str, value: Any) -> None:
    """The value of a text is in SI units, and needs no more turning into anything."""
    read = value_of(kind, text)
    if isinstance(value, float | Decimal):
        assert float(read) == pytest.approx(float(value), rel=1e-14)
    else:
        assert read == value


def test_a_range_gives_its_likely_value_and_a_figure_all_three() -> None:
    """Where one value is held it is the likely one; a material's figure keeps low, high and its line."""
    text = "{low: 10 %, likely: 20 %, high: 40 %}"
    assert value_of(Measure("share"), text) == pytest.approx(0.2)
    figure = value_of(Stated("share"), text)
    assert isinstance(figure, Figure)
    assert (figure.low, figure.likely, figure.high) == pytest.approx((0.1, 0.2, 0.4))
    assert (figure.texts, figure.unit, figure.place, figure.grade) == (
        ("10", "20", "40"),
        "%",
        "line 2",
        SITE_GRADE,
    )
    assert value_of(Stuff(), "{low: 1 kg, likely: 2 kg, high: 4 kg}") == Size(mass=2.0)


def test_limits_of_a_key_are_told_in_si() -> None:
    """What a key takes can be asked for, also where a limit is not stated."""
    assert limits(MAKE, "bay") == pytest.approx((0.001, 1000.0))
    assert limits(BUY, "tax") == (0.0, 1.0)
    assert limits(MAKE, "height")[1] == 10.0
    assert 0 < limits(MAKE, "height")[0] < 1e-3
