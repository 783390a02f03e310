"""Raising soil organic matter: doses against the equations stepped through and a linear programme."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import numpy
import pytest
from draws import draws
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.optimize import linprog
from supplied import Lots

from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.measures.dates import Step
from barrowful.needs.decision import Decision
from barrowful.needs.raising import Raising
from barrowful.site.needs import Raise
from barrowful.site.records import Site
from barrowful.soil.fading import Fading
from barrowful.supplies.lot import Lot
from barrowful.supplies.stock import Stock

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
START, AREA, STUFFS = date(2027, 3, 1), 10.0, ("dark stuff", "chipped wood", "yellow stalks")
#: Here the arithmetic of one day is looked at: no ceiling cuts it short, and nothing is held afterwards.
LIFTED = {"lift": ["yearly_depth", "yearly_dose", "suits"]}
ONE_DAY = {"hold": "0 days"}


@st.composite
def tasks(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a soil, a climate, a target and a date."""
    return {
        "stuff": draw(st.sampled_from(STUFFS)),
        "gain": draw(st.integers(1, 25)) / 10,
        "depth": draw(st.integers(8, 30)),
        "temperature": draw(st.integers(6, 24)),
        "clay": draw(st.integers(4, 50)),
        "stones": draw(st.integers(0, 30)),
        "density": draw(st.integers(90, 160)) / 100,
        "months": draw(st.integers(2, 60)),
    }


class Ground:
    """One drawn task as a site, and its soil organic matter reckoned apart."""

    def __init__(
        self, task: dict[str, Any], site_of: SiteOf, bed: Describe, ways: list[Any], apart: Any, **need: Any
    ) -> None:
        self.apart, self.stuff, self.start = apart, task["stuff"], 0.02
        month = START.month - 1 + task["months"]
        self.by = date(START.year + month // 12, month % 12 + 1, 1)
        self.target = 0.02 + task["gain"] / 100
        words = {
            "organic_matter": f"{100 * self.target:.6g} %",
            "depth": f"{task['depth']} cm",
            "by": f"{self.by}",
            **ONE_DAY,
        }
        self.site = site_of(
            [bed({"raise": {**words, **need}}, area=AREA, limits=LIFTED)],
            ways,
            climate={"annual_mean": f"{task['temperature']} degC"},
            soil={
                "organic_matter": "2 %",
                "bulk_density": f"{task['density']} g/cm3",
                "clay": f"{task['clay']} %",
                "stones": f"{task['stones']} %",
            },
        )
        self.soil = task["depth"] / 100 * task["density"] * 1000 * (1 - task["stones"] / 100)
        self.model = apart.model(task["stuff"], task["temperature"], task["clay"] / 100)

    def pulses(self, plan: Decision, times: float = 1.0) -> list[tuple[date, float]]:
        """Return the carbon [kg/m2] of the doses by their dates."""
        return [(one.day, times * self.apart.carbon(self.stuff, one.loose) / AREA) for one in plan.doses]

    def matter(self, plan: Decision, day: date, times: float = 1.0) -> float:
        """Return soil organic matter [share] on a day, stepping through the equations."""
        return self.start + self.apart.matter * self.model.held(self.pulses(plan, times), day) / self.soil

    def quick(self, plan: Decision, day: date) -> float:
        """Return the same by adding up the doses, each in closed form."""
        held = sum(
            carbon * self.model.counted(self.apart.years(on, day))
            for on, carbon in self.pulses(plan)
            if on <= day
        )
        return self.start + self.apart.matter * held / self.soil

    def effect(self, on: date, day: date) -> float:
        """Return the share of organic matter that a loose m3 put on one day makes on another."""
        carbon = self.apart.carbon(self.stuff, 1.0) / AREA
        return self.apart.matter * carbon * self.model.counted(self.apart.years(on, day)) / self.soil


@draws(25)
@given(tasks())
def test_the_target_is_reached_and_not_overshot(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any, task: dict[str, Any]
) -> None:
    """Stepped through the equations, the doses reach the target on the day; half a percent less do not."""
    ground = Ground(task, site_of, bed, [buy(material=task["stuff"])], apart)
    plan = row_of(ground.site, "raise").decision
    gain = ground.target - ground.start
    if plan.feasible:
        assert ground.matter(plan, ground.by) >= ground.target - 1e-5 * gain
        assert ground.matter(plan, ground.by, 0.995) < ground.target
        assert plan.matter == pytest.approx(ground.matter(plan, ground.by), rel=1e-6)
    else:  # all that can be put on by the day makes no less than its part of what is put on till later
        assert plan.matter is not None
        assert ground.matter(plan, ground.by) * (1 - 1e-6) <= plan.matter < ground.target


@st.composite
def supplies(draw: st.DrawFn) -> tuple[list[Lot], bool, float]:
    """Draw lots on days of their own, whether they keep, and the deepest application [cm]."""
    days = draw(st.lists(st.integers(0, 1400), min_size=1, max_size=6, unique=True))
    lots = [Lot(START + timedelta(day), draw(st.integers(1, 40)) / 20) for day in sorted(days)]
    return lots, draw(st.booleans()), draw(st.integers(5, 100)) / 10


def least(ground: Ground, lots: list[Lot], keeps: bool, deepest: float) -> list[float] | None:
    """Return the doses [m3] of the least total that a linear programme finds, or None when there are none."""
    lots = [lot for lot in lots if lot.day <= ground.by]
    if not lots:
        return None
    effects = [ground.effect(lot.day, ground.by) for lot in lots]
    rows, limits = [[-one for one in effects]], [-(ground.target - ground.start)]
    for index in range(len(lots)):
        rows.append(
            [1.0 if (other <= index if keeps else other == index) else 0.0 for other in range(len(lots))]
        )
        limits.append(sum(lot.loose for lot in lots[: index + 1]) if keeps else lots[index].loose)
    scale = [1000.0] + [1.0] * len(lots)
    found = linprog(
        numpy.ones(len(lots)),
        numpy.array(rows) * numpy.array(scale)[:, None],
        numpy.array(limits) * scale,
        bounds=[(0, deepest / 100 * AREA)] * len(lots),
    )
    return [float(loose) for loose in found.x] if found.status == 0 else None


def small(doses: list[float]) -> int:
    """Return how many doses are less than a fiftieth of all."""
    return sum(0 < loose < 0.02 * sum(doses) * (1 - 1e-9) for loose in doses)


#: A small dose that nothing can do without: put on two years sooner it was as small, and more of it.
STILL_SMALL = (
    {
        "stuff": "dark stuff",
        "gain": 0.9,
        "depth": 11,
        "temperature": 6,
        "clay": 4,
        "stones": 1,
        "density": 0.9,
        "months": 32,
    },
    (
        [
            Lot(date(2027, 3, 1), 1.75),
            Lot(date(2027, 3, 2), 0.05),
            Lot(date(2029, 5, 6), 1.35),
            Lot(date(2029, 11, 1), 2.0),
        ],
        False,
        0.6,
    ),
)


@draws(80)
@given(tasks(), supplies())
@example(*STILL_SMALL)
def test_no_smaller_total_would_do(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, task: dict[str, Any], supply: Any
) -> None:
    """Over limited lots, kept or not, and capped applications, the total is a linear programme's optimum.

    It is a little more where there are fewer small doses than it has, and nowhere else.
    """
    lots, keeps, deepest = supply
    ground = Ground(
        task, site_of, bed, [buy(material=task["stuff"])], apart, most_per_application=f"{deepest} cm"
    )
    plan = Raising().decide(ground.site, list(ground.site.places), Lots(ground.site, lots, keeps))
    best = least(ground, lots, keeps, deepest)
    assert plan.feasible == (best is not None)
    if best is not None:
        loose = [dose.loose for dose in plan.doses]
        more = 1.05 if small(loose) < small(best) else 1.0
        assert sum(best) * (1 - 1e-5) <= sum(loose) <= sum(best) * more * (1 + 1e-5)


@draws(60)
@given(tasks(), supplies(), st.integers(1, 3))
def test_lots_are_not_overdrawn_by_several_places(
    site_of: SiteOf, bed: Describe, buy: Describe, task: dict[str, Any], supply: Any, places: int
) -> None:
    """However many places share, no lot is used before it is there, twice, or deeper than one application."""
    lots, keeps, deepest = supply
    target = f"{2 + task['gain']:.6g} %"
    words = {
        "organic_matter": target,
        "depth": f"{task['depth']} cm",
        "most_per_application": f"{deepest} cm",
        **ONE_DAY,
    }
    described = [
        bed({"raise": words}, name=f"bed {index}", area=4 + index, limits=LIFTED) for index in range(places)
    ]
    site = site_of(described, [buy(material=task["stuff"])])
    plan = Raising().decide(site, list(site.places), Lots(site, lots, keeps))
    for lot in lots:
        drawn = sum(
            dose.loose for dose in plan.doses if (dose.day <= lot.day if keeps else dose.day == lot.day)
        )
        there = sum(
            other.loose for other in lots if (other.day <= lot.day if keeps else other.day == lot.day)
        )
        assert drawn <= there * (1 + 1e-9)
    assert all(dose.loose <= deepest / 100 * dose.place.total_area * (1 + 1e-9) for dose in plan.doses)
    assert {dose.day for dose in plan.doses} <= {lot.day for lot in lots}


def test_two_lots_on_one_day_are_one_application(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Two heaps ready on one day do not make two applications of it: 2 cm at most, not twice 2 cm."""
    words = {"organic_matter": "5.5 %", "depth": "15 cm", "most_per_application": "2 cm", "by": "2029-03-01"}
    words |= ONE_DAY
    site = site_of([bed({"raise": words}, limits=LIFTED)], [buy()])
    days = [date(2028, 9, 1), date(2028, 9, 1), date(2029, 2, 1)]
    plan = Raising().decide(site, list(site.places), Lots(site, [Lot(day, 5.0) for day in days], True))
    for day in set(days):
        assert sum(dose.loose for dose in plan.doses if dose.day == day) <= 0.2 + 1e-9


def first_lasting_day(ground: Ground, plan: Decision) -> date:
    """Return the first day from which the target holds on every day until the date wanted."""
    day = ground.by
    while day > START and ground.quick(plan, day - timedelta(1)) >= ground.target - 1e-6 * (
        ground.target - 0.02
    ):
        day -= timedelta(1)
    return day


@draws(30)
@given(tasks(), supplies())
def test_ready_is_the_first_day_from_which_it_holds(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, task: dict[str, Any], supply: Any
) -> None:
    """Looked at day by day, the target holds from the ready day to the date wanted and not the day before."""
    lots, keeps, deepest = supply
    ground = Ground(
        {**task, "gain": task["gain"] / 5},
        site_of,
        bed,
        [buy(material=task["stuff"])],
        apart,
        most_per_application=f"{deepest} cm",
    )
    plan = Raising().decide(ground.site, list(ground.site.places), Lots(ground.site, lots, keeps))
    assume(plan.feasible and plan.doses)
    assert plan.ready_on is not None
    expected = first_lasting_day(ground, plan)
    assert abs((plan.ready_on - expected).days) <= (0 if task["stuff"] == "dark stuff" else 1)


def test_ready_sees_a_dip_of_a_few_days(site_of: SiteOf, bed: Describe, buy: Describe, apart: Any) -> None:
    """Where the first dose falls below the target three days before the second, the second makes it ready."""
    first, second, by = START, START + timedelta(365), START + timedelta(365 + 3652)
    model = apart.model("dark stuff")
    most = 0.5
    far, farther = model.counted(3652 / 365.25), model.counted(4017 / 365.25)
    small = most * far / (model.counted(362 / 365.25) - farther)
    carbon = apart.carbon("dark stuff", 1.0) / AREA * (small * farther + most * far)
    gain = apart.matter * carbon / (0.15 * 1300)
    words = {
        "organic_matter": f"{2 + 100 * gain:.10f} %",
        "depth": "15 cm",
        "by": f"{by}",
        "most_per_application": "5 cm",
        **ONE_DAY,
    }
    site = site_of([bed({"raise": words}, area=AREA, limits=LIFTED)], [buy()], horizon="12 years")
    plan = Raising().decide(site, list(site.places), Lots(site, [Lot(first, 5.0), Lot(second, 5.0)], True))
    assert [dose.loose for dose in plan.doses] == [pytest.approx(small, rel=1e-4), pytest.approx(most)]
    assert plan.ready_on == second


def soonest(ground: Ground, most: float, days: list[date]) -> date:
    """Return the first day after the date wanted on which the most there can be put on reaches the target."""
    day = ground.by
    while ground.start + sum(most * ground.effect(on, day) for on in days if on <= day) < ground.target:
        day += timedelta(1)
    return day


@draws(25)
@given(tasks())
def test_too_late_gives_the_earliest_day_there_is(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any, task: dict[str, Any]
) -> None:
    """A target that cannot be reached in time is ready on the first day the fullest doses reach it."""
    ground = Ground(
        {**task, "months": 1 + task["months"] % 12},
        site_of,
        bed,
        [buy(material=task["stuff"])],
        apart,
        most_per_application="3 cm",
    )
    plan = row_of(ground.site, "raise").decision
    assume(not plan.feasible and plan.ready_on is not None)
    assert plan.ready_on is not None
    assert plan.ready_on > ground.by
    years = [date(2027 + count, 3, 1) for count in range(60)]
    expected = soonest(ground, 0.03 * AREA, years)
    assert abs((plan.ready_on - expected).days) <= 1
    assert ground.quick(plan, plan.ready_on) >= ground.target - 1e-5 * (ground.target - 0.02)
    assert plan.why_not.startswith("too late")


def levels_off(ground: Ground, most: float) -> float:
    """Return the soil organic matter before the next dose after 10,000 years of the fullest doses."""
    held = sum(ground.model.counted(float(age)) for age in range(1, 10_001))
    carbon = ground.apart.carbon(ground.stuff, most) / AREA
    return ground.start + ground.apart.matter * carbon * held / ground.soil


@draws(25)
@given(tasks(), st.integers(1, 30), st.booleans())
def test_what_is_never_reached_levels_off_where_it_says(
    site_of: SiteOf,
    bed: Describe,
    buy: Describe,
    row_of: RowOf,
    apart: Any,
    task: dict[str, Any],
    much: int,
    own: bool,
) -> None:
    """Unreachable targets say so; 10,000 years of the most that can be put on end at the level that is named."""
    most = much / 1000 * AREA
    if own:
        way = {
            "name": "pile",
            "have": {"material": task["stuff"], "amount": f"{most:.6g} m3", "per_year": True},
        }
        need = {}
    else:
        way, need = buy(material=task["stuff"]), {"most_per_application": f"{much} mm"}
    task = {**task, "gain": 20 + task["gain"]}
    ground = Ground(task, site_of, bed, [way], apart, **need)
    plan = row_of(ground.site, "raise").decision
    level = levels_off(ground, min(most, task["depth"] / 300 * AREA) if own else most)
    if level > ground.target:
        return
    assert not plan.feasible
    if plan.ready_on is None:
        assert plan.why_not.startswith("never: levels off at ")
        assert plan.levels_off == pytest.approx(level, rel=2e-3)
        assert plan.levels_off < ground.target


def test_a_level_above_the_target_is_no_reason_for_never(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any
) -> None:
    """What is reached only after more than a lifetime is not said to level off at more than is wanted."""
    task = {"stuff": "chipped wood", "gain": 20.1, "depth": 8, "temperature": 6, "clay": 4, "stones": 1}
    ground = Ground(
        {**task, "density": 0.9, "months": 2},
        site_of,
        bed,
        [buy(material="chipped wood")],
        apart,
        most_per_application="15 mm",
    )
    plan = row_of(ground.site, "raise").decision
    assert not plan.feasible
    assert plan.levels_off is None or plan.levels_off < ground.target


def test_the_level_of_several_cuts_a_year(site_of: SiteOf, bed: Describe, row_of: RowOf) -> None:
    """Leaf cut and dug in five times a year for three centuries ends where the answer says it levels off."""
    words = {"organic_matter": "30 %", "depth": "20 cm"}
    hedge = {"name": "hedge", "grow": {"plant": "tithonia", "row": "10 m", "planted": "2020-01-01"}}
    site = site_of([bed({"raise": words})], [hedge], climate={"annual_mean": "22 degC"})
    answer = options(site)
    plan, stuff = answer.options[0].decision, answer.supplies["hedge"].material
    assert plan.levels_off is not None
    warmth = 47.91 / (1 + numpy.exp(106.06 / 40.27)) / (47.91 / (1 + numpy.exp(106.06 / 33.27)))
    a, h = stuff["decay"] * warmth, stuff["humus"]
    lots = [lot for lot in answer.supplies["hedge"].lots(site.end) if lot.day.year == 2029]
    carbon = lots[0].loose * stuff["density"] * (1 - stuff["moisture"]) * stuff["carbon"] / AREA
    ages = [year + index / len(lots) for year in range(300) for index in range(1, len(lots) + 1)]
    held = sum(
        share * h * a / (a - b) * (numpy.exp(-b * age) - numpy.exp(-a * age))
        for age in ages
        for share, b in ((0.75, 0.20 * warmth), (0.25, 0.014 * warmth))
    )
    assert plan.levels_off - 0.02 == pytest.approx(2 * carbon * held / 260, rel=0.02)


@draws(40)
@given(tasks(), supplies(), st.integers(1, 20))
def test_a_stricter_target_never_takes_less(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, task: dict[str, Any], supply: Any, more: int
) -> None:
    """More organic matter wanted never needs less stuff and is not met where less is not."""
    lots, keeps, deepest = supply
    plans = []
    for gain in (task["gain"], task["gain"] + more / 20):
        ground = Ground(
            {**task, "gain": gain},
            site_of,
            bed,
            [buy(material=task["stuff"])],
            apart,
            most_per_application=f"{deepest} cm",
        )
        plans.append(Raising().decide(ground.site, list(ground.site.places), Lots(ground.site, lots, keeps)))
    mild, strict = plans
    assert mild.feasible or not strict.feasible
    if mild.feasible and strict.feasible:
        assert sum(dose.loose for dose in mild.doses) <= sum(dose.loose for dose in strict.doses) * (1 + 1e-9)


def lowest(ground: Ground, plan: Decision, since: date, times: float = 1.0) -> float:
    """Return the lowest soil organic matter before the next of sixty yearly doses of what is said to hold."""
    assert plan.holds_with is not None
    carbon = times * ground.apart.carbon(
        ground.stuff, plan.holds_with / ground.apart.figure(ground.stuff, "density")
    )
    pulses, found = ground.pulses(plan), []
    for year in range(1, 61):
        pulses.append((since + timedelta(round(365.25 * (year - 1))), carbon))
        day = since + timedelta(round(365.25 * year) - 1)
        held = sum(one * ground.model.counted(ground.apart.years(on, day)) for on, one in pulses)
        found.append(ground.start + ground.apart.matter * held / ground.soil)
    return min(found)


@draws(15)
@given(tasks())
def test_the_yearly_dose_holds_what_was_reached(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any, task: dict[str, Any]
) -> None:
    """Once reached, what is said to hold a target does so for sixty years; a tenth less not."""
    ground = Ground({**task, "gain": task["gain"] / 4}, site_of, bed, [buy(material=task["stuff"])], apart)
    plan = row_of(ground.site, "raise").decision
    gain = ground.target - ground.start
    if plan.feasible:
        assert lowest(ground, plan, ground.by) >= ground.target - 0.01 * gain
        assert not plan.holds_with or lowest(ground, plan, ground.by, 0.9) < ground.target


@pytest.mark.parametrize("stuff", ["dark stuff", "chipped wood"])
@pytest.mark.parametrize("months", [18, 30])
def test_a_dose_for_sixty_years_by_hand(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any, stuff: str, months: int
) -> None:
    """On a loam at 15 degC the dose said to hold a gain keeps it to a thousandth of the gain."""
    task = {
        "stuff": stuff,
        "gain": 1.0 if stuff == "dark stuff" else 0.2,
        "depth": 20,
        "temperature": 15,
        "clay": 20,
        "stones": 0,
        "density": 1.3,
        "months": months,
    }
    ground = Ground(task, site_of, bed, [buy(material=stuff)], apart)
    plan = row_of(ground.site, "raise").decision
    assert plan.feasible
    assert lowest(ground, plan, ground.by) >= ground.target - 0.001 * (ground.target - ground.start)


def test_what_is_never_reached_has_no_dose_that_holds_it(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Where a target is never reached, nothing at all is not given as the yearly dose that holds it."""
    words = {"organic_matter": "40 %", "depth": "20 cm", "most_per_application": "1 cm", **ONE_DAY}
    plan = row_of(site_of([bed({"raise": words}, limits=LIFTED)], [buy()]), "raise").decision
    assert plan.ready_on is None
    assert plan.holds_with is None or plan.holds_with > 0


def test_what_makes_no_humus_holds_nothing(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """No yearly dose of wood holds a raise on frozen ground, where none of it ever counts; that is not a dose of 0."""
    words = {"organic_matter": "3 %", "depth": "15 cm", **ONE_DAY}
    site = site_of(
        [bed({"raise": words}, limits=LIFTED)],
        [buy(material="chipped wood")],
        climate={"annual_mean": "-20 degC"},
    )
    plan = row_of(site, "raise").decision
    assert plan.why_not.startswith("never")
    assert plan.holds_with is None


def test_without_a_date_a_year_after_the_first_dose(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any
) -> None:
    """A target without a date is reached, and just so, a year after the first day a dose can be put on."""
    words = {"organic_matter": "3 %", "depth": "15 cm", **ONE_DAY}
    row = row_of(site_of([bed({"raise": words}, limits=LIFTED)], [buy(lead="6 weeks")]), "raise")
    assert row.feasible
    pulses = [(dose.day, apart.carbon("dark stuff", dose.loose) / AREA) for dose in row.decision.doses]
    held = apart.model("dark stuff").held(pulses, date(2028, 4, 12))
    assert 0.02 + apart.matter * held / 195 == pytest.approx(0.03, rel=1e-5)


@draws(120)
@given(tasks(), supplies())
def test_without_a_date_it_is_due_a_year_after_the_first_dose(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, task: dict[str, Any], supply: Any
) -> None:
    """Ready by a year after the first dose, that day included, is in time; later is not, and it says how far it is.

    Nothing without a date is called too late.
    """
    lots, keeps, deepest = supply
    ground = Ground(
        {**task, "gain": task["gain"] / 2},
        site_of,
        bed,
        [buy(material=task["stuff"])],
        apart,
        most_per_application=f"{deepest} cm",
    )
    place = ground.site.places[0]
    need = place.need("raise")
    assert isinstance(need, Raise)
    undated = replace(place, needs=(replace(need, by=None),))
    plan = Raising().decide(ground.site, [undated], Lots(ground.site, lots, keeps))
    assert plan.feasible == (plan.why_not == "")
    assume(plan.ready_on is not None and plan.doses)
    assert plan.ready_on is not None
    due = Step(months=12).after(min(dose.day for dose in plan.doses))
    assert plan.feasible == (plan.ready_on <= due)
    assert ground.quick(plan, plan.ready_on) >= ground.target - 1e-5 * (ground.target - 0.02)
    if not plan.feasible:
        late = "not within a year of the first dose"
        assert re.fullmatch(rf"{late}: [0-9.]+% on {due}, ready {plan.ready_on}", plan.why_not)
        assert plan.matter is not None  # with all that can be put on by then, no less than its doses do
        assert ground.quick(plan, due) * (1 - 1e-6) <= plan.matter < ground.target


def test_reached_on_the_day_it_is_due(site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf) -> None:
    """A target that takes a dose now and one a year on is reached on the very day it is due: in time."""
    words = {"organic_matter": "3 %", "depth": "15 cm", "most_per_application": "1 cm", **ONE_DAY}
    row = row_of(site_of([bed({"raise": words}, limits=LIFTED)], [buy()]), "raise")
    assert [dose.day for dose in row.decision.doses] == [START, date(2028, 3, 1)]
    assert row.decision.ready_on == date(2028, 3, 1)
    assert (row.feasible, row.decision.why_not) == (True, "")
    assert row.decision.matter == pytest.approx(0.03)


def test_a_target_met_already_takes_nothing(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Soil that has what is wanted asks for no dose, costs nothing and is ready at the start."""
    row = row_of(site_of([bed({"raise": {"organic_matter": "1.5 %", "depth": "15 cm"}})], [buy()]), "raise")
    assert (row.feasible, row.loose, row.cash, row.decision.ready_on) == (True, 0, 0, START)


def test_an_allowance_is_ordered_and_not_counted(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """A tenth for spills makes the order a tenth larger and the soil no richer."""
    words = {"organic_matter": "3 %", "depth": "15 cm", "by": "2029-03-01", **ONE_DAY}
    plain = row_of(site_of([bed({"raise": words}, limits=LIFTED)], [buy()]), "raise")
    spilt = row_of(site_of([bed({"raise": {**words, "allowance": "10 %"}}, limits=LIFTED)], [buy()]), "raise")
    assert spilt.loose == pytest.approx(1.1 * plain.loose)
    assert spilt.decision.matter == pytest.approx(plain.decision.matter)


@pytest.mark.parametrize("put_on", ["2026-04-10", "2026-11-01"])
def test_what_was_dug_in_since_the_test_is_taken_off(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any, put_on: str
) -> None:
    """Compost dug in after a soil test still counts on the day wanted; new doses make up just the rest."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2026-03-15"}
    done = [{"date": put_on, "place": "bed", "material": "dark stuff", "amount": "0.15 m3", "dug": True}]
    by = date(2029, 3, 1)
    words = {"organic_matter": "3.5 %", "depth": "15 cm", "by": f"{by}", **ONE_DAY}
    row = row_of(site_of([bed({"raise": words}, limits=LIFTED)], [buy()], soil=soil, history=done), "raise")
    model = apart.model("dark stuff")
    pulses = [(date.fromisoformat(put_on), apart.carbon("dark stuff", 0.15) / AREA)]
    pulses += [(dose.day, apart.carbon("dark stuff", dose.loose) / AREA) for dose in row.decision.doses]
    assert 0.02 + apart.matter * model.held(pulses, by) / 195 == pytest.approx(0.035, rel=1e-5)


def test_what_was_dug_in_before_the_test_is_in_the_test(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """A soil test has seen what was dug in before it; that is not counted again."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "tested": "2026-12-15"}
    done = [
        {"date": "2026-11-01", "place": "bed", "material": "dark stuff", "amount": "0.15 m3", "dug": True}
    ]
    words = {"organic_matter": "3.5 %", "depth": "15 cm", "by": "2029-03-01", **ONE_DAY}
    places = [bed({"raise": words}, limits=LIFTED)]
    plain = row_of(site_of(places, [buy()], soil=soil), "raise")
    assert row_of(site_of(places, [buy()], soil=soil, history=done), "raise").loose == pytest.approx(
        plain.loose
    )


def test_more_time_never_puts_a_stock_out_of_reach(site_of: SiteOf, bed: Describe, row_of: RowOf) -> None:
    """A pile that can raise a bed by next year can do so by the year after: it need not be spread at once."""
    pile = {"name": "pile", "have": {"material": "dark stuff", "amount": "0.36 m3"}}
    found = []
    for year in (2028, 2029, 2030):
        words = {"organic_matter": "4 %", "depth": "15 cm", "by": f"{year}-03-01", **ONE_DAY}
        found.append(row_of(site_of([bed({"raise": words}, limits=LIFTED)], [pile]), "raise").feasible)
    assert found == [True, True, True]


@pytest.mark.parametrize("stuff", ["dark stuff", "chipped wood"])
@pytest.mark.parametrize("gain", [0.5, 1.0, 2.0])
def test_a_later_year_never_needs_more_of_a_seller(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, stuff: str, gain: float
) -> None:
    """Whole years more never ask for more stuff, but for the odd day of leap years."""
    totals, met = [], []
    for year in range(2028, 2034):
        words = {"organic_matter": f"{2 + gain:.6g} %", "depth": "20 cm", "by": f"{year}-09-01", **ONE_DAY}
        row = row_of(site_of([bed({"raise": words}, limits=LIFTED)], [buy(material=stuff)]), "raise")
        totals.append(row.loose if row.feasible else float("inf"))
        met.append(row.feasible)
    assert met == sorted(met)
    assert all(later <= earlier * 1.002 for earlier, later in pairwise(totals))


@pytest.mark.parametrize(("target", "clay"), [("3 %", 21.37), ("30 %", 31.73)])
def test_many_beds_take_hardly_more_work_than_a_few(
    site_of: SiteOf, bed: Describe, buy: Describe, monkeypatch: pytest.MonkeyPatch, target: str, clay: float
) -> None:
    """Beds of one soil and many sizes ask again for what was worked out: the model is not run for each anew."""
    times = Counter[int]()

    def counted(of: Callable[[Fading, float], Any]) -> Callable[[Fading, float], Any]:
        def count(fading: Fading, years: float) -> Any:
            times[beds] += 1
            return of(fading, years)

        return count

    monkeypatch.setattr(Fading, "at", counted(Fading.at))
    monkeypatch.setattr(Fading, "passed", counted(Fading.passed))
    words = {"organic_matter": target, "depth": "15 cm", "most_per_application": "2 cm"}
    for number, beds in enumerate((2, 40)):
        soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": f"{clay + number:.2f} %"}
        places = [bed({"raise": words}, name=f"bed {index}", area=3 + index) for index in range(beds)]
        assert len(options(site_of(places, [buy()], soil=soil)).options) == 1
    assert 0 < times[40] < 2 * times[2]


def test_many_small_lots_are_dug_in_once(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Leaf cut time after time goes on one part of the ground after another: the whole is dug but once."""
    words = {"organic_matter": "2.4 %", "depth": "15 cm", "by": "2028-03-01"}
    site = site_of([bed({"raise": words}, area=AREA)], [buy()])
    lots = [Lot(START + timedelta(30 * number), 0.01) for number in range(12)]
    plan = Raising().decide(site, list(site.places), Lots(site, lots, False))
    assert plan.feasible
    assert len(plan.doses) > 4
    assert sum(dose.share for dose in plan.doses) == pytest.approx(1)
    at_once = Raising().decide(site, list(site.places), Lots(site, [Lot(START, 5.0)], True))
    assert [dose.share for dose in at_once.doses] == [1.0]


def test_a_target_far_beyond_a_stock_is_not_searched(
    site_of: SiteOf, bed: Describe, buy: Describe, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A little each week for ten years, where the whole of it does not do: no later day is tried.

    Lots up to the day are taken to say how much is possible, and to put that much on.
    """
    times, take = Counter[int](), Stock.take

    def counted(stock: Stock, day: int, wanted: float) -> float:
        times[day] += 1
        return take(stock, day, wanted)

    monkeypatch.setattr(Stock, "take", counted)
    by = date(2029, 3, 1)
    words = {"organic_matter": "60 %", "depth": "15 cm", "by": f"{by}", **ONE_DAY}
    place = bed({"raise": words}, area=500, limits=LIFTED)
    site = site_of([place], [buy()], horizon="10 years")
    lots = [Lot(START + timedelta(weeks=number), 0.01) for number in range(520)]
    plan = Raising().decide(site, list(site.places), Lots(site, lots, True))
    assert (plan.feasible, plan.ready_on) == (False, None)
    assert set(times) == {lot.day.toordinal() for lot in lots if lot.day <= by}
    assert set(times.values()) == {1, 2}
