"""What holds for every relation of ground alike: units do not matter, wrong dimensions are refused."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import barrowful.ground
from barrowful.measures.units import SI, fits, quantity, registry, unit

UNITS: dict[str, list[str]] = {
    "length": ["m", "cm", "mm", "km", "in", "ft", "yd"],
    "area": ["m2", "cm2", "in2", "ft2", "yd2", "acre", "ha"],
    "volume": ["m3", "cm3", "L", "in3", "ft3", "yd3", "US_gallon"],
    "mass": ["kg", "g", "mg", "t", "lb", "oz", "short_ton", "long_ton"],
    "density": ["kg/m3", "g/cm3", "t/m3", "lb/ft3", "lb/yd3", "lb/US_gallon"],
    "dose": ["kg/m2", "g/m2", "t/ha", "kg/ha", "lb/acre", "lb/ft2", "short_ton/acre"],
    "feed": ["g/m2", "kg/ha", "lb/acre", "oz/ft2"],
    "share": ["1", "percent", "g/kg", "lb/short_ton", "mg/kg"],
    "ratio": ["1", "percent", "kg/kg"],
    "count": ["1"],
    "time": ["year", "month", "week", "day", "h"],
    "rate": ["1/year", "1/month", "1/week", "percent/year"],
    "temperature": ["degC", "degF"],
    "water depth": ["mm", "cm", "m", "in"],
}


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw plain sizes."""
    return st.floats(low, high, allow_nan=False)


SHARE = sizes(0.0, 0.95)
SIZE = sizes(0.01, 100.0)
RATE = sizes(0.01, 20.0)


@st.composite
def rings(draw: st.DrawFn, **more: Any) -> dict[str, Any]:
    """Draw a ring whose collar fits inside it."""
    radius = draw(SIZE)
    return {"radius": radius, "collar": radius * draw(sizes(0.0, 0.9))} | {
        name: draw(strategy) for name, strategy in more.items()
    }


@st.composite
def triangles(draw: st.DrawFn) -> dict[str, float]:
    """Draw three sides that meet well away from a straight line."""
    a, b, angle = draw(SIZE), draw(SIZE), draw(sizes(0.2, 2.9))
    return {"a": a, "b": b, "c": math.sqrt(a * a + b * b - 2 * a * b * math.cos(angle))}


@st.composite
def two_rates(draw: st.DrawFn, **more: Any) -> dict[str, Any]:
    """Draw a fresh and a humus rate that are not all but equal."""
    b = draw(RATE)
    a = b * draw(st.one_of(sizes(0.1, 0.9), sizes(1.1, 10.0)))
    return {"a": a, "b": b} | {name: draw(strategy) for name, strategy in more.items()}


def table(**strategies: Any) -> st.SearchStrategy[dict[str, Any]]:
    """Draw each argument by itself."""
    return st.fixed_dictionaries(strategies)


WHOLE = st.integers(1, 30)

CASES: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "amount.volume": table(area=SIZE, depth=SIZE),
    "amount.spread_depth": table(depth=SIZE, in_place=sizes(0.1, 1.0)),
    "amount.with_allowance": table(loose=SIZE, allowance=SHARE),
    "amount.mass": table(loose=SIZE, density=sizes(1.0, 3000.0)),
    "amount.dry_mass": table(wet=SIZE, moisture=SHARE),
    "amount.wet_basis": table(dry_basis=sizes(0.0, 20.0)),
    "amount.dry_basis": table(wet_basis=SHARE),
    "area.rectangle": table(length=SIZE, width=SIZE),
    "area.circle": table(radius=SIZE),
    "area.ellipse": table(first=SIZE, second=SIZE),
    "area.ring": rings(),
    "area.lens": table(radius=sizes(1.0, 10.0), distance=sizes(0.0, 1.9)),
    "area.row_of_rings": rings(spacing=SIZE, count=WHOLE),
    "area.triangle": triangles(),
    "area.trapezoid": table(first=SIZE, second=SIZE, height=SIZE),
    "climate.rothc_temperature": table(temperature=sizes(-4.9, 35.0)),
    "climate.temperature_factor": table(temperature=sizes(-4.9, 35.0)),
    "climate.moisture_factor": table(balance=sizes(-1000.0, 2000.0)),
    "climate.clay_factor": table(clay=SHARE),
    "decay.fresh_left": table(years=sizes(0.0, 10.0), a=sizes(0.01, 5.0)),
    "decay.humus_formed": two_rates(years=sizes(0.0, 3.0), h=SHARE),
    "decay.humus_peak": two_rates(),
    "decay.years_to_lose": table(left=sizes(0.01, 0.99), a=RATE),
    "decay.fresh_after_yearly": table(count=WHOLE, a=RATE),
    "decay.humus_after_yearly": two_rates(count=WHOLE, h=SHARE),
    "decay.after_steady": two_rates(fresh=SIZE, humus=SIZE, inflow=SIZE, years=sizes(0.0, 3.0), h=SHARE),
    "decay.depth_left": table(half=sizes(0.2, 10.0), years=sizes(0.0, 10.0)),
    "decay.years_to_top_up": table(half=sizes(0.2, 10.0), keep=sizes(0.01, 0.99)),
    "growth.plants_in_row": table(space=WHOLE.map(float), spacing=sizes(0.1, 3.0)),
    "growth.plants_on_area": table(area=WHOLE.map(float), spacing=sizes(0.1, 3.0)),
    "growth.share_of_full_yield": table(
        age=sizes(0.0, 9.0), first_cut=sizes(0.1, 2.0), full_yield=sizes(3.0, 8.0)
    ),
    "heap.cn_after": table(start=sizes(5.0, 100.0), carbon_lost=SHARE, nitrogen_lost=SHARE),
    "heap.sanitising_days": table(temperature=sizes(51.0, 80.0)),
    "nutrients.phosphorus": table(phosphate=SHARE),
    "nutrients.potassium": table(potash=SHARE),
    "nutrients.cover_crop_available": table(nitrogen=SHARE),
    "nutrients.four_week_share": table(cn=sizes(3.0, 500.0)),
    "nutrients.drawdown": table(carbon=SIZE, cn=sizes(3.0, 500.0)),
    "nutrients.decay_series": table(organic=SIZE, shares=st.just((0.35, 0.12, 0.05)), year=WHOLE),
    "nutrients.soil_test_rise": table(surplus=SIZE),
    "nutrients.dose_for": table(
        need=sizes(1e-4, 1.0), nitrogen=sizes(0.001, 0.5), moisture=SHARE, available=sizes(0.01, 1.0)
    ),
    "soil.layer_mass": table(depth=SIZE, bulk_density=sizes(1.0, 3000.0), stones=SHARE),
    "soil.organic_matter": table(
        start=SHARE, carbon=SIZE, soil=sizes(10.0, 500.0), matter_per_carbon=sizes(1.4, 2.5)
    ),
    "soil.carbon_for": table(gain=SHARE, soil=SIZE, matter_per_carbon=sizes(1.4, 2.5)),
    "soil.bulk_density": table(organic_matter=SHARE, mineral=sizes(800.0, 2000.0)),
    "soil.bulk_density_from_carbon": table(carbon=sizes(0.0, 0.2)),
}


def relations() -> dict[str, Any]:
    """Find every relation with a door, by the name of its module and its own."""
    found = {}
    for module in pkgutil.iter_modules(barrowful.ground.__path__):
        loaded = importlib.import_module(f"barrowful.ground.{module.name}")
        for name, thing in inspect.getmembers(loaded, lambda thing: hasattr(thing, "si")):
            if thing.__module__ == loaded.__name__:
                found[f"{module.name}.{name}"] = thing
    return found


RELATIONS = relations()
NAMES = sorted(RELATIONS)


def test_every_relation_has_a_case() -> None:
    """A new relation cannot be left out of the tests below."""
    assert sorted(CASES) == NAMES


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_units_do_not_matter(name: str, data: st.DataObject) -> None:
    """Any unit at the door gives what the plain relation gives on SI numbers."""
    relation, arguments = RELATIONS[name], data.draw(CASES[name])
    asked = dict(arguments)
    for argument, dimension in relation.dimensions.items():
        chosen = unit(data.draw(st.sampled_from(UNITS[dimension]), label=argument))
        asked[argument] = quantity(float(arguments[argument]), SI[dimension]).to(chosen)
    answer = relation(**asked)
    plain = relation.si(**arguments)
    assert fits(answer.units, relation.gives)
    assert answer.to(unit(SI[relation.gives])).magnitude == pytest.approx(plain, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=2, deadline=None)
@given(data=st.data())
def test_wrong_dimension_is_refused(name: str, data: st.DataObject) -> None:
    """A quantity of another dimension is refused by the name of the relation and of the argument."""
    relation, arguments = RELATIONS[name], data.draw(CASES[name])
    right = {
        argument: quantity(float(arguments[argument]), SI[dimension])
        for argument, dimension in relation.dimensions.items()
    }
    for argument, dimension in relation.dimensions.items():
        wrong = quantity(1.0, "kg") if dimension != "mass" else quantity(1.0, "m")
        function = name.partition(".")[2]
        with pytest.raises(ValueError, match=f"^{function}: {argument}: .* is not a {dimension}$"):
            relation(**(arguments | right | {argument: wrong}))


@pytest.mark.parametrize("name", NAMES)
def test_every_relation_has_a_name_and_an_example(name: str) -> None:
    """The docstring says what is returned and shows it."""
    text = inspect.getdoc(RELATIONS[name]) or ""
    assert text.startswith("Return ")
    assert ">>> " in text


def test_si_units_are_known_to_the_registry() -> None:
    """The units that the cases are drawn in measure what they are listed under."""
    for dimension, words in UNITS.items():
        for word in words:
            assert registry().Unit(word if word != "1" else "").is_compatible_with(unit(SI[dimension]))
            assert fits(unit(word), dimension)
