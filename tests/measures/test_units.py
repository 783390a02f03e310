"""Every unit that is accepted has the size that the standards give it."""

from __future__ import annotations

import os
import subprocess
import sys
from fractions import Fraction

import pint
import pytest
from draws import draws
from hypothesis import assume, given
from hypothesis import strategies as st

from barrowful.measures.dimensions import SI
from barrowful.measures.factors import FACTORS, SPELLINGS
from barrowful.measures.quantities import Ranged, definitions, likely, measures, quantity, registry, si
from barrowful.measures.text import read_measure, read_unit
from barrowful.measures.units import fits, scale, unit

# Exact by definition: international inch and pound, US liquid gallon of 231 cubic inches, acre of
# 43,560 square feet, year of 365.25 days (NIST Handbook 44, Appendix C, from memory).
INCH, POUND, DAY = Fraction("0.0254"), Fraction("0.45359237"), 86400
FOOT = 12 * INCH
YARD = 3 * FOOT

EXACT: dict[str, tuple[Fraction | int, str]] = {
    "meter": (1, "meter"),
    "millimeter": (Fraction(1, 1000), "meter"),
    "centimeter": (Fraction(1, 100), "meter"),
    "kilometer": (1000, "meter"),
    "inch": (INCH, "meter"),
    "foot": (FOOT, "meter"),
    "yard": (YARD, "meter"),
    "square_millimeter": (Fraction(1, 10**6), "meter ** 2"),
    "square_centimeter": (Fraction(1, 10**4), "meter ** 2"),
    "square_meter": (1, "meter ** 2"),
    "square_inch": (INCH**2, "meter ** 2"),
    "square_foot": (FOOT**2, "meter ** 2"),
    "square_yard": (YARD**2, "meter ** 2"),
    "acre": (43560 * FOOT**2, "meter ** 2"),
    "hectare": (10**4, "meter ** 2"),
    "cubic_centimeter": (Fraction(1, 10**6), "meter ** 3"),
    "cubic_meter": (1, "meter ** 3"),
    "liter": (Fraction(1, 1000), "meter ** 3"),
    "cubic_decimeter": (Fraction(1, 1000), "meter ** 3"),
    "hectoliter": (Fraction(1, 10), "meter ** 3"),
    "deciliter": (Fraction(1, 10**4), "meter ** 3"),
    "centiliter": (Fraction(1, 10**5), "meter ** 3"),
    "milliliter": (Fraction(1, 10**6), "meter ** 3"),
    "cubic_inch": (INCH**3, "meter ** 3"),
    "cubic_foot": (FOOT**3, "meter ** 3"),
    "cubic_yard": (YARD**3, "meter ** 3"),
    "US_gallon": (231 * INCH**3, "meter ** 3"),
    "gram": (Fraction(1, 1000), "kilogram"),
    "milligram": (Fraction(1, 10**6), "kilogram"),
    "kilogram": (1, "kilogram"),
    "tonne": (1000, "kilogram"),
    "pound": (POUND, "kilogram"),
    "ounce": (POUND / 16, "kilogram"),
    "short_ton": (2000 * POUND, "kilogram"),
    "long_ton": (2240 * POUND, "kilogram"),
    "second": (1, "second"),
    "minute": (60, "second"),
    "hour": (3600, "second"),
    "day": (DAY, "second"),
    "week": (7 * DAY, "second"),
    "siemens": (1, "siemens"),
    "millisiemens": (Fraction(1, 1000), "siemens"),
    "decisiemens": (Fraction(1, 10), "siemens"),
    "microsiemens": (Fraction(1, 10**6), "siemens"),
    "year": (Fraction("365.25") * DAY, "second"),
    "month": (Fraction("365.25") * DAY / 12, "second"),
    "percent": (Fraction(1, 100), "dimensionless"),
}
THERMOMETERS = {"degree_Celsius", "degree_Fahrenheit"}

#: Spellings that pint's own registry lacks, so that only the definitions above judge them.
UNKNOWN_TO_PINT = {
    "mm2", "cm2", "m2", "in2", "ft2", "yd2", "cm3", "m3", "in3", "ft3", "yd3", "US_gallon", "US_gallons",
    "square_millimeter", "square_centimeter", "square_meter", "cubic_meter", "cubic_decimeter", "dm3",
}  # fmt: skip

#: A grower's acre is of international feet. pint's is so since 0.26.2; before it was of US survey feet.
SURVEY_FOOT = Fraction(1200, 3937)
ACRES = {"acre", "acres"}

WHO_MEANS_WHAT = {
    "m": "meter", "metre": "meter", "metres": "meter", "mm": "millimeter", "cm": "centimeter",
    "km": "kilometer", "in": "inch", "inches": "inch", "ft": "foot", "feet": "foot", "yd": "yard",
    "yards": "yard", "m2": "square_meter", "m²": "square_meter", "cm²": "square_centimeter",
    "mm²": "square_millimeter", "in2": "square_inch", "ft2": "square_foot", "ft²": "square_foot",
    "yd2": "square_yard", "yd²": "square_yard", "acres": "acre", "ha": "hectare", "hectares": "hectare",
    "m3": "cubic_meter", "m³": "cubic_meter", "cm3": "cubic_centimeter", "L": "liter", "l": "liter",
    "litres": "liter", "in3": "cubic_inch", "ft3": "cubic_foot", "ft³": "cubic_foot", "yd3": "cubic_yard",
    "yd³": "cubic_yard", "US_gallons": "US_gallon", "g": "gram", "mg": "milligram", "kg": "kilogram",
    "t": "tonne", "tonnes": "tonne", "lb": "pound", "lbs": "pound", "pounds": "pound", "oz": "ounce",
    "short_tons": "short_ton", "min": "minute", "h": "hour", "hours": "hour", "days": "day",
    "weeks": "week", "months": "month", "years": "year", "%": "percent", "degC": "degree_Celsius",
    "degF": "degree_Fahrenheit",
}  # fmt: skip


@pytest.fixture(scope="module")
def pints_own() -> pint.UnitRegistry:
    """Give pint's own registry, which this package does not use."""
    return pint.UnitRegistry()


def test_every_unit_has_an_exact_size() -> None:
    """No unit is accepted whose size is not written out above."""
    assert set(SPELLINGS.values()) == set(EXACT) | THERMOMETERS
    assert set(FACTORS) == set(EXACT) | THERMOMETERS | {"kelvin"}


def test_what_pint_is_given_is_plain() -> None:
    """Names, relations and symbols are ASCII: only further spellings may hold what not every pint takes."""
    assert all(part.isascii() for parts in definitions() for part in parts[:3])
    kept_from_pint = {word for word in SPELLINGS if not word.isascii()}
    assert kept_from_pint == {"mm²", "cm²", "m²", "ft²", "yd²", "cm³", "dm³", "m³", "ft³", "yd³"}


@pytest.mark.parametrize("name", EXACT)
def test_size_is_exact(name: str) -> None:
    """A unit has the size of its definition, in the program exactly and in pint to the last digit or two."""
    size, base = EXACT[name]
    in_grams = Fraction(1000 if base == "kilogram" else 1)
    assert unit(name).size == size * in_grams
    one = registry().Quantity(1.0, name).to(registry().Unit("" if base == "dimensionless" else base))
    assert one.magnitude == pytest.approx(float(size), rel=1e-15)


@pytest.mark.parametrize("name", FACTORS)
def test_the_table_agrees_with_pint(name: str) -> None:
    """The table of the program gives what pint, reckoning in floats, makes of the same definitions."""
    for dimension in SI:
        theirs = quantity(7.0, name)
        assert fits(unit(name), dimension) == measures(theirs, dimension)
        if fits(unit(name), dimension):
            factor, offset = scale(unit(name), dimension)
            assert 7.0 * factor + offset == pytest.approx(si(theirs, dimension), rel=1e-14)


PLAIN = sorted({word for word in SPELLINGS if SPELLINGS[word] not in THERMOMETERS})


@draws(300)
@given(st.lists(st.sampled_from(PLAIN), min_size=1, max_size=4), st.integers(1, 4))
def test_products_and_ratios_agree_with_pint(words: list[str], above: int) -> None:
    """A product of units over a product of units measures what pint says, and has its size."""
    over, under = words[:above], words[above:]
    text = "/".join(["*".join(over), *under])
    assume(len(text) <= 60)  # longer is refused
    factor, made = read_unit(text, {})
    theirs = registry().Quantity(factor, "")
    for word in over:
        theirs = theirs * registry().Quantity(1.0, SPELLINGS[word])
    for word in under:
        theirs = theirs / registry().Quantity(1.0, SPELLINGS[word])
    kinds = theirs.dimensionality
    powers = tuple(kinds.get(f"[{kind}]", 0) for kind in KINDS)
    assert made.powers == powers
    assert float(made.size) == pytest.approx(theirs.to_base_units().magnitude, rel=1e-12)


KINDS = ("length", "mass", "time", "temperature", "conductance")


@pytest.mark.parametrize("word", sorted(SPELLINGS))
def test_spelling_is_read_as_its_unit(word: str) -> None:
    """Each spelling is read, through the reader that the site file goes through, as its own unit."""
    found = read_measure(f"1 {word}", tuple(SI), {})
    assert found.unit.size == unit(SPELLINGS[word]).size
    assert found.magnitude == 1.0
    assert str(found.unit) == word


def test_spellings_stand_in_the_order_of_the_list() -> None:
    """The order is the same in every process, or hints would differ from run to run."""
    asked = "from barrowful.measures.factors import SPELLINGS; print(*SPELLINGS)"
    seen = {
        subprocess.run(
            [sys.executable, "-c", asked],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert seen == {" ".join(SPELLINGS) + "\n"}
    assert list(SPELLINGS)[:5] == ["meter", "m", "meters", "metre", "metres"]


@pytest.mark.parametrize(("word", "name"), WHO_MEANS_WHAT.items())
def test_common_spelling_means_what_growers_mean(word: str, name: str) -> None:
    """The spellings on bags and tickets mean the units that one expects."""
    assert SPELLINGS[word] == name


@pytest.mark.parametrize("word", sorted(SPELLINGS))
def test_spelling_agrees_with_pint(word: str, pints_own: pint.UnitRegistry) -> None:
    """Where pint's own registry knows a spelling it gives the same size; where it does not, we say so."""
    if word in UNKNOWN_TO_PINT:
        with pytest.raises(pint.UndefinedUnitError):
            pints_own.Unit(word)
        return
    theirs = pints_own.Quantity(7.0, pints_own.Unit(word)).to_base_units()
    ours = registry().Quantity(7.0, SPELLINGS[word]).to(registry().Unit(base_of(word)))
    sizes = [1.0, float((SURVEY_FOOT / FOOT) ** 2)] if word in ACRES else [1.0]
    assert any(theirs.magnitude == pytest.approx(size * ours.magnitude, rel=1e-14) for size in sizes)


def base_of(word: str) -> str:
    """Name the SI base unit of a spelling."""
    name = SPELLINGS[word]
    base = "kelvin" if name in THERMOMETERS else EXACT[name][1]
    return "" if base == "dimensionless" else base


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (50.0, 10.0), (131.0, 55.0)]
)
def test_thermometers(fahrenheit: float, celsius: float) -> None:
    """Both scales meet where they should, in both directions."""
    assert si(quantity(fahrenheit, "degF"), "temperature") == pytest.approx(celsius, abs=1e-9)
    assert quantity(celsius, "degC").to("degF").magnitude == pytest.approx(fahrenheit, abs=1e-9)
    assert si(quantity(celsius, "degC"), "temperature") == celsius
    assert read_measure(f"{fahrenheit} degF", ("temperature",), {}).size == pytest.approx(celsius, abs=1e-12)


@pytest.mark.parametrize(
    "word", ["ton", "gallon", "gal", "bag", "C", "F", "cc", "kelvin", "K", "hp", "a", "b", "M"]
)
def test_word_is_no_unit(word: str) -> None:
    """Words that mean different things, or nothing to a grower, are not accepted."""
    assert word not in SPELLINGS


@draws(100)
@given(st.floats(-1e6, 1e6), st.sampled_from(sorted(set(EXACT))), st.data())
def test_conversion_turns_back(number: float, name: str, data: st.DataObject) -> None:
    """A quantity turned into any unit of its kind and back is the same quantity."""
    alike = [other for other, (_, base) in EXACT.items() if base == EXACT[name][1]]
    other = data.draw(st.sampled_from(alike))
    there = registry().Quantity(number, name).to(other)
    assert there.magnitude == pytest.approx(
        number * float(EXACT[name][0] / Fraction(EXACT[other][0])), rel=1e-12
    )
    assert there.to(name).magnitude == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize("dimension", SI)
def test_si_unit_of_a_dimension_is_one(dimension: str) -> None:
    """A dimension's own unit has factor one and no offset."""
    for number in (0.0, 1.0, -2.5):
        assert si(quantity(number, SI[dimension]), dimension) == pytest.approx(number)
    assert scale(unit(SI[dimension]), dimension) == (1.0, 0.0)
    assert fits(unit(SI[dimension]), dimension)


def test_files_are_read_without_pint() -> None:
    """No command loads pint: the sizes of units stand ready."""
    asked = (
        "import sys; from click.testing import CliRunner; from barrowful.cli.main import cli;"
        "answer = CliRunner().invoke(cli, ['options']);"
        "print(answer.exit_code, 'pint' in sys.modules, 'barrowful.answers.options' in sys.modules)"
    )
    seen = subprocess.run(
        [sys.executable, "-c", asked],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert seen.stdout == "0 False True\n"


def test_likely_of_a_range() -> None:
    """A range stands for its likely value, and anything else for itself."""
    ranged = Ranged(quantity(1.0, "m"), quantity(200.0, "cm"), quantity(4.0, "m"))
    assert likely(ranged) is ranged.likely
    assert likely("word") == "word"
    assert si(ranged, "length") == pytest.approx(2.0)
