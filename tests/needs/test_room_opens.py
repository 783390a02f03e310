"""A raise where the ceiling of a year is full as the season begins: it waits for the day that room opens."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.option import Option
from barrowful.site.records import Site

BedWith = Callable[..., tuple[Site, Option]]
#: The ground is free until six weeks before the harvest, and from the usual first frost on, 25 October.
HARVEST = {"harvest_from": "06-25"}
SOIL = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"}


@pytest.fixture
def raised(bed_with: BedWith) -> Callable[..., Option]:
    """Give the option of a seller for 10 m2 of bed that 26 mm of compost or so was dug into a year ago."""

    def of(asked: dict[str, Any], put_on: dict[str, str], place: dict[str, Any] | None = None) -> Option:
        history = [
            {"date": day, "place": "bed", "material": "thing", "amount": amount, "dug": True}
            for day, amount in put_on.items()
        ]
        need = {"raise": {"organic_matter": "2.8 %", "depth": "20 cm", "hold": "0 days", **asked}}
        return bed_with(need, place=place, history=history, soil=SOIL)[1]

    return of


@pytest.mark.parametrize("place", [{}, HARVEST])
def test_it_is_met_on_the_day_that_room_opens(raised: Callable[..., Option], place: dict[str, str]) -> None:
    """Twelve months after what was put on there is room, though the ground is not free all the year."""
    row = raised({"by": "2028-02-15"}, {"2026-03-20": "0.25 m3"}, place)
    assert row.decision.feasible
    assert [dose.day for dose in row.decision.every_dose] == [date(2027, 3, 20)]


@pytest.mark.parametrize(
    ("target", "by", "on"),
    [("2.6 %", "2027-10-01", date(2027, 3, 10)), ("3.1 %", "2027-12-01", date(2027, 10, 26))],
)
def test_of_several_days_it_is_one_with_room_enough_and_free_ground(
    raised: Callable[..., Option], target: str, by: str, on: date
) -> None:
    """The room of June opens under a standing crop: that of March does, or all of it once the crop is off."""
    put_on = {"2026-03-10": "0.13 m3", "2026-06-15": "0.12 m3"}
    row = raised({"by": by, "organic_matter": target}, put_on, HARVEST)
    assert row.decision.feasible
    assert [dose.day for dose in row.decision.every_dose] == [on]


@pytest.mark.parametrize("place", [{}, HARVEST])
def test_without_a_date_it_is_ready_no_year_later(
    raised: Callable[..., Option], place: dict[str, str]
) -> None:
    """Where none is written, it is put on as room opens, and not on the same day a year later."""
    row = raised({}, {"2026-03-20": "0.25 m3"}, place)
    assert row.decision.feasible
    assert [dose.day for dose in row.decision.every_dose] == [date(2027, 3, 20)]


def test_what_is_too_late_anyhow_is_not_a_year_later(raised: Callable[..., Option]) -> None:
    """What is due before room opens is told the day it is there, and the ceiling that keeps it from its date."""
    row = raised({"by": "2027-03-15"}, {"2026-03-20": "0.25 m3"})
    assert not row.decision.feasible
    assert row.decision.ready_on == date(2027, 3, 20)
    [serving] = row.decision.servings
    assert serving.ceiling == "yearly_depth"
