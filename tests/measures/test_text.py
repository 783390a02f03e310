"""Reading numbers and quantities: the traps of free text, and that nothing is ever evaluated."""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.measures.dimensions import SI
from barrowful.measures.factors import SPELLINGS
from barrowful.measures.problems import ParseError
from barrowful.measures.text import (
    AMBIGUOUS,
    EXAMPLES,
    read_measure,
    read_number,
    read_own_name,
    read_unit,
    split_quantity,
)
from barrowful.measures.units import fits, unit

QUICK = draws(150)
ANY = tuple(SI)
SOUP = st.text(alphabet="0123456789.,+-eE */^()[]'\";:_%²mftkgCdyr\n\t\x00٣½−", max_size=25)
WORDS = st.sampled_from([*SPELLINGS, "ton", "bag", "1", "", "**", "//", " ", "xyzzy"])
NEAR_MISSES = st.builds(
    "{}{}{}{}{}".format,
    st.sampled_from(["3", "3 ", "-2.5 ", ".5 ", "1e3 ", "1e400 ", "007 ", "1 000 ", "1,5 ", "9**9 "]),
    WORDS,
    st.sampled_from(["/", "*", "", " ", "2", "; "]),
    WORDS,
    st.sampled_from(["", "/m2", "*ft", " 6 in"]),
)

#: Calls a refusal may take; looking for the nearest of all spellings takes most of them.
MOST_CALLS = 10_000


@contextmanager
def few_calls() -> Iterator[None]:
    """Hold that little is done in a block, whatever the speed of the machine."""
    calls = 0

    def called(_: object, event: str, __: object) -> None:
        nonlocal calls
        calls += event in {"call", "c_call"}

    assert all(map(unit, SI.values()))  # learnt once, before the count
    assert SPELLINGS
    before = sys.getprofile()
    sys.setprofile(called)
    try:
        yield
    finally:
        sys.setprofile(before)
    assert calls <= MOST_CALLS


REFUSED = {
    "decimal comma": ("1,5 m", "decimal-comma"),
    "comma for thousands": ("1,000 m", "decimal-comma"),
    "both": ("1.000,5 m", "decimal-comma"),
    "space for thousands": ("1 000 m", "spaced-number"),
    "a fraction": ("1/2 in", "fraction"),
    "a mixed fraction": ("3 1/2 m", "spaced-number"),
    "narrow space for thousands": ("1\u202f000 m", "spaced-number"),
    "hard space for thousands": ("1\u00a0000 m", "spaced-number"),
    "feet and inches": ("4 ft 6 in", "compound"),
    "feet and inches by marks": ("4' 6\"", "compound"),
    "feet by a mark": ("4'", "compound"),
    "inches by a mark": ('6"', "compound"),
    "apostrophe for thousands": ("1'000 m", "compound"),
    "unit and power apart": ("3 yd 2", "compound"),
    "a second line": ("3 m\n4", "compound"),
    "a power": ("9**9**9 m", "unknown-unit"),
    "a power of a unit": ("3 m**2", "unknown-unit"),
    "a hat": ("3 m^2", "unknown-unit"),
    "two points": ("3..4 m", "not-a-number"),
    "a point at the end": ("3. m", "not-a-number"),
    "a second statement": ("3 m; 4", "unknown-unit"),
    "a comparison": ("3 m == 4", "unknown-unit"),
    "brackets round the unit": ("3 (m)", "unknown-unit"),
    "brackets round all": ("(3 m)", "not-a-number"),
    "square brackets": ("[3] m", "not-a-number"),
    "code": ("__import__('os')", "not-a-number"),
    "a range": ("2-3 m", "range"),
    "underscores": ("1_000 m", "unknown-unit"),
    "base sixteen": ("0x10 m", "unknown-unit"),
    "leading noughts": ("007 m", "leading-zero"),
    "a leading nought after a sign": ("-01 m", "leading-zero"),
    "sixteen digits": ("1234567890123456 m", "too-many-digits"),
    "sixteen digits, a point": ("0.000000000000001 m", "too-many-digits"),
    "far too large": ("1e400 m", "not-finite"),
    "too large in metres": ("1e306 km", "not-finite"),
    "not a number": ("nan m", "not-a-number"),
    "endless": ("inf m", "not-a-number"),
    "minus endless": ("-Infinity m", "not-a-number"),
    "Arabic digits": ("٣ m", "not-a-number"),
    "full-width digits": ("３ m", "not-a-number"),
    "Arabic digits at the end": ("3٣ m", "unknown-unit"),
    "a half": ("½ m", "not-a-number"),
    "a printed minus": ("−3 m", "not-a-number"),
    "a space first": (" 3 m", "not-a-number"),
    "no number": ("m", "not-a-number"),
    "nothing": ("", "not-a-number"),
    "no unit": ("5", "bare-number"),
    "no unit but a space": ("5 ", "bare-number"),
    "a square sign": ("3 ㎡", "unknown-unit"),
    "a hash": ("5 #", "unknown-unit"),
    "cubic yards in words": ("3 cu yd", "unknown-unit"),
    "units side by side": ("3 m m", "unknown-unit"),
    "a capital": ("3 M", "unknown-unit"),
    "a loose slash": ("3 kg/", "unknown-unit"),
    "two slashes": ("3 kg//m2", "unknown-unit"),
    "a loose star": ("3 m*", "unknown-unit"),
    "a nul": ("3 m\x00", "unknown-unit"),
    "kelvin": ("300 kelvin", "unknown-unit"),
    "a mass": ("5 kg", "wrong-dimension"),
    "an area": ("5 m2", "wrong-dimension"),
    "degrees by degrees": ("5 degC/degF", "unknown-unit"),
    "degrees by degrees times a length": ("5 degC*m/degF", "unknown-unit"),
    "degrees times degrees": ("5 degC*degC", "unknown-unit"),
    "points for thousands": ("1.000.000 m", "not-a-number"),
    "an area written out": ("5 m*m", "wrong-dimension"),
    "one over a length": ("5 /m", "wrong-dimension"),
}
CODES = {code for _, code in REFUSED.values()} | {"ambiguous-unit"}


@pytest.mark.parametrize(("text", "code"), REFUSED.values(), ids=REFUSED)
def test_trap_is_refused_as_a_length(text: str, code: str) -> None:
    """A trap never becomes a length; it is refused by its own code, after little work and with a sentence."""
    with few_calls(), pytest.raises(ParseError) as refusal:
        read_measure(text, ("length",), {})
    assert refusal.value.code == code
    assert len(str(refusal.value)) > 20


@pytest.mark.parametrize("word", AMBIGUOUS)
def test_ambiguous_word_is_refused_with_advice(word: str) -> None:
    """A word that means different sizes to different people is refused, and what to write is said."""
    with pytest.raises(ParseError, match=r"can mean several sizes; (say|give)") as refusal:
        read_measure(f"5 {word}", ANY, {})
    assert refusal.value.code == "ambiguous-unit"
    assert word not in SPELLINGS


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("20 C", "temperature"),
        ("68 F", "temperature"),
        ("5 gal", "volume"),
        ("2 ton", "mass"),
        ("3 bag", "volume"),
        ("4 barrows", "volume"),
        ("2 sqm", "area"),
    ],
)
def test_bare_words_are_ambiguous(text: str, dimension: str) -> None:
    """The commonest bare words are refused whatever was expected of them."""
    with pytest.raises(ParseError) as refusal:
        read_measure(text, (dimension,), {})
    assert refusal.value.code == "ambiguous-unit"


@pytest.mark.parametrize(
    "text",
    [
        "3 " + "(" * 3000,
        "3 " + "m*" * 5000 + "m",
        "3" * 5000 + " m",
        "3 " + "m/" * 10000,
        "9" + "**9" * 2000 + " m",
        "9" + " " * 5000,
        "9" * 5000 + ",5 m",
    ],
    ids=["brackets", "stars", "digits", "slashes", "powers", "spaces", "digits and a comma"],
)
def test_endless_text_is_refused_at_once(text: str) -> None:
    """Text of any length is answered in a short sentence and after little work."""
    with few_calls(), pytest.raises(ParseError) as refusal:
        read_measure(text, ("length",), {})
    assert len(str(refusal.value)) < 200


def test_endless_number_is_refused_in_short() -> None:
    """A number alone is cut short in its refusal too."""
    with pytest.raises(ParseError, match="has a comma") as refusal:
        read_number("9" * 5000 + ",5")
    assert len(str(refusal.value)) < 200


@pytest.mark.parametrize("dimension", ["share", "length", "temperature", "ratio"])
@pytest.mark.parametrize("text", ["5 degC/degF", "5 degC*m/degF", "5 m*degF", "5 /degC", "5 degC/day"])
def test_degrees_stand_alone(text: str, dimension: str) -> None:
    """A thermometer's degree has no product or ratio, whatever is wanted, own measures or none."""
    for own in ({}, OWN):
        with pytest.raises(ParseError, match="degC and degF stand alone") as refusal:
            read_measure(text, (dimension,), own)
        assert refusal.value.code == "unknown-unit"


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("9 m", "length", 9.0),
        ("90 cm", "length", 0.9),
        ("3m", "length", 3.0),
        ("3\u00a0m", "length", 3.0),
        (".5 m", "length", 0.5),
        ("+3 m", "length", 3.0),
        ("-250 mm", "water depth", -250.0),
        ("1e3 m", "length", 1000.0),
        ("2.5E-3 km", "length", 2.5),
        ("0.50 m", "length", 0.5),
        ("123456789012345 mm", "length", 123456789012.345),
        ("640 kg/m3", "density", 640.0),
        ("2 t / ha", "dose", 0.2),
        ("3 kg*m/m3", "dose", 3.0),
        ("1 kg/m/m", "dose", 1.0),
        ("0.35 /year", "rate", 0.35),
        ("0.35 1/year", "rate", 0.35),
        ("5 %", "share", 0.05),
        ("5%", "share", 0.05),
        ("8.3 g/kg", "share", 0.0083),
        ("32 degF", "temperature", 0.0),
        ("12.5 degC", "temperature", 12.5),
        ("3 m²", "area", 3.0),
        ("2 yd³", "volume", 2 * 0.764554857984),
        ("90 min/m3", "work on volume", 1.5),
    ],
)
def test_plain_text_is_read(text: str, dimension: str, expected: float) -> None:
    """What a grower writes is read to the value it has in SI."""
    assert read_measure(text, (dimension,), {}).size == pytest.approx(expected, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("dimension", EXAMPLES)
def test_examples_in_messages_are_right(dimension: str) -> None:
    """What a refusal tells the grower to write can be written."""
    assert read_measure(EXAMPLES[dimension], (dimension,), {}).dimension == dimension


def test_one_of_several_dimensions_will_do() -> None:
    """A field that takes a length or an area takes either and says so when it gets neither."""
    assert (
        read_measure(
            "3 m",
            (
                "area",
                "length",
            ),
            {},
        ).dimension
        == "length"
    )
    assert (
        read_measure(
            "3 m2",
            (
                "area",
                "length",
            ),
            {},
        ).dimension
        == "area"
    )
    with pytest.raises(
        ParseError, match='"3 kg" is not an area or a length; write one such as "12 m2" or "9 m"'
    ):
        read_measure(
            "3 kg",
            (
                "area",
                "length",
            ),
            {},
        )


@pytest.mark.parametrize(
    ("text", "hint"),
    [("3 metrs", '"metres"'), ("3 hectar", '"hectare"'), ("3 pouns", '"pounds"')],
)
def test_misspelt_unit_gets_a_hint(text: str, hint: str) -> None:
    """A unit that is nearly right is named."""
    with pytest.raises(ParseError, match=f"did you mean {hint}"):
        read_measure(text, ANY, {})


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1,5", "decimal-comma"),
        ("-1,5", "decimal-comma"),
        ("1,000,000", "not-a-number"),
        ("1 000", "not-a-number"),
        ("1_0", "not-a-number"),
        ("1.", "not-a-number"),
        (".", "not-a-number"),
        ("", "not-a-number"),
        ("12 m", "not-a-number"),
        ("nan", "not-a-number"),
        ("inf", "not-a-number"),
        ("٣", "not-a-number"),
        ("1e", "not-a-number"),
        ("1e1000", "not-a-number"),
        ("3\n", "not-a-number"),
        ("00", "leading-zero"),
        ("+012", "leading-zero"),
        ("1e999", "not-finite"),
        ("1234567890.123456", "too-many-digits"),
    ],
)
def test_bad_number_is_refused(text: str, code: str) -> None:
    """A number alone is as strict as a number with a unit."""
    with pytest.raises(ParseError) as refusal:
        read_number(text)
    assert refusal.value.code == code


@QUICK
@given(st.decimals(-999_999_999, 999_999_999, places=5))
def test_plain_decimal_is_read_exactly(number: Decimal) -> None:
    """A number of up to fifteen digits is read as the float that is nearest to it."""
    text = f"{number:f}"
    assert read_number(text) == float(number)
    assert split_quantity(f"{text} kg/m3") == (float(number), "kg/m3")


@draws(400)
@given(st.one_of(st.text(max_size=30), SOUP, NEAR_MISSES))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is typed, the answer is a finite quantity or a refusal with a code that is known."""
    found = read_or_refuse(text)
    if isinstance(found, str):
        assert found in CODES
    else:
        assert isinstance(found.magnitude, float)
        assert math.isfinite(found.magnitude)
        assert fits(found.unit, found.dimension)
        assert found.dimension in ANY


def read_or_refuse(text: str) -> Any:
    """Give the quantity that a text is, or the code of its refusal; anything else is let through."""
    try:
        return read_measure(text, ANY, {})
    except ParseError as refusal:
        return refusal.code


@QUICK
@given(st.integers(-10_000, 10_000), st.sampled_from(sorted(SPELLINGS)), st.sampled_from(ANY))
def test_a_unit_is_never_taken_for_another_dimension(number: int, word: str, dimension: str) -> None:
    """A quantity is read as a dimension exactly when its unit measures it."""
    text, measures = f"{number} {word}", fits(unit(SPELLINGS[word]), dimension)
    if measures:
        assert read_measure(text, (dimension,), {}).magnitude == number
    else:
        with pytest.raises(ParseError) as refusal:
            read_measure(text, (dimension,), {})
        assert refusal.value.code == "wrong-dimension"


OWN = {
    name: read_measure(size, ("length", "volume"), {})
    for name, size in {"barrow": "80 L", "bucket": "12 L", "pace": "75 cm"}.items()
}


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("3 barrow", "volume", 0.24),
        ("3 barrows", "volume", 0.24),
        ("2 bucket/m2", "length", 0.024),
        ("14 paces", "length", 10.5),
        ("14 pace*pace", "area", 14 * 0.75**2),
        ("30 kg/barrow", "density", 375.0),
        ("9 m", "length", 9.0),
    ],
)
def test_own_measures_are_read(text: str, dimension: str, expected: float) -> None:
    """A measure that the grower has sized counts for that size, alone, in the plural and in ratios."""
    assert read_measure(text, (dimension,), OWN).size == pytest.approx(expected)


def test_own_measures_are_the_growers_alone() -> None:
    """One site's barrow is not known to the next, and is checked for its dimension like any unit."""
    with pytest.raises(ParseError) as refusal:
        read_measure("3 barrow", ("volume",), {})
    assert refusal.value.code == "ambiguous-unit"
    with pytest.raises(ParseError) as refusal:
        read_measure("3 barrow", ("mass",), OWN)
    assert refusal.value.code == "wrong-dimension"
    with pytest.raises(ParseError, match='did you mean "bucket"'):
        read_measure("3 buket", ("volume",), OWN)


def test_own_measure_that_overflows_is_refused() -> None:
    """A number that is finite by itself and not in the grower's measure is refused."""
    with pytest.raises(ParseError) as refusal:
        read_measure("1e308 barrow", ("volume",), OWN)
    assert refusal.value.code == "not-finite"


@pytest.mark.parametrize("name", ["barrow", "Big_barrow", "x", "b" * 30])
def test_own_name_is_taken(name: str) -> None:
    """Letters and underscores make a name."""
    assert read_own_name(name) == name


@pytest.mark.parametrize(
    "name",
    ["", "b" * 31, "my barrow", "barrow2", "_b", "1", "m", "lb", "hectare", "%", "b/m", "fass\u00df", "b\n"],
)
def test_own_name_is_refused(name: str) -> None:
    """A name that is empty, long, not plain letters, or a standard unit already is refused."""
    with pytest.raises(ParseError) as refusal:
        read_own_name(name)
    assert refusal.value.code == "bad-name"


def test_unit_products_are_cached_without_own_measures_leaking() -> None:
    """Reading a unit with one site's measures leaves no trace for the next site."""
    small, large = ({"tub": read_measure(size, ("volume",), {})} for size in ("10 L", "40 L"))
    for own, litres in ((small, 10.0), (large, 40.0), (small, 10.0)):
        factor, found = read_unit("tub/m2", own)
        assert factor == litres
        assert fits(found, "length")
    with pytest.raises(ParseError):
        read_unit("tub/m2", {})


@pytest.mark.parametrize("word", ["qt", "µl", "kilolitres", "dag", "qm", "hm"])
def test_no_unit_of_another_size_is_suggested(word: str) -> None:
    """A letter more or less, or another beginning, makes another unit: none is named for it."""
    with pytest.raises(ParseError) as misread:
        read_measure(f"2 {word}", ("volume",), {})
    assert str(misread.value) == f'"{word}" is not a unit known here'


@pytest.mark.parametrize(
    ("word", "meant"), [("cms", "cm"), ("kgs", "kg"), ("fot", "foot"), ("metrs", "metres"), ("lbs.", "lbs")]
)
def test_slips_are_told(word: str, meant: str) -> None:
    """An s, a point or a letter that is missing."""
    with pytest.raises(ParseError, match=f'did you mean "{meant}"'):
        read_measure(f"2 {word}", ("volume",), {})


@pytest.mark.parametrize(
    ("text", "size"), [("2 hl", 0.2), ("3 dm3", 0.003), ("20 cl", 2e-4), ("500 ml", 5e-4)]
)
def test_parts_and_multiples_of_a_litre(text: str, size: float) -> None:
    """As they stand on bags, buckets and seed trays."""
    assert read_measure(text, ("volume",), {}).size == pytest.approx(size, rel=1e-15)
