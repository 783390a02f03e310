"""The course over time: the equations stepped through, the history replayed, soil tests, mulch, chip."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest
from draws import draws
from hypothesis import example, given
from hypothesis import strategies as st

from barrowful.answers.course import Course, CourseRequest
from barrowful.answers.course import course as courses
from barrowful.answers.lasting import lasting
from barrowful.answers.option import Option
from barrowful.answers.upkeep import upkeep
from barrowful.measures.problems import CannotMeet, WrongUse
from barrowful.site.records import Site
from barrowful.soil.pools import CarbonPool
from barrowful.soil.trajectory import Point
from barrowful.tables.course import COURSE, course_points

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
START, AREA = date(2027, 3, 1), 10.0
#: Years in which a settled layer halves at 15 degC, as the tests' stuff states it.
HALF = {"dark stuff": 2.0, "chipped wood": 2.0, "yellow stalks": 0.5}
STUFFS = sorted(HALF)


def course(site: Site, **asked: Any) -> Course:
    """Return the one course of a site."""
    found = courses(site, CourseRequest(**asked))[1]
    assert len(found) == 1
    return found[0]


def planned(day: str, amount: str, way: str = "yard", need: str = "dress") -> dict[str, str]:
    """Return a line of the plan."""
    return {"place": "bed", "need": need, "way": way, "amount": amount, "date": day}


@st.composite
def programmes(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a soil, a climate, a stuff, and a dose with its day."""
    return {
        "stuff": draw(st.sampled_from(["dark stuff", "chipped wood", "yellow stalks"])),
        "temperature": draw(st.integers(5, 25)),
        "clay": draw(st.integers(5, 45)),
        "day": draw(st.integers(0, 900)),
        "litres": draw(st.integers(1, 30)) * 20,
        "dug": draw(st.booleans()),
    }


@draws(25)
@given(programmes())
def test_points_are_the_equations_stepped_through(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, drawn: dict[str, Any]
) -> None:
    """Fresh carbon, humus and soil organic matter of each year are what the equations give step by step."""
    day = START + timedelta(drawn["day"])
    site = site_of(
        [bed({"dress": {"depth": "1 cm", "dug": drawn["dug"]}}, area=AREA)],
        [buy(material=drawn["stuff"])],
        plan=[planned(f"{day}", f"{drawn['litres']} L")],
        climate={"annual_mean": f"{drawn['temperature']} degC"},
        soil={"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": f"{drawn['clay']} %"},
    )
    model = apart.model(drawn["stuff"], drawn["temperature"], drawn["clay"] / 100, dug=drawn["dug"])
    carbon = apart.carbon(drawn["stuff"], drawn["litres"] / 1000)
    for point in course(site, years=8).points:
        fresh, humus = model.stepped([(day, carbon)], point.day)
        assert point.fresh == pytest.approx(fresh, rel=1e-5, abs=1e-9)
        assert point.humus[1] == pytest.approx(humus, rel=1e-5, abs=1e-9)
        counted = (humus + (fresh if model.fresh_counts else 0.0)) if drawn["dug"] else 0.0
        assert point.matter is not None
        assert point.matter[1] == pytest.approx(0.02 + 2 * counted / AREA / 260, rel=1e-6)


def test_low_and_high_pair_the_ends(site_of: SiteOf, bed: Describe, buy: Describe, apart: Any) -> None:
    """Low is little humus formed, little of it slow, and all lost fast; high the reverse.

    The rates of humus go from 0.25 to 0.15 and from 0.020 to 0.008 a year, the slow share from 15 to 40 %;
    the fresh rate of compost dug in from its high end to its low one.
    """
    ranged = {
        **apart.stuff["dark stuff"],
        "humus": {"low": "50 %", "likely": "70 %", "high": "82 %"},
        "decay": {"low": "0.5 /year", "likely": "0.8 /year", "high": "1.2 /year"},
    }
    site = site_of(
        [bed({"dress": {"depth": "1 cm", "dug": True}})],
        [buy()],
        plan=[planned(f"{START}", "200 L")],
        materials={"dark stuff": ranged},
    )
    for point in course(site, years=10).points:
        assert point.matter is not None
        for index, (a, b, c, share, slow) in enumerate(
            ((1.2, 0.25, 0.020, 0.5, 0.15), (0.8, 0.20, 0.014, 0.7, 0.25), (0.5, 0.15, 0.008, 0.82, 0.40))
        ):
            model = replace(apart.model("dark stuff"), a=a, b=b, c=c, h=share, slow=slow)
            held = apart.carbon("dark stuff", 0.2) / AREA * model.counted(apart.years(START, point.day))
            assert point.matter[index] == pytest.approx(0.02 + 2 * held / 260, rel=1e-6)
        low, likely, high = point.matter
        assert low <= likely <= high


def test_mulch_is_not_counted_in_the_soil(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Chip on top leaves soil organic matter where it was; what it would be if mixed in stands beside."""
    site = site_of([bed({"cover": {"depth": "8 cm", "keep": "10 %"}})], [buy(material="chipped wood")])
    points = course(site, years=4).points
    assert all(point.matter is not None and point.matter[1] == pytest.approx(0.02) for point in points)
    assert all(point.if_mixed is not None and point.if_mixed > 0.02 for point in points)


@pytest.mark.parametrize(("temperature", "years"), [(15, 2.0), (10, 2.0 / 0.5789), (20, 2.0 / 1.4862)])
def test_mulch_halves_in_its_half_time(
    site_of: SiteOf, bed: Describe, buy: Describe, temperature: int, years: float
) -> None:
    """Chip that halves in two years at 15 degC takes longer where it is cool and less where it is warm."""
    site = site_of(
        [bed({"cover": {"depth": "10 cm", "keep": "1 %"}})],
        [buy(material="chipped wood")],
        climate={"annual_mean": f"{temperature} degC"},
    )
    for point in course(site, monthly=True).points:
        age = (point.day - START).days / 365.25
        assert point.mulch == pytest.approx(0.1 * 0.5 ** (age / years), rel=1e-3)


def test_a_cover_is_kept_up(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Topped up at 60 % of its depth, a cover never lies below that nor above what is wanted."""
    site = site_of(
        [bed({"cover": {"depth": "10 cm", "keep": "60 %"}})],
        [buy(material="chipped wood")],
        horizon="8 years",
    )
    points = course(site, monthly=True).points
    assert min(point.mulch for point in points) >= 0.06 * (1 - 5e-3)
    assert max(point.mulch for point in points) <= 0.10 * (1 + 5e-3)
    step = 2 * 0.7369655941662062
    first = points[0].next_top_up
    assert first is not None
    assert (first - START).days / 365.25 == pytest.approx(step, abs=0.003)


@draws(60)
@given(st.integers(1, 9999), st.sampled_from(STUFFS), st.integers(1, 20))
def test_a_top_up_brings_back_the_whole_layer(
    site_of: SiteOf,
    bed: Describe,
    buy: Describe,
    row_of: RowOf,
    apart: Any,
    share: int,
    stuff: str,
    years: int,
) -> None:
    """Put on where the layer has fallen to its share, not a day too late, a top-up makes good what is gone."""
    keep, half = share / 10_000, HALF[stuff]
    cover = bed({"cover": {"depth": "10 cm", "keep": f"{100 * keep:.2f} %"}}, area=AREA)
    lifted = {"lift": ["cover_depth"]}
    site = site_of([cover], [buy(material=stuff)], horizon=f"{years} years", limits=lifted)
    settled, before, layer = apart.figure(stuff, "in_place"), START, 0.1
    for dose in row_of(site, "cover").decision.later:
        days, loose = (dose.day - before).days, dose.loose
        assert layer * 0.5 ** (days / 365.25 / half) <= 0.1 * keep * (1 + 1e-9)
        assert layer * 0.5 ** ((days - 1) / 365.25 / half) >= 0.1 * keep * (1 - 1e-9)
        layer, before = layer * 0.5 ** (days / 365.25 / half) + loose / AREA * settled, dose.day
        assert layer == pytest.approx(0.1)


@pytest.mark.parametrize("keep", ["0 %", "100 %"])
def test_a_cover_kept_at_either_end(site_of: SiteOf, bed: Describe, buy: Describe, keep: str) -> None:
    """A cover that is never topped up, or would be at once, still has a course."""
    site = site_of([bed({"cover": {"depth": "10 cm", "keep": keep}})], [buy(material="chipped wood")])
    points = course(site).points
    assert points[0].mulch == pytest.approx(0.1)
    assert [point.mulch for point in points] == sorted((point.mulch for point in points), reverse=True)


@pytest.mark.parametrize("keep", ["0 %", "60 %", "100 %"])
def test_a_cover_in_frost_all_year_lasts(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, keep: str
) -> None:
    """Where nothing rots a layer lies as it was put, whatever share of it is to be kept."""
    cover = bed({"cover": {"depth": "10 cm", "keep": keep}})
    site = site_of([cover], [buy(material="chipped wood")], climate={"annual_mean": "-30 degC"})
    assert [point.mulch for point in course(site).points] == [pytest.approx(0.1)] * 5
    kept = upkeep(site, row_of(site, "cover"))
    assert kept is not None
    assert (kept.days, kept.loose) == ((), 0)


def test_a_cover_of_stuff_whose_life_nobody_knows(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A line of the plan may cover a bed with such stuff; its course shows no mulch and no top-up."""
    stuff = {"class": "kitchen", "density": "500 kg/m3", "moisture": "60 %", "carbon": "40 %", "nitrogen": "2 %",
             "decay": "2 /year", "humus": "30 %"}  # fmt: skip
    site = site_of(
        [bed({"cover": {"depth": "10 cm"}})],
        [buy(material="peel")],
        materials={"peel": stuff},
        plan=[planned("2027-03-01", "1 m3", need="cover")],
    )
    points = course(site).points
    assert [(point.mulch, point.next_top_up) for point in points] == [(0.0, None)] * 5
    assert points[0].fresh == pytest.approx(1 * 500 * 0.4 * 0.4)
    site = replace(site, places=(replace(site.places[0], layer_now=0.03),))
    assert [point.mulch for point in course(site).points] == [0.03, 0, 0, 0, 0]


def test_top_ups_are_of_the_mulch(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Chip that comes after a dressing of compost is topped up with chip, when both have worn to 60 %.

    By hand: 1 cm of compost is 0.88 once settled, and the chip is what it lacks of 10 cm on its day.
    """
    ways = [
        buy(price="90 EUR/m3"),
        buy(name="crew", material="chipped wood", price="0 EUR/m3", lead="6 weeks"),
    ]
    stuff = {
        "dark stuff": {"like": "green compost", "lasts": "1 year"},
        "chipped wood": {"like": "arborist chip", "lasts": "3 years"},
    }
    plan = [
        {"place": "bed", "need": "dress", "way": "yard"},
        {"place": "bed", "need": "cover", "way": "crew"},
    ]
    needs = [{"cover": {"depth": "10 cm", "keep": "60 %"}}, {"dress": {"depth": "1 cm"}}]
    site = site_of([bed(*needs)], ways, plan=plan, materials=stuff)
    chipped = START + timedelta(weeks=6)
    first = course(site, monthly=True).points[2].next_top_up
    assert first is not None
    under = 0.88 * 0.5 ** (42 / 365.25)
    lies = [
        under * 0.5 ** (days / 365.25) + (10 - under) * 0.5 ** (days / 365.25 / 3)
        for days in ((first - chipped).days - 1, (first - chipped).days)
    ]
    assert lies[0] > 6 >= lies[1] - 1e-6


def test_a_dressing_beside_a_cover_has_a_course_whatever_its_stuff(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Kitchen waste, of which nobody knows how long it lasts, may dress a bed that is covered with chip."""
    ways = [buy(material="kitchen waste"), buy(name="crew", material="chipped wood", lead="6 weeks")]
    plan = [
        {"place": "bed", "need": "dress", "way": "yard"},
        {"place": "bed", "need": "cover", "way": "crew"},
    ]
    site = site_of(
        [bed({"cover": {"depth": "10 cm"}}, {"dress": {"dose": "1 kg/m2"}})],
        ways,
        plan=plan,
        materials={"chipped wood": {"like": "arborist chip"}, "kitchen waste": {"density": "500 kg/m3"}},
    )
    assert course(site).points


def test_a_stated_layer_wears_away_too(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Mulch that lay there at the start and what is put on it halve together."""
    site = site_of(
        [bed({"cover": {"depth": "10 cm", "keep": "41 %"}}, layer_now="4 cm")],
        [buy(material="chipped wood")],
        horizon="2 years",
    )
    for point in course(site).points:
        age = (point.day - START).days / 365.25
        assert point.mulch == pytest.approx(0.1 * 0.5 ** (age / 2), rel=1e-6)


def same(one: Point, other: Point) -> bool:
    """Say whether two points hold the same."""
    assert one.matter is not None
    assert other.matter is not None
    pairs = [(one.mulch, other.mulch), (one.fresh, other.fresh), *zip(one.humus, other.humus, strict=True)]
    pairs += [*list(zip(one.matter, other.matter, strict=True)), (one.nitrogen, other.nitrogen)]
    return one.day == other.day and all(a == pytest.approx(b, rel=1e-9, abs=1e-12) for a, b in pairs)


@draws(25)
@given(programmes())
def test_done_is_as_planned(site_of: SiteOf, bed: Describe, buy: Describe, drawn: dict[str, Any]) -> None:
    """A dose that stands in the history gives the course it gave as a plan."""
    day = START + timedelta(1 + drawn["day"])
    place = bed({"dress": {"depth": "1 cm", "dug": drawn["dug"]}})
    climate = {"annual_mean": f"{drawn['temperature']} degC"}
    before = site_of(
        [place],
        [buy(material=drawn["stuff"])],
        plan=[planned(f"{day}", f"{drawn['litres']} L")],
        climate=climate,
    )
    entry = {
        "date": f"{day}",
        "place": "bed",
        "material": drawn["stuff"],
        "amount": f"{drawn['litres']} L",
        "dug": drawn["dug"],
    }
    after = site_of([place], [], history=[entry], climate=climate)
    assert all(map(same, course(before, years=5).points, course(after, years=5).points))


def test_the_next_season_starts_where_the_last_one_ended(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """What was planned in spring and done is, a year on, a past that ends at the same soil organic matter."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2027-02-01"}
    words = {"organic_matter": "3 %", "depth": "15 cm", "by": "2029-03-01"}
    first = site_of(
        [bed({"raise": words})], [buy()], soil=soil, plan=[planned("2027-03-20", "100 L", need="raise")]
    )
    entry = {"date": "2027-03-20", "place": "bed", "material": "dark stuff", "amount": "100 L", "dug": True}
    later = site_of([bed({"raise": words})], [], soil=soil, history=[entry], start="2028-03-01")
    then = {point.day: point.matter for point in course(first).points}
    for point in course(later).points:
        if point.day in then:
            assert point.matter == pytest.approx(then[point.day])
    assert date(2028, 3, 1) in then


def test_a_test_restarts_the_reckoning(site_of: SiteOf, bed: Describe, apart: Any) -> None:
    """After a soil test only what was dug in since is added to what it found."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2024-03-01"}
    history = [
        {"date": "2024-04-01", "place": "bed", "material": "dark stuff", "amount": "200 L", "dug": True},
        {"date": "2026-03-01", "place": "bed", "organic_matter": "2.7 %"},
        {"date": "2026-04-01", "place": "bed", "material": "dark stuff", "amount": "100 L", "dug": True},
    ]
    site = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [], soil=soil, history=history)
    model = apart.model("dark stuff")
    for point in course(site, from_history=True).points:
        assert point.matter is not None
        base, pulses = (
            (0.02, [(date(2024, 4, 1), 0.2)])
            if point.day < date(2026, 3, 1)
            else (0.027, [(date(2026, 4, 1), 0.1)])
        )
        held = model.held([(on, apart.carbon("dark stuff", loose) / AREA) for on, loose in pulses], point.day)
        assert point.matter[1] == pytest.approx(base + 2 * held / 260, rel=1e-6)


@draws(40)
@given(st.integers(-2000, 4000), st.sampled_from(["1 day", "5 weeks", "4 years"]), st.booleans())
def test_a_history_of_any_day_has_a_course(
    site_of: SiteOf, bed: Describe, days: int, horizon: str, monthly: bool
) -> None:
    """The course begins with the first entry, and never after the start: an entry beyond the horizon too."""
    day = START + timedelta(days)
    done = [{"date": f"{day}", "place": "bed", "material": "dark stuff", "amount": "300 L", "dug": "true"}]
    site = site_of([bed()], [], history=done, horizon=horizon)
    points = course(site, from_history=True, monthly=monthly).points
    assert points[0].day == min(day, START)
    assert all(point.day <= site.end for point in points)
    assert all(point.fresh == 0 for point in points if point.day < day)


@draws(60)
@example([("a", 0, True)], set())
@example([("a", 0, True), ("a", 0, True), ("b", 0, True)], set())
@given(
    st.lists(st.tuples(st.sampled_from("abc"), st.integers(-900, 30), st.booleans()), max_size=6),
    st.sets(st.sampled_from("abc")),
)
def test_what_an_undated_soil_leaves_out_is_said(
    site_of: SiteOf, bed: Describe, entries: list[tuple[str, int, bool]], dated: set[str]
) -> None:
    """Stuff dug in by the start on ground without a dated test is named once, most entries first.

    What went on the first place on the day of the start is what its plan puts on.
    """
    done = [
        {
            "date": f"{START + timedelta(day)}",
            "place": name,
            "material": "dark stuff",
            "amount": "300 L",
            "dug": dug,
        }
        for name, day, dug in entries
    ]
    tested = {"tested": "2024-01-01"}
    places = [bed(name=name, **({"soil": tested} if name in dated else {})) for name in "abc"]
    plan = [{"place": "a", "need": "dress", "way": "yard"}]
    places[0] |= {"needs": [{"dress": {"depth": "1 cm"}}], "limits": {"lift": ["yearly_depth"]}}
    way = {"name": "yard", "have": {"material": "dark stuff", "amount": "1 m3"}}
    said, _ = courses(site_of(places, [way], history=done, plan=plan), CourseRequest())
    before = [entry for entry in entries if entry[:2] != ("a", 0)]
    unseen = Counter(name for name, day, dug in before if dug and day <= 0 and name not in dated)
    assert len(said.warnings) == bool(unseen)
    for warning in said.warnings:
        worst = warning[0]
        assert unseen[worst] == max(unseen.values())
        assert f"({unseen[worst]} entr" in warning
        assert (f"(and in {len(unseen) - 1} more)" in warning) == (len(unseen) > 1)


def test_an_undated_soil_stays_flat_and_says_so(site_of: SiteOf, bed: Describe) -> None:
    """Compost dug in before the start leaves organic matter where it is, with a word; a test's date lets it count."""
    done = [{"date": "2025-05-01", "place": "bed", "material": "dark stuff", "amount": "300 L", "dug": True}]
    said, [flat] = courses(site_of([bed()], [], history=done), CourseRequest())
    assert {point.matter for point in flat.points} == {(0.02, 0.02, 0.02)}
    [warning] = said.warnings
    assert warning == (
        "bed: the soil has no date, so it is taken as of 2027-03-01 and does not rise by what was dug in before"
        ' (1 entry of the history); give the date of its test under "soil:", e.g. tested: 2026-09-10'
    )
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "tested": "2025-01-01"}
    said, [risen] = courses(site_of([bed()], [], history=done, soil=soil), CourseRequest())
    assert risen.points[0].matter is not None
    assert risen.points[0].matter[1] > 0.02
    assert said.warnings == []


def test_a_soil_without_organic_matter_is_followed(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A test of 0 % is a test: what is put on shows in it as in a soil that held next to nothing."""
    gained = []
    for tested in ("0 %", "0.001 %"):
        soil = {"organic_matter": tested, "bulk_density": "1.3 g/cm3"}
        need = {"raise": {"organic_matter": "1 %", "depth": "20 cm", "by": "2028-03-01"}}
        points = course(site_of([bed(need)], [buy()], soil=soil)).points
        assert all(point.matter is not None for point in points)
        gained.append([point.matter[1] - points[0].matter[1] for point in points if point.matter])
    assert gained[0] == pytest.approx(gained[1], abs=1e-4)
    assert max(gained[0]) > 0.005


@pytest.mark.parametrize("monthly", [True, False])
def test_what_was_tested_is_shown_beside_what_is_reckoned(
    site_of: SiteOf, bed: Describe, monthly: bool
) -> None:
    """A test of any day is seen in the course beside what was reckoned for it before it was known."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2024-03-01"}
    history = [
        {"date": "2024-04-01", "place": "bed", "material": "dark stuff", "amount": "200 L", "dug": True},
        {"date": "2026-05-17", "place": "bed", "organic_matter": "2.7 %"},
    ]
    site = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [], soil=soil, history=history)
    found = course(site, from_history=True, monthly=monthly)
    rows = COURSE.table(course_points([found])).rows
    seen = [row for row in rows if row["tested_percent"] is not None]
    assert [row["tested_percent"] for row in seen] == [pytest.approx(2.7)]


def test_a_test_of_a_day_shown_stands_beside_what_was_reckoned(site_of: SiteOf, bed: Describe) -> None:
    """On the day of a test both are there: what was found, and what had been reckoned before it was known."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2024-03-01"}
    dose = {"date": "2024-04-01", "place": "bed", "material": "dark stuff", "amount": "200 L", "dug": True}
    test = {"date": "2026-04-01", "place": "bed", "organic_matter": "2.2 %"}
    site = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [], soil=soil, history=[dose, test])
    bare = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [], soil=soil, history=[dose])
    reckoned = {point.day: point.matter for point in course(bare, from_history=True).points}[date(2026, 4, 1)]
    assert reckoned is not None
    row = next(
        row
        for row in COURSE.table(course_points([course(site, from_history=True)])).rows
        if row["date"] == date(2026, 4, 1)
    )
    assert row["tested_percent"] == pytest.approx(2.2)
    shown = [value for value in row.values() if isinstance(value, float)]
    assert any(value == pytest.approx(100 * reckoned[1], rel=1e-6) for value in shown)


@pytest.mark.parametrize("stuff", ["dark stuff", "chipped wood"])
def test_a_dose_put_on_once_declines(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, stuff: str
) -> None:
    """Dug in once, compost is at its best on the day, chip after some years; then both only go down.

    After forty years hardly more than the slow humus is left: a tenth of the compost's best, and somewhat
    over a quarter of the chip's.
    """
    lifted = {"lift": ["yearly_depth", "suits"]}
    site = site_of([bed({"dress": {"depth": "3 cm", "dug": True}})], [buy(material=stuff)], limits=lifted)
    gains = [point.matter[1] for point in course(site, years=40).points if point.matter]
    best = gains.index(max(gains))
    assert best == 0 if stuff == "dark stuff" else 2 <= best <= 7
    assert all(later < earlier for earlier, later in pairwise(gains[best:]))
    model, days = apart.model(stuff), [point.day for point in course(site, years=40).points]
    end, peak = (model.counted(apart.years(days[0], days[index])) for index in (-1, best))
    assert (gains[-1] - 0.02) / (max(gains) - 0.02) == pytest.approx(end / peak, rel=1e-6)
    assert end / peak < (0.11 if stuff == "dark stuff" else 0.29)


def test_the_decline_is_said_in_words(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Where a raise wears off within the years shown, a sentence says so."""
    words = {"organic_matter": "3.5 %", "depth": "15 cm", "by": "2027-09-01"}
    found = course(site_of([bed({"raise": words})], [buy()], limits={"lift": ["yearly_depth"]}), years=10)
    assert any("does not last" in sentence for sentence in lasting([found]))


def test_a_small_decline_is_told_in_figures_that_differ(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Where a peak and the end read alike with one decimal they have two, however many doses there were."""
    words = {"organic_matter": "2.4 %", "depth": "15 cm", "by": "2030-02-01"}
    site = site_of([bed({"raise": words})], [buy()], limits={"lift": ["yearly_depth"]}, horizon="4 years")
    [told] = [sentence for sentence in lasting([course(site)]) if "does not last" in sentence]
    peak, end = re.findall(r"[0-9.]+%", told)
    assert peak != end
    assert "once" not in told


@pytest.mark.parametrize("tested", ["2026-10-05", "2027-10-05"])
def test_what_a_test_before_the_start_found_is_said(site_of: SiteOf, bed: Describe, tested: str) -> None:
    """A grower in the second season is told what was reckoned for the test and what it found.

    Rows that show the test need no sentence. What was dug in before it is in what it found.
    """
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2024-10-01"}
    history = [
        {"date": "2025-03-15", "place": "bed", "material": "dark stuff", "amount": "0.4 m3", "dug": True},
        {"date": tested, "place": "bed", "organic_matter": "2.5 %"},
    ]
    site = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [], soil=soil, history=history)
    found, shown = course(site), course(site, from_history=True)
    reckoned = next(point.expected for point in shown.points if point.expected is not None)
    told = [sentence for sentence in lasting([found]) if "found 2.50%" in sentence]
    assert [f"{reckoned:.2%} was reckoned" in sentence for sentence in told] == [True] * (tested < f"{START}")
    assert not any("found 2.50%" in sentence for sentence in lasting([shown]))
    assert any("counts as the soil's own" in sentence for sentence in lasting([found]))


def test_of_a_test_that_saw_nothing_dug_in_nothing_is_said(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Nothing was reckoned for it but what the test before had found."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2024-10-01"}
    history = [{"date": "2026-10-05", "place": "bed", "organic_matter": "2.5 %"}]
    site = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [buy()], soil=soil, history=history)
    assert not any("soil test" in sentence for sentence in lasting([course(site)]))


def test_of_fills_alone_it_is_said_that_there_is_nothing_to_follow(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """What fills a bed is put on, and is the ground that a course begins with."""
    frame = bed({"fill": {"depth": "20 cm", "mix": {"soil": "100 %"}}})
    site = site_of([frame], [buy("soil", "topsoil", "20 EUR/m3")])
    with pytest.raises(CannotMeet, match="all that is put on fills places"):
        courses(site, CourseRequest())
    with pytest.raises(CannotMeet, match="no way serves a need"):
        courses(site_of([frame], []), CourseRequest())


@pytest.mark.parametrize(("temperature", "low", "high"), [(15, 1.5, 2.5), (16, 1.5, 2.5), (10, 2.5, 6.0)])
def test_chip_is_compost_like_in_about_two_years(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, temperature: int, low: float, high: float
) -> None:
    """Common practice, no source: chip is half gone in 1.5 to 2.5 years at 15 and 16 degC, later at 10."""
    climate = {"annual_mean": f"{temperature} degC"}
    site = site_of(
        [bed({"cover": {"depth": "10 cm", "keep": "1 %"}})], [buy(material="arborist chip")], climate=climate
    )
    row = row_of(site, "cover")
    assert row.outcome.cover.compost_like_on is not None
    years = (row.outcome.cover.compost_like_on - START).days / 365.25
    assert low <= years <= high
    points = course(site, monthly=True, years=7).points
    gone = next(point.day for point in points if point.fresh <= points[0].fresh / 2)
    assert abs((gone - row.outcome.cover.compost_like_on).days) <= 31


def test_seasons_are_averaged_month_by_month(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any
) -> None:
    """The rate is the mean over the months, which is more than the rate of the mean where seasons differ."""
    months = [2, 4, 7, 10, 14, 17, 19, 19, 16, 12, 7, 5]
    site = site_of(
        [bed({"dress": {"depth": "2 cm", "dug": True}})],
        [buy()],
        climate={"monthly_mean": [f"{one} degC" for one in months]},
    )
    warmth = sum(map(apart.warmth, months)) / 12
    assert warmth > apart.warmth(sum(months) / 12)
    base = apart.model("dark stuff")
    model = replace(base, a=base.a * warmth, b=base.b * warmth, c=base.c * warmth)
    for point in course(site).points:
        held = apart.carbon("dark stuff", 0.2) / AREA * model.counted(apart.years(START, point.day))
        assert point.matter is not None
        assert point.matter[1] == pytest.approx(0.02 + 2 * held / 260, rel=1e-6)


@pytest.mark.parametrize(
    ("balance", "factor"), [("0 mm", 1.0), ("-600 mm", 0.6063), ("-200 mm", 0.9487), ("200 mm", 1.0193)]
)
def test_dry_ground_decays_slower(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, balance: str, factor: float
) -> None:
    """The moisture factor of AMG as printed: 0.6063 at 600 mm short, 1 where rain equals evaporation."""
    climate = {"annual_mean": "15 degC", "rain_less_evaporation": balance}
    row = row_of(
        site_of([bed({"cover": {"depth": "10 cm"}})], [buy(material="chipped wood")], climate=climate),
        "cover",
    )
    assert row.outcome.cover.compost_like_on is not None
    assert (row.outcome.cover.compost_like_on - START).days / 365.25 == pytest.approx(
        1.98042 / factor, rel=3e-3
    )


@pytest.mark.parametrize("words", ["0.8 /year", "0.8/year", "0.8 1/year", "80 %/year"])
def test_a_rate_of_decay_can_be_stated(site_of: SiteOf, words: str) -> None:
    """A rate stated in the file, in any of these ways, is read; the manual's own example is one of them."""
    site = site_of([], [], materials={"thing": {"like": "green compost", "decay": words}})
    assert site.materials["thing"]["decay"] == pytest.approx(0.8)


@draws(60)
@given(
    st.lists(
        st.tuples(st.integers(-1500, 1400), st.sampled_from(STUFFS), st.integers(1, 12), st.booleans()),
        min_size=1,
        max_size=14,
    )
)
def test_many_doses_are_added_up(
    site_of: SiteOf, bed: Describe, apart: Any, doses: list[tuple[int, str, int, bool]]
) -> None:
    """Whatever was put on when, a point holds the sum of what each dose has become by then, in closed form."""
    done = [
        {
            "date": f"{START + timedelta(day)}",
            "place": "bed",
            "material": stuff,
            "depth": f"{depth} mm",
            "dug": dug,
        }
        for day, stuff, depth, dug in doses
    ]
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2020-01-01"}
    site = site_of([bed(area=AREA)], [], history=done, soil=soil)
    for point in course(site, from_history=True, monthly=True).points:
        fresh = humus = counted = mulch = 0.0
        for days, stuff, depth, dug in doses:
            years = apart.years(START + timedelta(days), point.day)
            if years >= 0:
                carbon, model = apart.carbon(stuff, depth / 1000 * AREA), apart.model(stuff, dug=dug)
                parts = model.parts(years)
                fresh, humus = fresh + carbon * parts[0], humus + carbon * parts[1]
                counted += carbon * model.counted(years) if dug else 0
                settled = depth / 1000 * apart.figure(stuff, "in_place")
                mulch += 0 if dug else settled * 0.5 ** (years / HALF[stuff])
        assert point.fresh == pytest.approx(fresh, rel=1e-9, abs=1e-12)
        assert point.humus[1] == pytest.approx(humus, rel=1e-9, abs=1e-12)
        assert point.mulch == pytest.approx(mulch, rel=1e-9, abs=1e-15)
        assert point.matter is not None
        assert point.matter[1] == pytest.approx(0.02 + apart.matter * counted / AREA / 260, rel=1e-9)


def test_a_cover_kept_up_every_day_takes_one_step_a_day(
    site_of: SiteOf, bed: Describe, buy: Describe, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twenty thousand top-ups in sixty years are carried on from day to day, not added up for each point."""
    carry, calls = CarbonPool.carry, [0]

    def count(pool: CarbonPool, day: int) -> None:
        calls[0] += 1
        carry(pool, day)

    monkeypatch.setattr(CarbonPool, "carry", count)
    cover = bed({"cover": {"depth": "5 cm", "keep": "99.9 %"}})
    site = site_of([cover], [buy(material="yellow stalks")], horizon="60 years")
    points = course(site, monthly=True).points
    assert len(points) == 721
    assert all(point.mulch >= 0.0498 for point in points)
    assert 20_000 < calls[0] < 50_000  # all there is, and what came since the start


@pytest.mark.parametrize(
    ("asked", "advice"),
    [
        ({"years": 100, "monthly": True}, "years instead of months or fewer years"),
        (
            {"years": 100, "monthly": True, "every_way": True},
            "one way, years instead of months or fewer years",
        ),
        ({"years": 100}, "fewer years"),
    ],
)
def test_a_course_longer_than_anybody_reads(
    site_of: SiteOf, bed: Describe, buy: Describe, monkeypatch: pytest.MonkeyPatch, asked: Any, advice: str
) -> None:
    """One line more than the most is refused before anything is followed, with what makes it shorter."""
    site = site_of([bed({"dress": {"depth": "1 cm"}}, name=name) for name in "abc"], [buy()])
    lines = 3 * (1 + asked["years"] * (12 if asked.get("monthly") else 1))
    by_years = "MOST_YEARLY_LINES" if asked == {"years": 100} else "MOST_LINES"
    monkeypatch.setattr(f"barrowful.answers.course.{by_years}", lines)
    assert sum(len(one.points) for one in courses(site, CourseRequest(**asked))[1]) == lines
    monkeypatch.setattr(f"barrowful.answers.course.{by_years}", lines - 1)
    monkeypatch.setattr("barrowful.answers.course.follow", pytest.fail)
    with pytest.raises(WrongUse) as wrong:
        courses(site, CourseRequest(**asked))
    assert str(wrong.value) == (f"this course has {lines:,} lines, more than {lines - 1:,}; ask for {advice}")


def test_lime_dug_in_calls_for_no_second_opinion(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Other models follow what carbon is dug in: of ground limestone there is none."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "ph": 5.6, "clay": "20 %"}
    lime = buy("lime", "ground limestone", "1 EUR/kg")
    assert course(site_of([bed({"lime": {"ph": 6.5}})], [lime], soil=soil)).others == {}
    dressed = site_of([bed({"dress": {"depth": "1 cm", "dug": True}})], [buy()], soil=soil)
    assert "barrowful" in course(dressed).others


@pytest.mark.parametrize("beside", [{}, {"cover": {"depth": "4 cm"}}])
def test_what_a_fill_feeds_is_in_it(
    site_of: SiteOf, bed: Describe, buy: Describe, beside: dict[str, Any]
) -> None:
    """A frame that its own fill feeds has that nitrogen in each season; its carbon is no dose of the soil."""
    frame = bed({"fill": {"depth": "20 cm"}}, {"feed": {"nitrogen": "5 g/m2"}}, *([beside] if beside else []))
    ways = [
        buy("yard", "green compost"),
        buy("soil", "topsoil", "20 EUR/m3"),
        buy("chip", "arborist chip", "10 EUR/m3"),
    ]
    found = course(site_of([frame], ways, soil={"organic_matter": "2 %", "bulk_density": "1.3 g/cm3"}))
    seasons = found.points[:-1]
    assert min(1000 * point.nitrogen for point in seasons) >= 5 * AREA * (1 - 1e-9)
    assert all(point.matter is not None and point.matter[1] == pytest.approx(0.02) for point in seasons)
    assert (found.points[-1].mulch > 0) == bool(beside)
