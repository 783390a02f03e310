"""Depths that may go on: of covers by class, in twelve months of a year or of a new bed, and in whole inches."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.choices import cheapest
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
BedWith = Callable[..., tuple[Site, Option]]
AREA = 10.0
#: Deepest settled cover [mm] by class and flags, as the notes of good practice have it.
DEEPEST = [
    ("wood", (), 100),
    ("wood", ("fine_wood",), 50),
    ("straw", (), 100),
    ("leaves", (), 150),
    ("compost", (), 50),
    ("compost", ("manure_based",), 25),
    ("green", (), 25),
    ("kitchen", ("coffee",), 12),
    ("paper", (), 6),
]


@pytest.mark.parametrize(("class_", "flags", "deepest"), DEEPEST)
def test_the_deepest_cover_by_class(
    bed_with: BedWith, class_: str, flags: tuple[str, ...], deepest: int
) -> None:
    """Half as deep again as may be is met to two thirds; just as deep is met, and so is any depth once lifted."""
    stuff = {"class": class_, "in_place": "50 %", **({"flags": list(flags)} if flags else {})}
    deep, just = ({"cover": {"depth": f"{times * deepest} mm"}} for times in (1.5, 1))
    _, row = bed_with(deep, stuff)
    assert (row.feasible, row.decision.ceiling) == (False, "cover_depth")
    assert row.decision.met_share == pytest.approx(2 / 3)
    assert row.decision.possible == pytest.approx(2 * deepest / 1000 * AREA)
    _, row = bed_with(just, stuff)
    assert (row.feasible, row.decision.ceiling) == (True, "")
    _, row = bed_with(deep, stuff, {"limits": {"lift": ["cover_depth"]}})
    assert row.feasible
    assert row.loose == pytest.approx(1.5 * 2 * deepest / 1000 * AREA)


@pytest.mark.parametrize("class_", ["wood", "straw", "leaves"])
@pytest.mark.parametrize(
    ("site", "ceiling"),
    [
        ({"soil": {"phosphorus_test": "very high"}}, "phosphorus"),
        ({"limits": {"nitrogen": "0 g/m2"}}, "nitrogen"),
    ],
)
def test_covers_of_wood_straw_and_leaves_are_apart(
    bed_with: BedWith, class_: str, site: dict[str, Any], ceiling: str
) -> None:
    """Their phosphorus and nitrogen are bound for years: they cover where no compost may go."""
    cover = {"cover": {"depth": "3 cm"}}
    assert bed_with(cover, {"class": class_}, **site)[1].feasible
    _, row = bed_with(cover, **site)
    assert (row.feasible, row.loose, row.decision.ceiling) == (False, 0, ceiling)


def test_pots_covers_and_fills_have_no_yearly_depth(bed_with: BedWith) -> None:
    """An inch a year is for ground that is fed, not for what lies on top, fills, or grows in a pot."""
    assert bed_with({"dress": {"depth": "5 cm"}}, place={"kind": "pot"})[1].feasible
    assert bed_with({"cover": {"depth": "5 cm"}})[1].feasible
    assert bed_with({"fill": {"depth": "30 cm"}})[1].decision.ceiling == "fill_share"


def test_farms_have_no_yearly_depth_but_one_of_their_own(bed_with: BedWith) -> None:
    """On a farm nitrogen binds, and no inch a year; a depth of the grower's own binds there too."""
    dress, poor = {"dress": {"depth": "5 cm"}}, {"nitrogen": "0.1 %"}
    assert bed_with(dress, poor, limits={"farm": True})[1].feasible
    _, row = bed_with(dress, poor, limits={"farm": True, "depth_per_year": "2 cm"})
    assert (row.decision.ceiling, row.decision.possible) == ("yearly_depth", pytest.approx(0.2))


@pytest.mark.parametrize(
    ("put_on", "possible"), [("2026-03-01", None), ("2026-03-23", 0.15), ("2026-12-01", 0.15)]
)
def test_the_history_of_twelve_months_counts(bed_with: BedWith, put_on: str, possible: float | None) -> None:
    """Of 25 mm a year 10 are on since the 23rd last March: 15 are left in three weeks; what is a year old is not."""
    entry = {"date": put_on, "place": "bed", "material": "thing", "amount": "0.1 m3", "dug": True}
    _, row = bed_with({"dress": {"depth": "25 mm"}}, history=[entry], horizon="3 weeks")
    assert row.decision.possible == (None if possible is None else pytest.approx(possible))
    assert row.feasible == (possible is None)


def test_a_new_bed_is_dressed_deep_but_once(bed_with: BedWith) -> None:
    """A bed that had its first dressing two years ago has no more than an inch a year."""
    entry = {"date": "2025-03-01", "place": "bed", "material": "thing", "amount": "0.5 m3", "dug": True}
    _, row = bed_with({"dress": {"depth": "10 cm"}}, place={"new": True}, history=[entry])
    assert (row.decision.ceiling, row.decision.possible) == ("yearly_depth", pytest.approx(0.25))


def test_needs_of_one_place_share_what_there_is(site_of: SiteOf, bed: Describe, dark: dict[str, Any]) -> None:
    """A dressing of 20 mm leaves 5 mm of the year's inch to a feed, which wants 15: it is not met beside it."""
    needs = [{"dress": {"depth": "2 cm", "dug": True}}, {"feed": {"nitrogen": "8 g/m2"}}]
    site = site_of(
        [bed(*needs, area=AREA)],
        [{"name": "yard", "buy": {"material": "thing", "price": "40 EUR/m3"}}],
        materials={"thing": dark},
        horizon="1 year",
    )
    together = cheapest(options(site), partial=True).together
    assert sum(dose.loose for dose in together.all_doses) == pytest.approx(0.25)
    assert together.unmet["feed", "bed"].ceiling == "yearly_depth"


INCHES = [
    ({"cover": {"depth": "4 in"}}, {"class": "wood"}, 0.1016 * AREA),
    ({"cover": {"depth": "100 mm"}}, {"class": "wood"}, 0.1 * AREA),
    ({"dress": {"depth": "1 in"}}, {}, 0.0254 * AREA),
    ({"dress": {"depth": "25 mm"}}, {}, 0.025 * AREA),
]


@pytest.mark.parametrize(("need", "stuff", "loose"), INCHES)
def test_whole_inches_read_as_round_millimetres(
    bed_with: BedWith, need: dict[str, Any], stuff: dict[str, Any], loose: float
) -> None:
    """Four inches are within 100 mm, one within 25 mm: what is said in either is put on as it is said."""
    _, row = bed_with(need, stuff)
    assert row.feasible
    assert row.loose == pytest.approx(loose)


def test_a_new_bed_takes_four_inches(bed_with: BedWith) -> None:
    """The deep first dressing is 4 inches or 100 mm."""
    assert bed_with({"dress": {"depth": "4 in"}}, place={"new": True})[1].feasible


@pytest.mark.parametrize(
    ("need", "stuff"),
    [({"cover": {"depth": "4.1 in"}}, {"class": "wood"}), ({"dress": {"depth": "1.05 in"}}, {})],
)
def test_a_little_more_than_whole_inches_is_over(
    bed_with: BedWith, need: dict[str, Any], stuff: dict[str, Any]
) -> None:
    """No more than that is let by."""
    assert not bed_with(need, stuff)[1].feasible
