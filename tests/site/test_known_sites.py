"""The files that come with the tool, and small sites reckoned by hand."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from barrowful.site.load import load
from barrowful.sitefile.products.starter import starter

Answer = Callable[[str], dict[str, list[dict[str, Any]]]]
HEAD = "site: Field\ncurrency: EUR\nstart: 2027-03-01\nclimate: {annual_mean: 12 degC}\n"


def test_demo_files_load_without_a_word(demo_folder: Path) -> None:
    """Every demo file loads with neither problems nor warnings."""
    found = sorted(demo_folder.glob("*.yaml"))
    assert len(found) >= 2
    for path in found:
        assert [str(one) for one in load(path.read_bytes(), path.name).warnings] == []


def test_demo_files_say_that_they_are_invented(demo_folder: Path) -> None:
    """The first line of each demo file says that names and prices are made up."""
    for path in demo_folder.glob("*.yaml"):
        assert "nvented" in path.read_text(encoding="utf-8").splitlines()[0]


def test_the_sample_is_a_demo_file(demo_folder: Path) -> None:
    """The sample in the package is the first demo file, letter for letter."""
    sample = files("barrowful").joinpath("sample.yaml").read_bytes()
    assert sample == (demo_folder / "crooked-ladle-orchard.yaml").read_bytes()


def test_the_starter_gives_options(answer: Answer) -> None:
    """Someone who runs the starter as it is written sees options that meet every need in it."""
    assert load(starter().encode(), "starter.yaml").warnings == ()
    rows = answer(starter())["options"]
    assert {row["need"] for row in rows} == {row["need"] for row in rows if row["feasible"]}
    assert {row["way"] for row in rows} >= {"bought compost", "tree chip", "my heap", "comfrey patch"}


@pytest.mark.parametrize("price", ["15 EUR/h", "0.25 EUR/min", "360 EUR/day"])
def test_an_hour_is_worth_the_same_by_any_measure(answer: Answer, price: str) -> None:
    """An hour's worth told by the hour, the minute or the day is the same to the cent, of millions."""
    text = HEAD + (
        f"labour: {{push: 40 m, hourly_value: {price}}}\n"
        "places: [{name: beds, kind: bed, shape: {area: 900 m2}, count: 2000, "
        "needs: [{cover: {depth: 20 cm}}]}]\n"
        "ways: [{name: yard, buy: {material: arborist chip, price: 46 EUR/m3}}]\n"
    )
    (row,) = answer(text)["options"]
    assert float(row["cash_and_hours"] - row["cash"]) == pytest.approx(15 * row["hours"], abs=0.0101)


AREAS = {
    "{rectangle: [9 m, 1.2 m]}": 10.8,
    "{circle: {radius: 60 cm}}": math.pi * 0.36,
    "{circle: {diameter: 60 cm}}": math.pi * 0.09,
    "{ellipse: [4 m, 2.5 m]}": math.pi * 2.5,
    "{ring: {radius: 90 cm, collar: 15 cm}}": math.pi * (0.81 - 0.0225),
    "{ring: {diameter: 180 cm, collar: 0 cm}}": math.pi * 0.81,
    "{triangle: [3 m, 4 m, 5 m]}": 6.0,
    "{trapezoid: {sides: [4 m, 6 m], height: 3 m}}": 15.0,
    "{polygon: [[0 m, 0 m], [4 m, 0 m], [4 m, 3 m]]}": 6.0,
    "{polygon: [[4 m, 3 m], [4 m, 0 m], [-1 m, 0 m]]}": 7.5,
    "{strip: {length: 24 m, width: 50 cm}}": 12.0,
    "{area: 12 m2}": 12.0,
    "{area: 1 acre}": 4046.8564224,
}


@pytest.mark.parametrize(("shape", "area"), AREAS.items())
def test_areas_are_of_one_place_and_tables_of_all(shape: str, area: float, answer: Answer) -> None:
    """The shape is that of one of the count; the table sums them all."""
    fill = "[{fill: {depth: 10 cm}}]"
    text = f"{HEAD}places: [{{name: a, kind: bed, shape: {shape}, count: 7, needs: {fill}}}]\n"
    place = load(text.encode(), "x").site.places[0]
    assert place.area == pytest.approx(area, rel=1e-12)
    (row,) = answer(text + "ways: []\n")["sizes"]
    assert row["area_m2"] == pytest.approx(7 * area, rel=1e-9)
    assert row["volume_m3"] == pytest.approx(0.7 * area, rel=1e-9)


def test_settling_and_allowance_come_once_each(answer: Answer) -> None:
    """8 cm of stuff that settles to 80 %, with 10 % to spare, is 11 cm to bring; as spread, 8.8 cm."""
    text = (
        HEAD
        + "places:\n"
        + "  - {name: a, kind: bed, shape: {area: 10 m2}, needs: [{cover: {depth: 8 cm, allowance: 10 %}}]}\n"
        + "  - {name: b, kind: bed, shape: {area: 10 m2},\n"
        + "     needs: [{cover: {depth: 8 cm, allowance: 10 %, settled: false}}]}\n"
        + "ways: [{name: yard, buy: {material: green compost, price: 40 EUR/m3}}]\n"
        + "materials: {green compost: {in_place: 80 %, density: 500 kg/m3, moisture: 40 %, nitrogen: 2 %}}\n"
    )
    settled, spread = answer(text)["sizes"]
    assert (settled["volume_m3"], spread["volume_m3"]) == (pytest.approx(0.8), pytest.approx(0.8))
    assert settled["loose_m3"] == pytest.approx(1.1, rel=1e-9)
    assert spread["loose_m3"] == pytest.approx(0.88, rel=1e-9)
    assert settled["mass_kg"] == pytest.approx(550, rel=1e-9)
    assert settled["dry_kg"] == pytest.approx(330, rel=1e-9)
    assert settled["nitrogen_g"] == pytest.approx(6600, rel=1e-9)


@pytest.mark.parametrize(
    ("terms", "quantity", "cash", "trips"),
    [
        ("price: 40 EUR/m3", 2.0, "80.00", 1),
        ("price: 40 EUR/m3, delivery: 55 EUR", 2.0, "135.00", 1),
        ("price: 40 EUR/m3, delivery: 55 EUR, truck: 1.5 m3", 2.0, "190.00", 2),
        ("price: 40 EUR/m3, delivery: 55 EUR, payload: 300 kg", 2.0, "300.00", 4),
        ("price: 40 EUR/m3, step: 0.7 m3", 2.1, "84.00", 1),
        ("price: 40 EUR/m3, minimum: 3 m3", 3.0, "120.00", 1),
        ("price: 40 EUR/m3, minimum: 3 m3, step: 2 m3", 4.0, "160.00", 1),
        ("price: 5 EUR/bag, bag: 40 L", 50.0, "250.00", 1),
        ("price: 5 EUR/bag, bag: 30 kg", 34.0, "170.00", 1),
        ("price: 0.20 EUR/kg", 1000.0, "200.00", 1),
        ("price: 100 EUR/t, minimum: 1.5 t", 1.5, "150.00", 1),
        ("price: 60 EUR/load, load: 1.2 m3", 2.0, "120.00", 2),
        ("price: 60 EUR/load, load: 1 m3, delivery: 5 EUR", 2.0, "130.00", 2),
        ("price: 60 EUR/load, load: 8 m3, whole_loads: false", 0.25, "15.00", 1),
        ("price: 40 EUR/m3, delivery: 20 EUR, tax: 20 %", 2.0, "120.00", 1),
    ],
)
def test_orders_by_hand(terms: str, quantity: float, cash: str, trips: int, answer: Answer) -> None:
    """Two cubic metres of a stuff of 500 kg/m3, on every kind of terms."""
    text = (
        HEAD
        + "limits: {lift: [yearly_depth]}\n"
        + "places: [{name: a, kind: bed, shape: {area: 5 m2}, count: 4, needs: [{dress: {depth: 10 cm}}]}]\n"
        + f"ways: [{{name: yard, buy: {{material: green compost, {terms}}}}}]\n"
        + "materials: {green compost: {density: 500 kg/m3}}\n"
    )
    (row,) = answer(text)["options"]
    assert row["loose_m3"] == pytest.approx(2.0, rel=1e-9)
    assert (row["order_quantity"], row["trips"]) == (pytest.approx(quantity, rel=1e-9), trips)
    assert row["cash"] == Decimal(cash)
    assert row["feasible"] is True
    assert row["ready_on"] == date(2027, 3, 1)


def test_what_was_done_is_a_total(demo_folder: Path) -> None:
    """An amount in the history is for all of the count: 20 barrows of 85 L are 1.7 m3, not 15.3."""
    (done,) = load((demo_folder / "crooked-ladle-orchard.yaml").read_bytes(), "x").site.history
    assert done.loose == pytest.approx(1.7, rel=1e-12)
    assert (done.place, done.cash, done.hours) == ("old apples", Decimal(0), pytest.approx(6.0))


def test_own_measures_are_usable_everywhere() -> None:
    """A pace measures a bed, a bucket a need, a crate a seller's step."""
    text = (
        HEAD
        + "measures: {pace: 75 cm, bucket: 12 L, crate: 20 kg}\n"
        + "places:\n"
        + "  - {name: a, kind: bed, shape: {rectangle: [12 paces, 2 pace]},\n"
        + "     needs: [{fill: {volume: 3 buckets}}]}\n"
        + "ways: [{name: yard, buy: {material: green compost, price: 2 EUR/crate, step: 1 crate}}]\n"
    )
    site = load(text.encode(), "x").site
    assert site.places[0].area == pytest.approx(13.5, rel=1e-12)
    assert site.places[0].needs[0].volume == pytest.approx(0.036, rel=1e-12)  # type: ignore[attr-defined]
    assert site.ways[0].selling.mass == pytest.approx(20.0, rel=1e-12)  # type: ignore[attr-defined]


def test_records_cannot_be_changed(demo_folder: Path) -> None:
    """What was loaded stays as it was loaded."""
    site = load((demo_folder / "crooked-ladle-orchard.yaml").read_bytes(), "x").site
    for record in (site, site.soil, site.climate, site.labour, *site.places, *site.ways, *site.history):
        name = next(iter(type(record).__dataclass_fields__))
        with pytest.raises(AttributeError):
            setattr(record, name, None)
