"""A raise that is held: its doses hold on every day looked at, cost hardly more than the least, and come no later
than they must; against a linear programme over the same days, lots and ceilings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from typing import Any

import numpy
import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog
from supplied import Lots, most_of

from barrowful.measures.dates import Step
from barrowful.needs.decision import CannotServe
from barrowful.needs.raise_later import first_held
from barrowful.needs.raise_least import least_doses, lots_to
from barrowful.needs.raise_search import held_doses, looks
from barrowful.needs.raise_task import Pulses, RaiseTask, task_of
from barrowful.needs.raising import Raising
from barrowful.needs.settled import Settled
from barrowful.site.needs import Raise
from barrowful.site.records import Site
from barrowful.supplies.lot import Lot
from barrowful.supplies.registry import supplies
from barrowful.supplies.stock import Lots as AllLots
from barrowful.supplies.stock import Stock, lots_of
from barrowful.supplies.supply import Supply

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
START, AREA, STUFFS = date(2027, 3, 1), 10.0, ("dark stuff", "chipped wood", "yellow stalks")
FAR = Step(months=12 * 30)


@st.composite
def tasks(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a soil, a climate, a target, a date and how long it is held."""
    return {
        "stuff": draw(st.sampled_from(STUFFS)),
        "gain": draw(st.integers(1, 20)) / 10,
        "depth": draw(st.integers(10, 30)),
        "temperature": draw(st.integers(6, 24)),
        "clay": draw(st.integers(4, 50)),
        "months": draw(st.integers(2, 40)),
        "hold": draw(st.integers(1, 24)),
        "lifted": draw(st.booleans()),
    }


@st.composite
def lots(draw: st.DrawFn) -> tuple[list[Lot], bool] | None:
    """Draw a seller, or lots on days of their own and whether they keep."""
    if draw(st.booleans()):
        return None
    days = draw(st.lists(st.integers(0, 1800), min_size=1, max_size=8, unique=True))
    return [Lot(START + timedelta(day), draw(st.integers(1, 40)) / 20) for day in sorted(days)], draw(
        st.booleans()
    )


@dataclass(frozen=True)
class Held:
    """A drawn raise as the search sees it, and reckoned apart."""

    apart: Any
    words: dict[str, Any]
    site: Site
    supply: Supply[Any]

    @cached_property
    def task(self) -> RaiseTask:
        """Return the task of the place."""
        place = self.site.places[0]
        need = place.need("raise")
        assert isinstance(need, Raise)
        room = Settled(self.site).room(place, need, self.supply.material)
        return task_of(self.site, place, need, self.supply.material, room)

    @cached_property
    def lots(self) -> AllLots:
        """Return all lots there are."""
        return lots_of(self.supply, FAR.after(START))

    @property
    def stock(self) -> Stock:
        """Return the stock with nothing taken yet."""
        return Stock(self.lots)

    @cached_property
    def by(self) -> int:
        """Return the day number it is wanted on."""
        assert self.task.by is not None
        return self.task.by

    @property
    def deepest(self) -> float:
        """Return the deepest dose [m]: a third of the soil's depth, or what may go on in twelve months."""
        return min(0.333 * self.words["depth"] / 100, self.a_year)

    @property
    def a_year(self) -> float:
        """Return the deepest [m] that may go on in any twelve months: an inch of compost, 1 kg/m2 of straw."""
        known = {"dark stuff": 0.025, "chipped wood": 1e9, "yellow stalks": 1 / 60}
        return 1e9 if self.words["lifted"] else known[self.words["stuff"]]

    def made(self, on: int, day: int) -> float:
        """Return the share of organic matter that a loose m of depth put on one day makes on another."""
        model = self.apart.model(self.words["stuff"], self.words["temperature"], self.words["clay"] / 100)
        carbon = self.apart.carbon(self.words["stuff"], 1.0)
        counted: float = model.counted((day - on) / 365.25)
        return float(self.apart.matter * carbon * counted / (self.words["depth"] / 100 * 1300))

    def level(self, doses: Pulses, day: int) -> float:
        """Return the gain of organic matter [share] on a day."""
        return sum(loose * self.made(on, day) for on, loose in doses if on <= day)

    def least(self, by: int) -> float | None:
        """Return the least depth [m] in all that holds from a day on, by a linear programme; None without one."""
        days = looks(self.task, by, self.lots)
        put = [day for day in self.lots.days if day <= max(days)]
        rows = [[-self.made(on, day) if on <= day else 0.0 for on in put] for day in days]
        limits = [-self.words["gain"] / 100] * len(days)
        for index, day in enumerate(put):
            after = Step(months=12).after(date.fromordinal(day)).toordinal()
            rows.append([1.0 if day <= other < after else 0.0 for other in put])
            limits.append(self.a_year)
            if not self.lots.endless:
                keeps = self.lots.keeps
                rows.append(
                    [
                        1.0 if (other <= index if keeps else other == index) else 0.0
                        for other in range(len(put))
                    ]
                )
                there = self.lots.whole[: index + 1] if keeps else [self.lots.whole[index]]
                limits.append(sum(there) / AREA)
        scale = numpy.array([1000.0] * len(days) + [1.0] * (len(rows) - len(days)))
        if not put:
            return None
        found = linprog(
            numpy.ones(len(put)),
            numpy.array(rows) * scale[:, None],
            numpy.array(limits) * scale,
            bounds=[(0, self.deepest)] * len(put),
        )
        return float(found.fun) if found.status == 0 else None


def built(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, words: dict[str, Any], drawn: Any
) -> Held:
    """Return a drawn raise."""
    month = START.month - 1 + words["months"]
    by = date(START.year + month // 12, month % 12 + 1, 1)
    need = {
        "organic_matter": f"{2 + words['gain']:.6g} %",
        "depth": f"{words['depth']} cm",
        "by": f"{by}",
        "hold": f"{words['hold']} months",
    }
    lift = ["suits", *(["yearly_depth", "yearly_dose"] if words["lifted"] else [])]
    site = site_of(
        [bed({"raise": need}, area=AREA, limits={"lift": lift})],
        [buy(material=words["stuff"])],
        climate={"annual_mean": f"{words['temperature']} degC"},
        soil={"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": f"{words['clay']} %"},
    )
    [seller] = supplies(site).values()
    return Held(apart, words, site, seller if drawn is None else Lots(site, *drawn))


def holds(held: Held, doses: Pulses, by: int) -> bool:
    """Say whether doses hold the target on every day looked at."""
    least = held.words["gain"] / 100 * (1 - 1e-6)
    return all(held.level(doses, day) >= least for day in looks(held.task, by, held.lots))


@draws(100, derandomize=True)
@given(tasks(), lots())
def test_what_is_held_takes_the_least(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, words: dict[str, Any], drawn: Any
) -> None:
    """Doses hold on every look, and in all are those of a linear programme; none are where it finds none."""
    held = built(site_of, bed, buy, apart, words, drawn)
    doses = held_doses(held.task, held.by, held.stock, AREA)
    least = held.least(held.by)
    assert doses is None or least is not None
    assert doses is not None or least is None
    if doses is not None and least is not None:
        assert holds(held, doses, held.by)
        total = sum(loose for _, loose in doses)
        assert least * (1 - 1e-5) <= total <= most_of(least, [loose for _, loose in doses])
        days, stock = looks(held.task, held.by, held.lots), Stock(held.lots)
        raw = least_doses(held.task, stock, AREA, days, lots_to(stock, max(days), range(0)))
        assert raw is not None
        assert sum(loose for _, loose in raw) == pytest.approx(least, rel=1e-5)


@draws(60, derandomize=True)
@given(tasks(), lots())
def test_the_first_day_it_can_be_held_from(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, words: dict[str, Any], drawn: Any
) -> None:
    """Too late for its date it is held from the first day it can be: a month earlier no doses would hold.

    Where ceilings bind lots that come more than once in twelve months, only lots put on as they come are looked
    at, and others may hold it earlier.
    """
    held = built(site_of, bed, buy, apart, words, drawn)
    if held_doses(held.task, held.by, held.stock, AREA) is not None:
        return
    first = first_held(held.task, held.by, held.stock, AREA)
    exact = held.lots.keeps and held.task.alone(held.stock)
    if first is None:
        assert not exact or all(held.least(day) is None for day in range(held.by + 1, held.by + 3650, 91))
        return
    day, doses = first
    assert day > held.by
    assert holds(held, doses, day)
    least = held.least(day)
    assert least is not None
    assert sum(loose for _, loose in doses) <= most_of(least, [loose for _, loose in doses])
    if day - 31 > held.by and exact:
        assert held.least(day - 31) is None


@draws(400, derandomize=True)
@given(tasks(), lots())
def test_without_a_date_it_is_held_from_a_year_after_its_own_first_dose(
    site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, words: dict[str, Any], drawn: Any
) -> None:
    """What is met holds on every day looked at from a year after its first dose on, for as long as it is to."""
    held = built(site_of, bed, buy, apart, words, drawn)
    [place] = held.site.places
    need = place.need("raise")
    assert isinstance(need, Raise)
    undated = replace(place, needs=(replace(need, by=None),))
    try:
        decision = Raising().decide(held.site, [undated], held.supply)
    except CannotServe:  # nothing comes within the horizon
        return
    doses = [(dose.number, dose.loose / AREA) for dose in decision.every_dose]
    if not decision.feasible or not doses:
        return
    due = Step(months=12).after(date.fromordinal(min(day for day, _ in doses))).toordinal()
    assert holds(held, doses, due)
