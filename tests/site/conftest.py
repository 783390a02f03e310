"""What the site tests share: a site file written from plain values, and what the tool answers to it."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from barrowful.answers.choices import choices, whole_site
from barrowful.answers.growing import growing_lines
from barrowful.answers.lines import option_lines, whole_lines
from barrowful.answers.options import options
from barrowful.answers.sizes import sizes, sizes_by_way
from barrowful.site.load import load
from barrowful.tables.by_way import BY_WAY
from barrowful.tables.choices import CHOICES
from barrowful.tables.growing import GROWING
from barrowful.tables.options import BY_PLACE, OPTIONS
from barrowful.tables.sizes import SIZES
from barrowful.tables.whole_site import WHOLE_SITE

FOOT, INCH, YARD, POUND = 0.3048, 0.0254, 0.9144, 0.45359237
ACRE = 43560 * FOOT**2

#: Sizes of units in SI, exact by definition; a site in the tests holds ("length", metres) and so on.
UNITS: dict[str, dict[str, float]] = {
    "length": {"m": 1, "cm": 0.01, "mm": 0.001, "ft": FOOT, "in": INCH, "yd": YARD},
    "area": {"m2": 1, "ft2": FOOT**2, "yd2": YARD**2, "acre": ACRE, "ha": 1e4, "m*m": 1},
    "volume": {
        "m3": 1,
        "L": 0.001,
        "ft3": FOOT**3,
        "yd3": YARD**3,
        "US_gallon": 231 * INCH**3,
        "m2*cm": 0.01,
    },
    "mass": {
        "kg": 1,
        "g": 0.001,
        "t": 1000,
        "lb": POUND,
        "short_ton": 2000 * POUND,
        "long_ton": 2240 * POUND,
    },
    "density": {
        "kg/m3": 1,
        "g/cm3": 1000,
        "t/m3": 1000,
        "lb/ft3": POUND / FOOT**3,
        "lb/yd3": POUND / YARD**3,
    },
    "dose": {"kg/m2": 1, "g/m2": 0.001, "kg/ha": 1e-4, "t/ha": 0.1, "lb/acre": POUND / ACRE},
    "share": {"%": 0.01, "g/kg": 0.001, "kg/t": 0.001},
    "hours": {"h": 1, "min": 1 / 60},
}
PER = {"volume": ("m3", "L", "yd3", "ft3"), "mass": ("kg", "t", "lb", "short_ton"), "hours": ("h", "min")}


class Writer:
    """Writes plain values as a site file: units, order of keys and ranges by the luck of a seed."""

    def __init__(self, seed: int = 0, units: bool = False, keys: bool = False, ranges: bool = False) -> None:
        self.luck, self.units, self.keys, self.ranges = random.Random(seed), units, keys, ranges

    def text(self, value: Any) -> str:
        """Return YAML in one line."""
        if isinstance(value, dict):
            entries = list(value.items())
            if self.keys:
                self.luck.shuffle(entries)
            return "{" + ", ".join(f"{key}: {self.text(one)}" for key, one in entries) + "}"
        if isinstance(value, list):
            return "[" + ", ".join(map(self.text, value)) + "]"
        if isinstance(value, tuple):
            return self.price(*value[1:]) if value[0] == "price" else self.measure(*value)
        return str(value).lower() if isinstance(value, bool) else str(value)

    def measure(self, dimension: str, size: float) -> str:
        """Return a measure in the first unit of its dimension, or in any."""
        if dimension == "temperature":
            hot = self.units and self.luck.random() < 0.5
            return f"{size * 1.8 + 32:.14e} degF" if hot else f"{size:.14e} degC"
        known = UNITS[dimension]
        unit = self.luck.choice(list(known)) if self.units else next(iter(known))
        words = f"{size / known[unit]:.14e} {unit}"
        if self.ranges and self.luck.random() < 0.7:
            return f"{{low: {words}, likely: {words}, high: {words}}}"
        return words

    def price(self, dimension: str, amount: Decimal) -> str:
        """Return money for a unit of a dimension, written for the first unit or for any."""
        unit = self.luck.choice(PER[dimension]) if self.units else PER[dimension][0]
        return f"{float(amount) * UNITS[dimension][unit]:.14e} EUR/{unit}"


def file_of(site: dict[str, Any], **how: Any) -> str:
    """Return a whole site file."""
    writer = Writer(**how)
    return "".join(f"{key}: {writer.text(value)}\n" for key, value in site.items())


def answer_of(text: str) -> dict[str, list[dict[str, Any]]]:
    """Return the rows the tool answers to a site file, by the table's name."""
    site = load(text.encode(), "field.yaml").site
    answer = options(site)
    tables = [
        SIZES.table(sizes(site)),
        BY_WAY.table(sizes_by_way(site)[1]),
        OPTIONS.table(option_lines(answer)),
        WHOLE_SITE.table(whole_lines(site, whole_site(answer))),
        GROWING.table(growing_lines(answer.supplies.values())),
        CHOICES.table(choices(answer)),
    ]
    by_place = BY_PLACE.table(option_lines(options(site, by_place=True)))
    return {one.name: one.rows for one in tables} | {"options_by_place": by_place.rows}


#: Columns of words that quote numbers or depend on the order of equals.
LOOSE_WORDS = {"why_not", "instead", "remark", "beaten_by", "sentence", "nitrogen_rule"}


def assert_same(one: dict[str, Any], other: dict[str, Any], but: tuple[str, ...] = ()) -> None:
    """Assert that two rows say the same: words and days exactly, numbers to a part in 10**9.

    What is left over is the little by which two large amounts differ, so it is held to a part of the order.
    """
    assert one.keys() == other.keys()
    room = {"leftover_m3": 1e-9 * (one.get("ordered_m3") or 0.0)}
    for key, value in one.items():
        theirs = other[key]
        if key in LOOSE_WORDS or key in but:
            continue
        if isinstance(value, Decimal) and theirs is not None:
            assert float(theirs) == pytest.approx(float(value), rel=1e-9, abs=0.0101), key
        elif isinstance(value, float) and theirs is not None:
            assert theirs == pytest.approx(value, rel=1e-9, abs=max(1e-9, room.get(key, 0.0))), key
        else:
            assert isinstance(value, str | int | date | bool | type(None))
            assert theirs == value, key


@pytest.fixture(scope="session")
def write() -> Callable[..., str]:
    """Give the function that writes a site file from plain values."""
    return file_of


@pytest.fixture(scope="session")
def answer() -> Callable[[str], dict[str, list[dict[str, Any]]]]:
    """Give the function that answers a site file with rows by table."""
    return answer_of


@pytest.fixture(scope="session")
def same() -> Callable[..., None]:
    """Give the assertion that two rows say the same."""
    return assert_same


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    """Give the folder of demo files."""
    return Path(__file__).parents[2] / "demo"
