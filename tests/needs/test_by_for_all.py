"""A raise with a day of its own beside ``limits.by``: the earlier of the two is when it is to be reached."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import barrowful

SITE: dict[str, Any] = {
    "site": "Two Days",
    "currency": "EUR",
    "start": "2027-03-01",
    "horizon": "3 years",
    "climate": {"annual_mean": "11 degC"},
    "soil": {"organic_matter": "3 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"},
    "ways": [
        {"name": "c", "buy": {"material": "green compost", "price": "40 EUR/m3", "lead": "3 weeks"}},
    ],
}


def raised(own: str, of_all: str = "", hold: str = "1 year") -> dict[str, Any]:
    """Return the row of a raise by a day of its own, and one for all where it is given."""
    need = {"raise": {"organic_matter": "3.3 %", "depth": "15 cm", "by": own, "hold": hold}}
    place = {"name": "bed", "kind": "bed", "shape": {"area": "20 m2"}, "needs": [need]}
    limits = {"limits": {"by": of_all}} if of_all else {}
    report = barrowful.options(barrowful.load(json.dumps({**SITE, "places": [place], **limits}).encode()))
    [row] = (row for row in report.table("options").rows if row["need"] == "raise")
    return {**row, "said": report.sentences}


def test_the_earlier_day_is_the_one() -> None:
    """It is met by the day for all, at the cost of saying that day itself, held to the same last day."""
    last = (date(2029, 9, 1) - date(2028, 2, 1)).days
    both, alone = raised("2028-09-01", "2028-02-01"), raised("2028-02-01", hold=f"{last} days")
    assert both["feasible"]
    assert both["ready_on"] <= date(2028, 2, 1)
    assert [both[key] for key in ("cash", "loose_m3", "ready_on")] == [
        alone[key] for key in ("cash", "loose_m3", "ready_on")
    ]


def test_a_later_day_for_all_changes_nothing() -> None:
    """The day of its own is the earlier one then."""
    told, alone = raised("2028-02-01", "2028-09-01"), raised("2028-02-01")
    assert {**told, "said": ""} == {**alone, "said": ""}


def test_the_day_it_is_ready_is_told_once() -> None:
    """What comes too late for the day for all has its day in one place of the sentence."""
    row = raised("2027-09-01", "2027-03-10")
    assert not row["feasible"]
    assert all(line.count("ready 2027-") < 2 for line in row["said"])
