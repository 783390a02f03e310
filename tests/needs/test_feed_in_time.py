"""A feed goes on in time for its crop: not when that is over, and ahead of what is picked in winter."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.choices import PLAN, whole_site
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.needs.breaches import breaches
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
COLD = {"annual_mean": "11 degC", "last_frost": "04-20", "first_frost": "11-05"}
FEED = {"feed": {"nitrogen": "5 g/m2"}}


@pytest.fixture
def fed(site_of: SiteOf, bed: Describe) -> Callable[..., Site]:
    """Give a function that returns a site of one bed that is fed, of one way."""

    def build(way: dict[str, Any], harvest: str | None, start: str = "2027-03-01", **more: Any) -> Site:
        place = bed(FEED, area=10, **({"harvest_from": harvest} if harvest else {}), **more.pop("place", {}))
        return site_of([place], [way], start=start, horizon="2 years", climate=COLD, **more)

    return build


def comes(day: str, material: str = "comfrey") -> dict[str, Any]:
    """Return fresh leaf that comes each year on a day, and does not keep."""
    return {
        "name": "leaf",
        "have": {"material": material, "amount": "500 kg", "per_year": True, "comes": day},
    }


MEAL = {"name": "meal", "buy": {"material": "feather meal", "price": "2 EUR/kg"}}


def row_of(site: Site) -> Option:
    """Return the row of the way."""
    return options(site).options[0]


@pytest.mark.parametrize(
    ("harvest", "day", "in_time"),
    [
        ("07-01", "05-20", True),
        ("07-01", "07-25", True),  # it is picked, and summer
        ("07-01", "08-25", True),  # within eight weeks of the first harvest
        ("07-01", "08-27", False),
        ("07-01", "10-30", False),
        ("05-10", "07-31", True),
        ("05-10", "08-01", False),  # the eight weeks are over, and summer is
        ("10-01", "10-30", True),
        (None, "10-30", True),
    ],
)
def test_what_comes_when_the_crop_is_over_feeds_nothing(
    fed: Callable[..., Site], harvest: str | None, day: str, in_time: bool
) -> None:
    """Leaf of late autumn met the feed of carrots that were eaten in July."""
    row = row_of(fed(comes(day), harvest))
    assert row.feasible is in_time
    assert (row.decision.ceiling == "crop_over") is not in_time
    lifted = {"place": {"limits": {"lift": ["crop_over"]}}}
    assert row_of(fed(comes(day), harvest, **lifted)).feasible


def test_round_trees_what_grows_stays(fed: Callable[..., Site]) -> None:
    """A tree takes up what comes after its harvest."""
    assert row_of(fed(comes("10-30"), "07-01", place={"kind": "tree"})).feasible


def test_a_plan_that_feeds_too_late_is_told_so(fed: Callable[..., Site]) -> None:
    """It is followed as written, warned of, and meets nothing."""
    line = {"place": "bed", "need": "feed", "way": "leaf", "amount": "100 kg", "date": "2027-10-30"}
    site = fed(comes("10-30"), "07-01", plan=[line])
    whole = next(one for one in whole_site(options(site)) if one.title == PLAN)
    [dose] = whole.together.all_doses
    assert dose.day == date(2027, 10, 30)
    assert whole.met == ()
    [told] = breaches(site, [dose])
    assert "what feeds a crop on 2027-10-30 waits until 2028-02-01" in told


@pytest.mark.parametrize(
    ("start", "harvest", "first"),
    [
        ("2027-08-01", "10-10", "2027-08-01"),  # a tunnel of winter salads
        ("2027-09-20", "10-10", "2027-09-20"),
        ("2027-11-10", "02-20", "2027-11-10"),  # sown in autumn for early spring
        ("2027-11-10", "04-10", "2028-02-01"),  # spring is soon enough
        ("2027-08-01", "07-10", "2028-02-01"),
        ("2027-03-01", "10-10", "2027-03-01"),
        ("2027-10-20", "10-10", "2028-02-01"),  # it is picked: the next one
        ("2027-08-01", None, "2028-02-01"),
    ],
)
def test_what_is_picked_in_winter_is_fed_ahead(
    fed: Callable[..., Site], start: str, harvest: str | None, first: str
) -> None:
    """What keeps waits for spring, unless the crop is picked before that: it was fed four months after."""
    row = row_of(fed(MEAL, harvest, start))
    assert row.feasible
    assert row.decision.doses[0].day == date.fromisoformat(first)
    seasons = [dose.day.year for dose in row.decision.every_dose]
    assert seasons == [int(first[:4]), int(first[:4]) + 1][: len(seasons)]


def test_a_typed_day_is_followed_or_warned_of(fed: Callable[..., Site]) -> None:
    """A line without an amount was moved from August to February in silence."""
    line = {"place": "bed", "need": "feed", "way": "meal", "date": "2027-08-20"}
    for harvest, day in (("10-10", date(2027, 8, 20)), ("07-10", None)):
        site = fed(MEAL, harvest, "2027-08-01", plan=[line])
        whole = next(one for one in whole_site(options(site)) if one.title == PLAN)
        assert next((dose.day for dose in whole.together.all_doses), None) == day
        if day is None:
            [part] = whole.together.parts
            assert "the first season fed begins with 2028-02-01" in part.decision.why_not
