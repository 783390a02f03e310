"""The first day a raise that is too late can be reached, against every day looked at in turn."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import numpy
import pytest
from supplied import Lots

from barrowful.answers.option import Option
from barrowful.needs.raising import Raising
from barrowful.site.records import Site
from barrowful.supplies.lot import Lot

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
START, AREA = date(2027, 3, 1), 10.0
SOIL = {"organic_matter": "4 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"}
#: No ceiling cuts short what is looked at on every day; a target is to hold on the one day alone.
LIFTED = {"lift": ["yearly_depth", "yearly_dose", "suits"]}
ONE_DAY = {"depth": "20 cm", "hold": "0 days"}
#: kg/m2 of soil in 20 cm.
MASS = 260.0
#: Every day that is looked at, in days from the start.
DAYS = numpy.arange(round(59.9 * 365.25))


def counted(apart: Any, stuff: str, on: date) -> Any:
    """Return what one carbon dug in on a day counts on each of the days."""
    model = apart.model(stuff)
    return numpy.array([model.counted((day - (on - START).days) / 365.25) for day in DAYS.tolist()])


def first_of(reached: Any, after: date) -> date | None:
    """Return the first day after a date on which it is reached."""
    days = DAYS[reached & ((after - START).days < DAYS)]
    return START + timedelta(int(days[0])) if len(days) else None


@pytest.mark.parametrize("managed", ["bare", "cropped"])
@pytest.mark.parametrize(
    ("stuff", "deepest"),
    [
        ("dark stuff", 6),
        ("dark stuff", 12),
        ("chipped wood", 30),
        ("yellow stalks", 80),
        ("yellow stalks", 160),
    ],
)
def test_on_falling_ground(
    site_of: SiteOf,
    bed: Describe,
    buy: Describe,
    row_of: RowOf,
    apart: Any,
    managed: str,
    stuff: str,
    deepest: int,
) -> None:
    """What is dug in rises and falls within a year while the humus there was falls."""
    by = date(2027, 9, 1)
    counts, made = counted(apart, stuff, START), numpy.zeros(len(DAYS))
    for year in range(2027, 2087):
        number = (date(year, 3, 1) - START).days
        made[number:] += counts[: len(made) - number]
    gone = 1 - 0.3 * numpy.exp(-0.2 * DAYS / 365.25) - 0.7 * numpy.exp(-0.014 * DAYS / 365.25)
    over = (
        apart.carbon(stuff, deepest / 1000) * apart.matter / MASS * made
        - 0.04 * (1 if managed == "bare" else 0.5) * gone
    )
    for year in (2, 4, 7, 12, 20):
        within = over[365 * year : 365 * (year + 1)]
        gain = within.max() - 0.0005 * (within.max() - within.min())
        words = {"organic_matter": f"{4 + 100 * gain:.9f} %", "by": f"{by}", **ONE_DAY}
        words["most_per_application"] = f"{deepest} mm"
        soil = {**SOIL, "managed": managed}
        site = site_of([bed({"raise": words}, area=AREA, limits=LIFTED)], [buy(material=stuff)], soil=soil)
        decision = row_of(site, "raise").decision
        assert not decision.feasible
        assert decision.ready_on == first_of(over >= gain, by)


@pytest.mark.parametrize("gain", [0.9, 0.95, 0.99, 0.999])
def test_where_what_was_dug_in_rots(
    site_of: SiteOf, bed: Describe, row_of: RowOf, apart: Any, gain: float
) -> None:
    """A small pile of stalks reaches the target while what was dug in before is there, and never after."""
    by, before = date(2027, 3, 20), START - timedelta(1)
    done = {"date": f"{before}", "place": "bed", "material": "dark stuff", "amount": "1 m3", "dug": True}
    pile = {"name": "pile", "have": {"material": "yellow stalks", "amount": "8 m3"}}
    past = apart.carbon("dark stuff", 1.0) * counted(apart, "dark stuff", before)
    over = past + apart.carbon("yellow stalks", 8.0) * counted(apart, "yellow stalks", START)
    over *= apart.matter / AREA / MASS
    target = gain * over[(by - START).days < DAYS].max()
    words = {"organic_matter": f"{4 + 100 * target:.9f} %", "by": f"{by}", **ONE_DAY}
    words["most_per_application"] = "2 m"
    soil = {**SOIL, "tested": "2026-12-01"}
    site = site_of([bed({"raise": words}, area=AREA, limits=LIFTED)], [pile], soil=soil, history=[done])
    decision = row_of(site, "raise").decision
    assert not decision.feasible
    assert decision.ready_on == first_of(over >= target, by)


@pytest.mark.parametrize("share", [0.3, 0.5, 0.7, 0.9])
def test_lots_of_any_day(site_of: SiteOf, bed: Describe, buy: Describe, apart: Any, share: float) -> None:
    """Compost made every 83 days counts most on the day it is made: all there is so far goes on then."""
    by, lots = date(2027, 9, 1), [Lot(START + timedelta(83 * number), 0.02) for number in range(270)]
    fresh = counted(apart, "dark stuff", START)
    over = numpy.array([0.02 * (1 + day // 83) * fresh[day % 83] for day in DAYS.tolist()])
    over *= apart.carbon("dark stuff", 1.0) * apart.matter / AREA / MASS
    target = share * over.max()
    words = {"organic_matter": f"{4 + 100 * target:.9f} %", "by": f"{by}", **ONE_DAY}
    words["most_per_application"] = "2 m"
    site = site_of([bed({"raise": words}, area=AREA, limits=LIFTED)], [buy()], soil=SOIL)
    decision = Raising().decide(site, list(site.places), Lots(site, lots))
    assert not decision.feasible
    assert decision.ready_on == first_of(over >= target, by)


@pytest.mark.parametrize("by", [None, "2030-09-01"])
def test_frozen_ground(site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, by: str | None) -> None:
    """Where nothing goes any day is as good as another: the first is taken, and it is ready then."""
    words = {"organic_matter": "5 %", "depth": "20 cm"} | ({"by": by} if by else {})
    site = site_of([bed({"raise": words})], [buy()], soil=SOIL, climate={"annual_mean": "-8 degC"})
    decision = row_of(site, "raise").decision
    assert [dose.day for dose in decision.doses] == [START]
    assert decision.ready_on == START
