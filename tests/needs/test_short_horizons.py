"""A horizon shorter than a growing season: what it holds is fed whole, what lies after it is left, and it is said."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.option import Option
from barrowful.measures.problems import Problem
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
Told = Callable[..., tuple[Problem, ...]]
FEED = {"feed": {"nitrogen": "5 g/m2"}}
FROSTS = {"annual_mean": "12 degC", "last_frost": "04-20", "first_frost": "10-25"}


@pytest.mark.parametrize("horizon", ["1 day", "2 weeks", "6 months"])
def test_a_season_that_has_begun_is_fed_whole(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, horizon: str
) -> None:
    """Half a dose in March feeds no crop: a season's 50 g take as much as with a horizon of a year."""
    feather = buy(material="feather meal")
    whole = row_of(site_of([bed(FEED)], [feather], climate=FROSTS, horizon="1 year"), "feed")
    short = row_of(site_of([bed(FEED)], [feather], climate=FROSTS, horizon=horizon), "feed")
    assert short.feasible
    assert short.loose == pytest.approx(whole.loose)
    # 12 % nitrogen, of which 60 %, in 500 kg/m3
    assert short.loose == pytest.approx(0.05 / 0.12 / 0.6 / 500)


def test_what_comes_after_the_horizon_feeds_nothing(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """A week's lead is longer than a day and shorter than two weeks."""

    def fed(horizon: str) -> Option:
        seller = buy(material="feather meal", lead="1 week")
        return row_of(site_of([bed(FEED)], [seller], climate=FROSTS, horizon=horizon), "feed")

    late = fed("1 day")
    assert (late.feasible, late.decision.every_dose) == (False, ())
    assert late.why_not == "brings nothing before the horizon ends on 2027-03-02"
    in_time = fed("2 weeks")
    assert [dose.day for dose in in_time.decision.every_dose] == [date(2027, 3, 8)]


def test_lots_after_the_horizon_are_left(site_of: SiteOf, bed: Describe, row_of: RowOf) -> None:
    """Of leaf cut from May on what is cut after the horizon, though in its season, is not spread."""
    patch = {"name": "patch", "grow": {"plant": "comfrey", "area": "40 m2", "planted": "2020-04-01"}}
    for horizon in ("3 months", "5 months"):
        site = site_of([bed(FEED)], [patch], climate=FROSTS, horizon=horizon)
        days = [dose.day for dose in row_of(site, "feed").decision.every_dose]
        assert days == [day for day in days if day <= site.end]
        assert bool(days) == (horizon == "5 months")


@pytest.mark.parametrize(("horizon", "fed"), [("1 day", False), ("12 weeks", False), ("4 months", True)])
def test_a_season_that_begins_after_the_horizon_is_not_fed(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, horizon: str, fed: bool
) -> None:
    """From November it is fed in spring, from the first of February on: before that there is nothing to do."""
    more = {"start": "2027-11-01", "climate": FROSTS, "horizon": horizon}
    site = site_of([bed(FEED)], [buy(material="feather meal")], **more)
    row = row_of(site, "feed")
    assert row.feasible is fed
    assert [dose.day for dose in row.decision.every_dose] == ([date(2028, 2, 1)] if fed else [])
    begins = f"the season to be fed begins on 2028-02-01, after the horizon ends on {site.end}"
    assert row.why_not == ("" if fed else begins)


@pytest.mark.parametrize(
    ("horizon", "climate", "ends"),
    [
        ("1 day", FROSTS, "2027-10-24"),
        ("7 months", FROSTS, "2027-10-24"),
        ("8 months", FROSTS, ""),
        ("11 months", {"annual_mean": "12 degC"}, "2028-02-29"),
        ("1 year", {"annual_mean": "12 degC"}, ""),
    ],
)
def test_a_horizon_within_a_season_is_warned_of(
    bed: Describe, buy: Describe, warnings_of: Told, horizon: str, climate: dict[str, str], ends: str
) -> None:
    """It ends before the frost, or before a year is over where there is none; nothing is said where nothing is fed."""
    more = {"climate": climate, "horizon": horizon}
    told = [one for one in warnings_of([bed(FEED)], [buy()], **more) if one.code == "short-horizon"]
    assert [f"the growing season does on {ends};" in one.message for one in told] == ([True] if ends else [])
    other = warnings_of([bed({"dress": {"depth": "1 cm"}})], [buy()], **more)
    assert "short-horizon" not in {one.code for one in other}
