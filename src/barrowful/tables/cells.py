"""A value as text: for people in metric or customary units, or for machines, always metric."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.measures.money import rounded
from barrowful.measures.text import in_figures
from barrowful.tables.columns import Column, Display, Value

_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")
#: What is no letter, by Unicode, and stands in no document of marks.
_NO_LETTER = re.compile(
    "[\ud800-\udfff\ufdd0-\ufdef"
    + "".join(chr(plane << 16 | last) for plane in range(17) for last in (0xFFFE, 0xFFFF))
    + "]"
)


def clean(text: str) -> str:
    """Return text without control characters, which a terminal might obey, and without ends of lines."""
    return _CONTROL.sub(" ", text)


def letters(text: str) -> str:
    """Return text clean, and without what is no letter: any document of marks can hold it."""
    return _NO_LETTER.sub(" ", clean(text))


def display_of(column: Column[Any], measures: str) -> Display | None:
    """Return how people see a column's numbers; nothing for what is no measured number."""
    scale = column.scale
    if scale is None:
        return None
    return scale.customary if measures == "customary" and scale.customary else scale.metric


def unit_seen(column: Column[Any], measures: str, currency: str) -> str:
    """Return the unit people see; nothing where there is none."""
    if column.kind == "money":
        return currency
    display = display_of(column, measures)
    return display.unit if display else ""


def heading(column: Column[Any], measures: str, currency: str) -> str:
    """Return the heading people see, with the unit."""
    unit = unit_seen(column, measures, currency)
    return f"{column.heading}, {unit}" if unit else column.heading


def for_people(value: Value, column: Column[Any], measures: str, currency: str) -> str:
    """Return the text people see; nothing for what is absent."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{rounded(value, currency):,}"
    display = display_of(column, measures)
    if display is not None and isinstance(value, int | float):
        return _number(value * display.factor + display.offset, display.digits, display.strip)
    return clean(str(value))


def _number(value: float, digits: int, strip: bool) -> str:
    text = f"{value:,.{digits}f}"
    if strip and "." in text:
        text = text.rstrip("0").rstrip(".")
    if value and float(text.replace(",", "")) == 0:
        return in_figures(value, 1)
    return text.removeprefix("-") if value == 0 else text


def listed(names: Iterable[str]) -> str:
    """Return names as one text, parted by semicolons; one with a semicolon stands in double quotes.

    ``csv.reader([text], delimiter=";", skipinitialspace=True)`` gives the names back.

    >>> print(listed(["long beds", "pots; small", '"old" trees']))
    long beds; "pots; small"; \"""old"" trees"
    """
    return "; ".join(_quoted(name) if ";" in name or name.startswith('"') else name for name in names)


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def for_machines(value: Value) -> str:
    """Return the text of a value for csv and tsv: metric, full, empty when absent."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, date):
        return value.isoformat()
    return str(value)
