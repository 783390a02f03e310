"""Nothing is dug in where a crop stands: from eight weeks ahead of its first harvest to the frost."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from itertools import product
from typing import Any

import pytest
from plan_lines import planned

from barrowful.answers.lines import option_line
from barrowful.answers.options import options
from barrowful.answers.orders import decide
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
NEEDS: dict[str, dict[str, Any]] = {
    "dress": {"depth": "1 cm", "dug": True},
    "raise": {"organic_matter": "2.2 %", "depth": "15 cm"},
    "feed": {"nitrogen": "2 g/m2", "dug": True},
    "lime": {"ph": 6.5},
}
WAYS = [
    {"name": "yard", "buy": {"material": "green compost", "price": "40 EUR/m3"}},
    {"name": "meal", "buy": {"material": "feather meal", "price": "1 EUR/kg"}},
    {"name": "lime", "buy": {"material": "ground limestone", "price": "0.5 EUR/kg"}},
]
OWN = {"dress": "yard", "raise": "yard", "feed": "meal", "lime": "lime"}
CLIMATE = {"annual_mean": "11 degC", "last_frost": "04-20", "first_frost": "10-20"}
#: A crop picked from 1 July on: open to 20 May, and after 20 October.
JULY = {"harvest_from": "07-01"}


@pytest.fixture
def made(site_of: SiteOf, bed: Describe) -> Callable[..., Site]:
    """Give a function that returns a site of one bed with a need, as the place has it, from a start on."""

    def build(kind: str, start: str, place: dict[str, Any], **more: Any) -> Site:
        words = {"climate": CLIMATE, "horizon": "3 years", **more}
        soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "ph": 6}
        need = {kind: {**NEEDS[kind], **place.pop("words", {})}}
        return site_of([bed(need, area=10, soil=soil, **place)], WAYS, start=start, **words)

    return build


def days(site: Site, kind: str) -> list[date]:
    """Return the days on which the way of a kind of need goes on, in its row."""
    row = next(row for row in options(site).options if row.need == kind and row.name == OWN[kind])
    return sorted(dose.day for dose in row.decision.every_dose)


@pytest.mark.parametrize("kind", NEEDS)
@pytest.mark.parametrize(
    ("start", "harvest", "first"),
    [
        ("2027-05-20", "07-01", "2027-05-20"),
        ("2027-05-21", "07-01", "2027-10-21"),
        ("2027-07-15", "07-01", "2027-10-21"),
        ("2027-10-21", "07-01", "2027-10-21"),
        # picked in winter, from 15 January: it stands to the last frost
        ("2027-02-01", "01-15", "2027-04-21"),
        ("2027-06-25", "01-15", "2027-06-25"),
        # picked from 5 April, soon before the last frost: no crop of the winter
        ("2027-04-22", "04-05", "2027-10-21"),
    ],
)
def test_what_is_dug_in_waits_for_the_crop_to_be_off(
    made: Callable[..., Site], kind: str, start: str, harvest: str, first: str
) -> None:
    """The first dose goes on when it may, as soon after the start as that is."""
    if kind == "feed" and first == "2027-10-21":
        first = "2028-02-01"  # the next crop is fed in spring
    site = made(kind, start, {"harvest_from": harvest})
    assert days(site, kind)[0] == date.fromisoformat(first)


#: Places where nothing waits for a crop: no harvest is told, trees, the rule is lifted; and what lies on top.
UNBARRED: list[dict[str, Any]] = [
    {},
    {**JULY, "kind": "tree"},
    {**JULY, "limits": {"lift": ["standing_crop"]}},
]
ON_TOP = {**JULY, "words": {"dug": False}}


@pytest.mark.parametrize(
    ("kind", "place"),
    [*product(NEEDS, UNBARRED), *((kind, ON_TOP) for kind in NEEDS if kind != "raise")],
    ids=str,
)
def test_what_is_not_dug_into_a_crop_does_not_wait(
    made: Callable[..., Site], kind: str, place: dict[str, Any]
) -> None:
    """Where no harvest is told, round trees, where the rule is lifted, and on top, it goes on at once."""
    assert days(made(kind, "2027-05-20", dict(place)), kind)[0] == date(2027, 5, 20)


def test_the_south_has_its_own_frosts(made: Callable[..., Site]) -> None:
    """A crop picked from 15 January in the south stands to the frost of autumn, in May."""
    climate = {"annual_mean": "11 degC", "last_frost": "09-20", "first_frost": "05-10"}
    place = {"harvest_from": "01-15"}
    site = made("dress", "2027-12-10", place, hemisphere="south", climate=climate)
    assert days(site, "dress")[0] == date(2028, 5, 11)


def test_a_row_tells_what_it_waits_for(made: Callable[..., Site]) -> None:
    """What is put off by the crop says so; what is not says nothing of it."""
    told = "what is dug in waits for the crop to be off"
    for start, waits in (("2027-06-01", True), ("2027-03-01", False)):
        answer = options(made("dress", start, dict(JULY)))
        row = next(row for row in answer.options if row.name == "yard")
        assert (told in (option_line(answer, row).remark or "")) == waits


def test_a_wait_beyond_the_horizon_stops_it(made: Callable[..., Site]) -> None:
    """Where the crop stands to the end, the ceiling is named and nothing goes on."""
    site = made("dress", "2027-06-01", dict(JULY), horizon="3 months")
    row = next(row for row in options(site).options if row.name == "yard")
    assert (row.feasible, row.decision.ceiling) == (False, "standing_crop")
    assert not row.decision.every_dose


@pytest.mark.parametrize(
    ("day", "told"), [("2027-05-20", False), ("2027-08-01", True), ("2027-10-21", False)]
)
def test_a_typed_plan_is_told(made: Callable[..., Site], day: str, told: bool) -> None:
    """A line that digs into the crop is followed, and said, with the day it would wait for."""
    line = {"place": "bed", "need": "dress", "way": "yard", "date": day, "amount": "0.1 m3"}
    warnings = decide(made("dress", "2027-03-01", dict(JULY), plan=[line])).warnings
    assert any("waits until 2027-10-21, for the crop to be off" in line for line in warnings) == told


@pytest.mark.parametrize("kind", NEEDS)
def test_no_plan_digs_where_the_crop_stands(made: Callable[..., Site], kind: str) -> None:
    """No line of a least-cost plan goes on between eight weeks ahead of the harvest and the frost."""
    plan = planned(options(made(kind, "2027-03-01" if kind == "feed" else "2027-06-01", dict(JULY))))
    assert plan is not None
    for dose in plan.whole.together.all_doses:
        harvest = date(dose.day.year, 7, 1)
        assert not harvest - timedelta(weeks=8) <= dose.day <= date(dose.day.year, 10, 20)


def test_what_does_not_keep_until_the_crop_is_off_serves_nothing(site_of: SiteOf, bed: Describe) -> None:
    """Leaf that is cut while the crop stands, and wilts, is in no dressing: the wait is named."""
    place = bed({"dress": {"dose": "2 kg/m2", "dug": True}}, area=5, harvest_from="06-15")
    ways = [{"name": "patch", "grow": {"plant": "comfrey", "area": "20 m2"}}]
    frosts = {"last_frost": "04-15", "first_frost": "10-25"}
    [row] = options(site_of([place], ways, start="2026-09-01", climate=frosts)).options
    assert (row.decision.every_dose, row.decision.ceiling) == ((), "standing_crop")
