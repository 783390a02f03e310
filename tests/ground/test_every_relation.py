"""What holds for every relation of ground alike: units do not matter, wrong dimensions are refused."""

from __future__ import annotations

import inspect
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barrowful.measures.dimensions import SI, checked, named
from barrowful.measures.units import fits, quantity, registry, unit
from barrowful.relations import declared

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
    "time": ["year", "month", "week", "day", "h"],
    "rate": ["1/year", "1/month", "1/week", "percent/year"],
    "temperature": ["degC", "degF"],
    "water depth": ["mm", "cm", "m", "in"],
}


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw plain sizes."""
    return st.floats(low, high, allow_nan=False)


SIZE = sizes(0.01, 100.0)
RATE = sizes(0.01, 20.0)
SHARE = sizes(0.01, 0.95)
WHOLE = st.integers(1, 30)

PLAIN: dict[str, st.SearchStrategy[Any]] = {
    "length": SIZE,
    "area": SIZE,
    "volume": SIZE,
    "mass": SIZE,
    "density": sizes(1.0, 3000.0),
    "dose": SIZE,
    "feed": SIZE,
    "share": SHARE,
    "ratio": sizes(1.0, 100.0),
    "time": sizes(0.01, 5.0),
    "rate": sizes(0.01, 5.0),
    "temperature": sizes(-4.9, 35.0),
    "water depth": sizes(-1000.0, 2000.0),
}


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


#: Draws for relations whose arguments depend on each other, or that take more than sizes.
SPECIAL: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "area.ring": rings(),
    "area.row_of_rings": rings(spacing=SIZE, count=WHOLE),
    "area.triangle": triangles(),
    "decay.humus_formed": two_rates(years=sizes(0.0, 3.0), h=SHARE),
    "growth.share_of_full_yield": st.fixed_dictionaries(
        {"age": sizes(0.0, 9.0), "first_cut": sizes(0.1, 2.0), "full_yield": sizes(3.0, 8.0)}
    ),
    "nutrients.released": st.fixed_dictionaries(
        {"organic": SIZE, "shares": st.just((0.35, 0.12, 0.05)), "year": WHOLE}
    ),
}


RELATIONS = dict(declared())
NAMES = sorted(RELATIONS)


def arguments_of(name: str) -> st.SearchStrategy[dict[str, Any]]:
    """Draw SI arguments for a relation, each by its own dimension unless it needs more than that."""
    if name in SPECIAL:
        return SPECIAL[name]
    relation = RELATIONS[name]
    return st.fixed_dictionaries(
        {
            argument: PLAIN[relation.takes[argument]] if argument in relation.takes else WHOLE
            for argument in inspect.signature(relation).parameters
        }
    )


def test_special_draws_are_for_relations_that_exist() -> None:
    """No draw is left behind by a relation that has gone, and the package has the relations it had."""
    assert SPECIAL.keys() <= RELATIONS.keys()
    assert len(NAMES) >= 47


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_units_do_not_matter(name: str, data: st.DataObject) -> None:
    """Any unit at the door gives what the plain relation gives on SI numbers."""
    relation, arguments = RELATIONS[name], data.draw(arguments_of(name))
    asked = dict(arguments)
    for argument, dimension in relation.takes.items():
        chosen = unit(data.draw(st.sampled_from(UNITS[dimension]), label=argument))
        asked[argument] = quantity(float(arguments[argument]), SI[dimension]).to(chosen)
    answer = checked(relation)(**asked)
    plain = relation(**arguments)
    assert fits(answer.units, relation.gives)
    assert answer.to(unit(SI[relation.gives])).magnitude == pytest.approx(plain, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=2, deadline=None)
@given(data=st.data())
def test_wrong_dimension_is_refused(name: str, data: st.DataObject) -> None:
    """A quantity of another dimension is refused by the name of the relation and of the argument."""
    relation, arguments = RELATIONS[name], data.draw(arguments_of(name))
    right = {
        argument: quantity(float(arguments[argument]), SI[dimension])
        for argument, dimension in relation.takes.items()
    }
    for argument, dimension in relation.takes.items():
        wrong = quantity(1.0, "kg") if dimension != "mass" else quantity(1.0, "m")
        function = name.partition(".")[2]
        with pytest.raises(ValueError, match=f"^{function}: {argument}: .* is not {named(dimension)}$"):
            checked(relation)(**(arguments | right | {argument: wrong}))


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
