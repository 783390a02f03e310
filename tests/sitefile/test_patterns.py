"""The patterns of the schema against the reader: never stricter, and as strict as is promised."""

from __future__ import annotations

import re
from itertools import product

import pytest

from barrowful.measures.problems import NOWHERE, ParseError
from barrowful.measures.text import read_measure
from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.kinds import Day, Duration, Kind, MonthDay
from barrowful.sitefile.language.lists import ListOf, Named
from barrowful.sitefile.language.money import Cash, CashPer, PriceFor
from barrowful.sitefile.language.quantity import Measure, Stuff

NUMBERS = ("0", "-0", ".5", "+1", "04", "29.9", "46", "100.5", "1e3", "-1e-3", "-31", "1234567890.12345",
           "1234567890.123456", "1.", "1,5", "1 000")  # fmt: skip
UNITS = (" m", "m", " cm", " km", " ft", " m2", " ha", " L", " m3", " yd3", " kg", " t", " lb", " g/m2", " kg/ha", " kg/m3",
         " g/cm3", " m/kg", " kg/bucket", " %", " percent", " h", " min", " weeks", " degC", " degF", " 1/year", " /year",
         " bucket", " buckets", " pace", " sack", " m*m", " kg/m2/year", " mm", " ' ", "", " dS/m", " EUR", " EUR/m3", " EUR/h",
         " EUR/bag", " EUR / kg", " USD", " days", " month")  # fmt: skip
DAYS = [f"{year}-{month:02}-{day:02}" for year in (1899, 1900, 1999, 2000, 2027, 2028, 2100, 2200, 2201)
        for month in (0, 1, 2, 4, 12, 13) for day in (0, 1, 28, 29, 30, 31, 32)]  # fmt: skip

#: What a pattern cannot know: limits in other units, whole days in weeks, what money and measures the file has.
RECKONED = {
    "out-of-range",
    "not-finite",
    "not-a-duration",
    "wrong-currency",
    "unknown-unit",
    "ambiguous-unit",
}
#: Units that a pattern lets be: the grower's own, products, and ratios that are not of two standard units.
OWN_OR_LONG = r"bucket|pace|sack|\*|/.*/|[0-9.] *(1 *)?/"


def kinds(kind: Kind = SITE) -> list[Kind]:
    """Return every kind of value that the description of the site file leads to."""
    if isinstance(kind, Group):
        return [each for field in kind.fields for each in kinds(field.kind)]
    return kinds(kind.kind) if isinstance(kind, ListOf | Named) else [kind]


def complaint(kind: Kind, text: str) -> str:
    """Return what the reader has against a text as a kind, in a file with measures of its own; or nothing."""
    own = {"bucket": read_measure("12 L", ("volume",), {}), "pace": read_measure("75 cm", ("length",), {})}
    try:
        kind.of_text(text, NOWHERE, ReadContext("x", "EUR", own), "x")
    except ParseError as misread:
        return misread.code
    return ""


def pattern_of(kind: Kind) -> re.Pattern[str]:
    """Return the pattern that the schema has for a kind."""
    schema = kind.json
    return re.compile(str(schema.get("anyOf", [schema])[0]["pattern"]))


FOUND = {
    pattern_of(kind).pattern: kind
    for kind in kinds()
    if isinstance(kind, Measure | Stuff | Duration | Cash | CashPer | PriceFor)
}


@pytest.mark.parametrize("kind", FOUND.values(), ids=lambda kind: kind.name)
def test_no_measure_that_is_read_is_refused(kind: Kind) -> None:
    """Whatever number and unit the reader takes, the schema takes; units of other things it does not."""
    pattern = pattern_of(kind)
    texts = [number + unit for number, unit in product(NUMBERS, UNITS)]
    told = {text: complaint(kind, text) for text in texts}
    assert "" in told.values()
    assert [text for text, code in told.items() if not code and not pattern.search(text)] == []
    misses = {text for text, code in told.items() if code not in {"", *RECKONED} and pattern.search(text)}
    assert {text for text in misses if not re.search(OWN_OR_LONG, text)} == set()


@pytest.mark.parametrize("kind", [Day(), MonthDay(12)], ids=["day", "month and day"])
def test_days_are_refused_as_the_reader_refuses_them(kind: Kind) -> None:
    """Of days the schema refuses exactly those that the calendar has not."""
    texts = DAYS if isinstance(kind, Day) else sorted({text[5:] for text in DAYS})
    for text in [*texts, "1.3.2027", "03-1", ""]:
        assert bool(pattern_of(kind).search(text)) == (not complaint(kind, text)), text
