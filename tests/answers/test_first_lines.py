"""The first lines: what to do first stands first, each way with its amount, before what is worth knowing beside."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from barrowful.answers.advice import Advice, all_advice
from barrowful.answers.choices import WholeSite, followed
from barrowful.answers.options import options
from barrowful.answers.orders_told import quantity_told
from barrowful.jobs.later import later_told
from barrowful.site.load import load

DEMO = Path(__file__).parents[2] / "demo"

#: Compost is wanted by June, what feeds and covers at the start; meal of the first year is too old in the fifth.
TEXT = b"""\
site: First things
currency: EUR
start: 2027-03-01
horizon: 5 years
climate: {annual_mean: 11 degC}
soil: {organic_matter: 2 %, clay: 20 %, bulk_density: 1.3 g/cm3}
places:
  - name: bed
    kind: bed
    shape: {rectangle: [10 m, 1.2 m]}
    needs: [{raise: {organic_matter: 2.6 %, depth: 15 cm, by: 2028-06-01}}, {feed: {nitrogen: 10 g/m2}}]
  - name: pear
    kind: tree
    shape: {ring: {radius: 1 m, collar: 15 cm}}
    needs: [{cover: {depth: 7 cm}}]
ways:
  - {name: yard, buy: {material: green compost, price: 40 EUR/m3, delivery: 30 EUR}}
  - {name: chip, buy: {material: arborist chip, price: 9 EUR/m3, delivery: 40 EUR, truck: 10 m3}}
  - {name: feather, buy: {material: feather meal, price: 40 EUR/bag, bag: 20 kg}}
"""


def told_of(text: bytes) -> tuple[WholeSite, Advice]:
    """Return what is followed on a site, and what its screen says first of it."""
    whole = followed(options(load(text, "first").site))
    return whole, all_advice(whole, later_told(whole))


def days_by(lines: tuple[str, ...]) -> list[date]:
    """Return by when each way that has a line of its own is ordered first, as the lines say."""
    said = [
        line.partition("order by ")[2][:10] for line in lines if line.startswith("- ") and "order by " in line
    ]
    return [date.fromisoformat(day) for day in said]


def test_what_is_ordered_first_stands_first() -> None:
    """Meal and chip are due in March, compost a year later, though the raise comes first in the sums."""
    _, told = told_of(TEXT)
    assert [line.split(":")[0] for line in told.lines[1:4]] == ["- chip", "- feather", "- yard"]
    assert days_by(told.lines) == sorted(days_by(told.lines))


def test_amounts_go_before_what_is_only_worth_knowing() -> None:
    """That a rest of meal gets too old took the room of two of three ways; it stands below the tables now."""
    _, told = told_of(TEXT)
    assert not any("see the orders" in line for line in told.lines)
    assert any(line.startswith("feather: ") and "is left over" in line for line in told.more)


@pytest.mark.parametrize("name", ["crooked-ladle-orchard", "odd-bucket-yard", "tin-comet-ground"])
def test_each_way_that_is_ordered_has_its_amount(name: str) -> None:
    """Seven ways have no room for a line each; how much of each is ordered first stands there all the same."""
    whole, told = told_of((DEMO / f"{name}.yaml").read_bytes())
    first: dict[str, list[Any]] = {}
    for placed in whole.bill.orders:
        first.setdefault(placed.way.name, []).append(placed)
    for way, orders in first.items():
        amount = quantity_told([of for of in orders if of.day == orders[0].day])
        assert any(f"{amount} of {way}" in line or f"- {way}: {amount}" in line for line in told.lines), way


FILLED = b"""\
site: Two mixes
currency: EUR
start: 2027-03-01
horizon: 1 year
climate: {annual_mean: 11 degC}
places:
  - {name: frames, kind: bed, shape: {area: 10 m2}, needs: [{fill: {volume: 2 m3}}]}
  - {name: tubs, kind: pot, shape: {area: 1 m2}, needs: [{fill: {volume: 400 L}}]}
ways:
  - {name: loam, buy: {material: topsoil, price: 28 EUR/m3}}
  - {name: yard, buy: {material: green compost, price: 36 EUR/m3}}
  - {name: grit, buy: {material: sand, price: 32 EUR/m3}}
  - {name: muck, buy: {material: mushroom compost, price: 22 EUR/m3}}
materials:
  topsoil: {conductivity: 0.8 dS/m}
  green compost: {conductivity: 4.5 dS/m}
  sand: {conductivity: 0.2 dS/m}
  mushroom compost: {conductivity: 9 dS/m}
"""


def test_each_mix_that_is_followed_is_told_by_its_place() -> None:
    """Frames: a quarter muck, 33 % compost in all, 67 % soil: 0.25 x 9 + 0.08 x 4.5 + 0.67 x 0.8 = 3.1 dS/m. The rest
    of the tubs is grit, as half of a pot is soil at most: 0.25 x 9 + 0.5 x 0.8 + 0.25 x 0.2 = 2.7.

    No row has both, so that it is told beside; of the frames alone the row tells it.
    """
    _, told = told_of(FILLED)
    [fills] = [line for line in (*told.lines, *told.more) if line.startswith("Fills, as followed: ")]
    tubs, frames = fills.removeprefix("Fills, as followed: ").rstrip(".").split("; ")
    assert frames.startswith("frames 67% loam, 8% yard, 25% muck: ")
    assert frames.endswith("3.1 dS/m of salt")
    assert tubs.startswith("tubs 50% loam, 25% grit, 25% muck: ")
    assert tubs.endswith("2.7 dS/m of salt")
    alone = b"\n".join(line for line in FILLED.split(b"\n") if b"tubs" not in line)
    _, told = told_of(alone)
    assert not any("Fills" in line for line in (*told.lines, *told.more))
