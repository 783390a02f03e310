"""A value as text: for people in metric or customary units, or for machines, always metric."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.measures.money import rounded
from barrowful.tables.columns import Column, Shown
from barrowful.tables.report import Value

_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f]")


def clean(text: str) -> str:
    """Return text without control characters, which a terminal might obey."""
    return _CONTROL.sub(" ", text)


def shown_as(column: Column[Any], measures: str) -> Shown | None:
    """Return how a column's numbers are shown."""
    if measures == "customary" and column.customary is not None:
        return column.customary
    return column.metric


def heading(column: Column[Any], measures: str, currency: str) -> str:
    """Return the heading people see, with the unit."""
    if column.kind == "money":
        return f"{column.heading}, {currency}"
    shown = shown_as(column, measures)
    return f"{column.heading}, {shown.unit}" if shown and shown.unit else column.heading


def for_people(value: Value, column: Column[Any], measures: str, currency: str) -> str:
    """Return the text people see; nothing for what is absent."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{rounded(value, currency):,}"
    shown = shown_as(column, measures)
    if shown is not None and isinstance(value, int | float):
        return _number(value * shown.factor, shown.digits, shown.strip)
    return clean(str(value))


def _number(value: float, digits: int, strip: bool) -> str:
    text = f"{value:,.{digits}f}"
    if strip and "." in text:
        text = text.rstrip("0").rstrip(".")
    if value and float(text.replace(",", "")) == 0:
        return f"{value:.1g}"
    return text.removeprefix("-") if value == 0 else text


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
