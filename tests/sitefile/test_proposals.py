"""What a sentence proposes to write in place of what is misread is read when it is written so."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import example, given
from hypothesis import strategies as st

from barrowful.measures.problems import NOWHERE, ParseError
from barrowful.measures.text import read_measure
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Kind, MonthDay
from barrowful.sitefile.language.money import Cash, CashPer, PriceFor

PRICE = PriceFor(("bag", "load"))
KINDS: tuple[Kind, ...] = (PRICE, Cash(), CashPer("hours"), CashPer("mass"))
UNITS = (
    *(
        "m3",
        "yd",
        "yard",
        "cubic yard",
        "cu yd",
        "cu. ft",
        "cuyd",
        "m",
        "t",
        "tonne",
        "ton",
        "kg",
        "litre",
        "l",
    ),
    *("bag", "bags", "sack", "bale", "load", "trailer", "skip", "h", "hour", "acre", "thing", "m2"),
)
PROPOSED = re.compile(r'"([^"]+)"')


def read(kind: Kind, text: str) -> Any:
    """Return what a kind makes of a text in a file in pounds; raise what it says is wrong."""
    context = ReadContext("x")
    context.currency = "GBP"
    return kind.of_text(text, NOWHERE, context, "price")


def proposed(kind: Kind, text: str) -> list[str]:
    """Return what is proposed in place of a text; nothing where it is read."""
    try:
        read(kind, text)
    except ParseError as misread:
        return PROPOSED.findall(str(misread).partition("; write ")[2])
    return []


@st.composite
def moneys(draw: st.DrawFn) -> str:
    """Draw money as growers write it."""
    number = draw(st.sampled_from(("45", "45.50", "45,50", "1,200", "1200.5", "0", "free", "none", "6.5")))
    before = draw(st.sampled_from(("", "", "£", "€", "GBP ", "$ ", "USD ")))
    after = draw(st.sampled_from(("", " GBP", " gbp", "£", " pounds", " EUR", " euros")))
    joint = draw(st.sampled_from(("/", " / ", " per ", " a ", " each ", " for ")))
    unit = draw(st.sampled_from(("", *UNITS)))
    return f"{before}{number}{after}{joint if unit else ''}{unit}"


@draws(400)
@given(st.sampled_from(KINDS), moneys())
@example(CashPer("hours"), "45 GBP/cubic yard")
def test_money_that_is_proposed_is_read(kind: Kind, text: str) -> None:
    """However a price, a sum or a rate is written, each form that is proposed is one that is taken."""
    for form in proposed(kind, text):
        assert read(kind, form) is not None


@pytest.mark.parametrize(
    ("text", "form"),
    [
        ("£45/yd", "45 GBP/yd3"),
        ("free", "0 GBP/m3"),
        ("45,50 GBP/yd3", "45.50 GBP/yd3"),
        ("45 GBP per yd3", "45 GBP/yd3"),
        ("4 GBP/bale", "4 GBP/bag"),
        ("£6.50 a bag", "6.50 GBP/bag"),
        ("30 GBP/trailer", "30 GBP/load"),
        ("12 GBP/cu yd", "12 GBP/yd3"),
    ],
)
def test_what_is_meant_is_proposed(text: str, form: str) -> None:
    """What is proposed is the same money for the same thing, not another example."""
    assert proposed(PRICE, text)[0] == form
    assert read(PRICE, form).amount == Decimal(form.split()[0])


def test_what_one_bag_holds_is_asked_for() -> None:
    """A price for a piece needs its size, and says so at once."""
    with pytest.raises(ParseError, match=r"what one holds \(bag: 40 L, or 12 kg"):
        read(PRICE, "4 GBP/bale")


def test_other_money_is_not_taken_for_ours() -> None:
    """A price in another currency is never proposed as one in the site's."""
    assert proposed(PRICE, "46 USD/m3") == []


@pytest.mark.parametrize(
    ("length", "unit"), [("ft", "ft"), ("feet", "ft"), ("yd", "yd"), ("yards", "yd"), ("m", "m")]
)
@pytest.mark.parametrize("form", ["cu {}", "cubic {}", "Cu. {}", "{} cubed", "{}^3"])
def test_volumes_by_their_lengths(length: str, unit: str, form: str) -> None:
    """A cubic foot in words is told as it is written, and never as a foot."""
    with pytest.raises(ParseError) as refusal:
        read_measure(f"3 {form.format(length)}", ("volume",), {})
    [written] = PROPOSED.findall(str(refusal.value).partition("; write ")[2])
    assert written == f"{unit}3"
    assert read_measure(f"3 {written}", ("volume",), {}).size > 0


@pytest.mark.parametrize("text", ["3-4 in", "3 - 4 in", "3 to 4 in", "3\u20134 in"])
def test_a_range_is_told(text: str) -> None:
    """Two numbers are no one number, and nothing is said of a unit."""
    with pytest.raises(ParseError, match="is a range; write one number, and its unit"):
        read_measure(text, ("length",), {})


@pytest.mark.parametrize("text", ["2 sacks", "3 bales", "1 sack"])
def test_sacks_are_no_acres(text: str) -> None:
    """What is of no one size is told so."""
    with pytest.raises(ParseError, match="can mean several sizes"):
        read_measure(text, ("volume",), {})


@draws(100)
@given(
    st.one_of(
        st.builds(
            "{} {}".format, st.integers(0, 32), st.sampled_from(("Oct", "april", "Sept.", "June", "foo"))
        ),
        st.builds("{}/{}".format, st.integers(0, 32), st.integers(0, 32)),
        st.text(max_size=8),
    )
)
def test_days_that_are_proposed_are_read(text: str) -> None:
    """A day in words is told as month and day, and where it may be another, by an example."""
    try:
        MonthDay().of_text(text, NOWHERE, ReadContext("x"), "first_frost")
    except ParseError as misread:
        if "not a month and day" in str(misread):
            [form] = re.findall(r"; write ([0-9]{2}-[0-9]{2})", str(misread))
            assert MonthDay().of_text(form, NOWHERE, ReadContext("x"), "first_frost")
