"""What holds for every relation of ground alike: units do not matter, wrong dimensions are refused."""

from __future__ import annotations

import inspect
import math
import pkgutil
import re
from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

import barrowful.ground
from barrowful import relations
from barrowful.ground.heap import Part, blend_cn, blend_moisture
from barrowful.measures.dimensions import SI, checked, named
from barrowful.measures.quantities import measures, quantity, registry
from barrowful.measures.units import fits, unit
from barrowful.relations import declared

Arguments = dict[str, Any]

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
    "conductivity": ["dS/m", "mS/cm", "S/ft"],
    "water depth": ["mm", "cm", "m", "in"],
}
#: A grower's units of two systems, one for each dimension.
SYSTEMS = {
    "metric": {dimension: words[1] for dimension, words in UNITS.items()},
    "customary": {dimension: words[-1] for dimension, words in UNITS.items()},
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
    "conductivity": SIZE,
    "water depth": sizes(-1000.0, 2000.0),
}


@st.composite
def rings(draw: st.DrawFn, **more: Any) -> Arguments:
    """Draw a ring whose collar fits inside it."""
    radius = draw(SIZE)
    return {"radius": radius, "collar": radius * draw(sizes(0.0, 0.9))} | {
        name: draw(strategy) for name, strategy in more.items()
    }


@st.composite
def triangles(draw: st.DrawFn) -> Arguments:
    """Draw three sides that meet well away from a straight line."""
    a, b, angle = draw(SIZE), draw(SIZE), draw(sizes(0.2, 2.9))
    return {"a": a, "b": b, "c": math.sqrt(a * a + b * b - 2 * a * b * math.cos(angle))}


@st.composite
def two_rates(draw: st.DrawFn, **more: Any) -> Arguments:
    """Draw a fresh and a humus rate that are not all but equal."""
    b = draw(RATE)
    a = b * draw(st.one_of(sizes(0.1, 0.9), sizes(1.1, 10.0)))
    return {"a": a, "b": b} | {name: draw(strategy) for name, strategy in more.items()}


@st.composite
def outlines(draw: st.DrawFn) -> Arguments:
    """Draw a rectangle somewhere on a plan by its corners."""
    x, y, width, height = (draw(SIZE) for _ in range(4))
    return {"corners": [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]}


@st.composite
def heaps(draw: st.DrawFn, *names: str, **targets: Any) -> Arguments:
    """Draw materials unlike each other, and targets that a mix of them meets."""
    wet, dry = Part(50.0, 0.8, 0.4, 0.03), Part(0.0, 0.15, 0.45, 0.006)
    parts = dict(zip(names, (wet, dry, Part(0.0, 0.6, 0.5, 0.001)), strict=False))
    added = [draw(sizes(1.0, 40.0)) for _ in names[1:]]
    others = zip(added, list(parts.values())[1:], strict=True)
    mix = [wet, *(replace(part, mass=mass) for mass, part in others)]
    return parts | {name: reached(mix) for name, reached in targets.items()}


#: Draws for relations whose arguments depend on each other, or that take more than sizes.
SPECIAL: dict[str, st.SearchStrategy[Arguments]] = {
    "area.ring": rings(),
    "area.row_of_rings": rings(spacing=SIZE, count=WHOLE),
    "area.triangle": triangles(),
    "decay.humus_formed": two_rates(years=sizes(0.0, 3.0), h=SHARE),
    "growth.share_of_full_yield": st.fixed_dictionaries(
        {"age": sizes(0.0, 9.0), "first_cut": sizes(0.1, 2.0), "full_yield": sizes(3.0, 8.0)}
    ),
    "area.polygon": outlines(),
    "growth.generations": st.fixed_dictionaries(
        {"start": WHOLE, "strike": SHARE, "cuttings": sizes(0.0, 4.0), "cycle": SIZE, "room": WHOLE}
    ),
    "heap.second_for_cn": heaps("first", "second", target=blend_cn),
    "heap.second_for_moisture": heaps("first", "second", target=blend_moisture),
    "heap.three_for_both": heaps("first", "second", "third", cn=blend_cn, moisture=blend_moisture),
}


RELATIONS = dict(declared())
NAMES = sorted(RELATIONS)


def drawn(dimension: Any) -> st.SearchStrategy[Any]:
    """Draw SI values of a dimension as it is declared: singly, in lists and tuples, or in a record."""
    if isinstance(dimension, str):
        return PLAIN[dimension]
    if isinstance(dimension, list):
        return st.lists(drawn(dimension[0]), min_size=1, max_size=4)
    if isinstance(dimension, tuple):
        return st.tuples(*(drawn(part) for part in dimension))
    return st.builds(dimension, **{name: drawn(part) for name, part in dimension.takes.items()})


def arguments_of(name: str) -> st.SearchStrategy[Arguments]:
    """Draw SI arguments for a relation, each by its own dimension unless it needs more than that."""
    if name in SPECIAL:
        return SPECIAL[name]
    relation = RELATIONS[name]
    return st.fixed_dictionaries(
        {
            argument: drawn(relation.takes[argument]) if argument in relation.takes else WHOLE
            for argument in inspect.signature(relation).parameters
        }
    )


def asked(value: Any, dimension: Any, words: Callable[[str], str]) -> Any:
    """Put SI values into quantities, each in the unit that is chosen for its dimension."""
    if isinstance(dimension, str):
        return quantity(float(value), SI[dimension]).to(
            registry().Unit(words(dimension) if words(dimension) != "1" else "")
        )
    if isinstance(dimension, list):
        return [asked(part, dimension[0], words) for part in value]
    if isinstance(dimension, tuple):
        return tuple(asked(part, inner, words) for part, inner in zip(value, dimension, strict=True))
    return checked(dimension)(**in_units(dimension, vars(value), words))


def in_units(relation: Any, arguments: Arguments, words: Callable[[str], str]) -> Arguments:
    """Put the declared arguments of a relation into quantities; the others stay as they are."""
    takes = relation.takes
    return arguments | {name: asked(arguments[name], takes[name], words) for name in takes}


def same(answer: Any, plain: Any, dimension: Any) -> None:
    """Hold an answer in quantities against the plain one, inside lists, tuples and records too."""
    if isinstance(dimension, str):
        assert measures(answer, dimension)
        assert answer.to(quantity(1, SI[dimension]).units).magnitude == pytest.approx(
            plain, rel=1e-8, abs=1e-9
        )
    elif isinstance(dimension, list | tuple):
        plain = list(plain)
        inner = dimension * len(plain) if isinstance(dimension, list) else dimension
        for each, value, part in zip(answer, plain, inner, strict=True):
            same(each, value, part)
    else:
        assert vars(answer) == pytest.approx(vars(plain), rel=1e-9)


def test_special_draws_are_for_relations_that_exist() -> None:
    """No draw is left behind by a relation that has gone, and the package has the relations it had."""
    assert SPECIAL.keys() <= RELATIONS.keys()
    assert len(NAMES) >= 55


def test_every_public_function_of_ground_is_declared() -> None:
    """Nothing of ground is out of reach of quantities but the solvers, which know no dimensions."""
    functions = {
        f"{module.name}.{name}"
        for module in pkgutil.iter_modules(barrowful.ground.__path__)
        for name, function in inspect.getmembers(
            import_module(f"barrowful.ground.{module.name}"), inspect.isfunction
        )
        if not name.startswith("_") and function.__module__ == f"barrowful.ground.{module.name}"
    }
    assert functions - RELATIONS.keys() == {"linear.maximise", "linear.least_of"}


def test_each_is_reached_by_its_own_name() -> None:
    """The door lists every relation by a name that no other has, and a misspelt name gives the nearest."""
    short = [name.partition(".")[2].lower() for name in NAMES]
    assert sorted(dir(relations)) == sorted(["quantity", *short])
    assert len(set(short)) == len(short)
    assert relations.ring.__name__ == "ring"
    told = "Takes quantities: parts (list of part), target (share); gives mass."
    assert relations.water_to_add.__doc__.endswith(f"\n\n{told}")
    with pytest.raises(AttributeError, match=r'^there is no relation "blend_cm"; did you mean "blend_cn"\?$'):
        _ = relations.blend_cm
    with pytest.raises(AttributeError, match=r'^there is no relation "xyzzy"$'):
        _ = relations.xyzzy


@pytest.mark.parametrize("name", NAMES)
@draws(12)
@given(data=st.data())
def test_units_do_not_matter(name: str, data: st.DataObject) -> None:
    """Any unit at the door gives what the plain relation gives on SI numbers."""
    relation, arguments = RELATIONS[name], data.draw(arguments_of(name))

    def words(dimension: str) -> str:
        return data.draw(st.sampled_from(UNITS[dimension]), label=dimension)

    answer = checked(relation)(**in_units(relation, arguments, words))
    same(answer, relation(**arguments), relation.gives)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", NAMES)
@draws(2)
@given(data=st.data())
def test_two_systems_of_units(name: str, system: str, data: st.DataObject) -> None:
    """A grower with metres and one with feet get the plain relation's answer alike."""
    relation, arguments = RELATIONS[name], data.draw(arguments_of(name))
    door = getattr(relations, name.partition(".")[2].lower())
    answer = door(**in_units(relation, arguments, SYSTEMS[system].__getitem__))
    same(answer, relation(**arguments), relation.gives)


def spoilt(value: Any, dimension: Any) -> tuple[Any, str]:
    """Return an argument with its last value of another dimension, and where in it that is."""
    if isinstance(dimension, str):
        return quantity(1.0, "kg") if dimension != "mass" else quantity(1.0, "m"), ""
    *others, last = value
    wrong, inside = spoilt(last, dimension[-1])
    return [*others, wrong], f"[{len(others)}]{inside}"


def last_word(dimension: Any) -> str:
    """Return the word of the dimension that :func:`spoilt` spoils."""
    return dimension if isinstance(dimension, str) else last_word(dimension[-1])


def of_records(dimension: Any) -> bool:
    """Say whether a dimension is a record, or a list of them."""
    return isinstance(dimension, type) or (isinstance(dimension, list) and of_records(dimension[0]))


@pytest.mark.parametrize("name", NAMES)
@draws(2)
@given(data=st.data())
def test_wrong_dimension_is_refused(name: str, data: st.DataObject) -> None:
    """A quantity of another dimension is refused by the name of the relation and of the argument."""
    relation, arguments = RELATIONS[name], data.draw(arguments_of(name))
    right = in_units(relation, arguments, SI.__getitem__)
    function = checked(relation).__name__
    for argument, dimension in relation.takes.items():
        if of_records(dimension):
            continue
        wrong, where = spoilt(right[argument], dimension)
        message = f"^{function}: {argument}{re.escape(where)}: .* is not {named(last_word(dimension))}$"
        with pytest.raises(ValueError, match=message):
            checked(relation)(**(right | {argument: wrong}))


@pytest.mark.parametrize(
    "name", [name for name in NAMES if any(map(of_records, RELATIONS[name].takes.values()))]
)
def test_a_material_is_a_part_and_nothing_else(name: str) -> None:
    """Where a material is due, as part of a mix or rotting, a quantity, a number or a tuple of the right length is refused."""
    takes = RELATIONS[name].takes
    for wrong in (quantity(1.0, "kg"), 5.0, (1.0, 0.5, 0.4, 0.01)):
        given = {
            argument: [wrong] if isinstance(dimension, list) else wrong
            for argument, dimension in takes.items()
            if of_records(dimension)
        }
        plain = {argument: quantity(0.5, "1") for argument in takes.keys() - given.keys()}
        with pytest.raises(TypeError, match=r": a (part|rotting) is expected, not ") as refusal:
            checked(RELATIONS[name])(**given, **plain)
        assert all(argument in str(refusal.value) for argument in given)


def test_every_wrong_value_of_a_list_is_named() -> None:
    """Values in a list are checked one by one and named by their places."""
    warm, heavy = quantity(20.0, "degC"), quantity(1.0, "kg")
    with pytest.raises(ValueError, match=r"temperatures\[0\]: kilogram .*; temperatures\[2\]: kilogram"):
        relations.mean_temperature_factor([heavy, warm, heavy])
    with pytest.raises(TypeError, match=r"^mean_temperature_factor: temperatures: a list is expected, not 5"):
        relations.mean_temperature_factor(5)
    with pytest.raises(TypeError, match=r"temperatures: a list is expected, not 20\.0 degree_Celsius$"):
        relations.mean_temperature_factor(warm)
    months = relations.mean_temperature_factor(quantity([41.0, 77.0], "degF"))
    assert months.magnitude == pytest.approx(RELATIONS["climate.mean_temperature_factor"]([5.0, 25.0]))
    with pytest.raises(TypeError, match=r"^polygon: corners\[1\]: 2 values are expected, not "):
        relations.polygon([(quantity(0.0, "m"), quantity(0.0, "m")), [quantity(1.0, "m")]])
    both = r"^part: moisture: kilogram is not a share; nitrogen: meter is not a share$"
    with pytest.raises(ValueError, match=both):
        relations.part(heavy, heavy, quantity(45.0, "percent"), quantity(1.0, "m"))


@pytest.mark.parametrize("name", NAMES)
def test_every_relation_has_a_name_and_an_example(name: str) -> None:
    """The docstring says what is returned and shows it; a record says what it is."""
    text = inspect.getdoc(RELATIONS[name]) or ""
    assert text.startswith(("Return ", "Yield ") if inspect.isfunction(RELATIONS[name]) else "A ")
    assert ">>> " in text


def test_si_units_are_known_to_the_registry() -> None:
    """The units that the cases are drawn in measure what they are listed under."""
    for dimension, words in UNITS.items():
        for word in words:
            assert measures(quantity(1.0, word), dimension)
            assert fits(unit(word), dimension)
