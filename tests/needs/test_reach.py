"""A raise that is reached and not held: how far it is met, from when to when, against every day in turn."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest

from barrowful.answers.lines import option_lines
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.site.records import Site
from barrowful.tables.options import OPTIONS

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
START, BY, LAST = date(2027, 3, 1), date(2027, 6, 1), date(2028, 6, 1)
LIFTED = {"lift": ["yearly_depth"]}
#: 15 cm of soil at 1.3 g/cm3 [kg/m2], and the ground [m2].
SOIL, AREA = 195.0, 10.0


def piled(bed: Describe, litres: int, **more: str) -> tuple[list[Any], list[Any]]:
    """Return a bed to be raised to 4.6 % by June, and so much of the dark stuff to do it with."""
    need = {"raise": {"organic_matter": "4.6 %", "depth": "15 cm", "by": str(BY), **more}}
    pile = {"name": "pile", "have": {"material": "dark stuff", "amount": f"{litres} L"}}
    return [bed(need, limits=LIFTED)], [pile]


def gained(apart: Any, litres: int, day: date) -> float:
    """Return the share of the 2.6 % of soil wanted that there is on a day of litres dug in on the start."""
    carbon = apart.carbon("dark stuff", litres / 1000) / AREA
    counted = apart.model("dark stuff").counted(apart.years(START, day))
    return float(apart.matter * carbon * counted / SOIL / 0.026)


@pytest.mark.parametrize("litres", [380, 400, 410])
def test_reached_and_not_held(site_of: SiteOf, bed: Describe, row_of: RowOf, apart: Any, litres: int) -> None:
    """It is met as far as it is on the worst day it is to be held, and says to what day it is held."""
    row = row_of(site_of(*piled(bed, litres)), "raise")
    every_day = [BY + timedelta(days) for days in range((LAST - BY).days + 1)]
    assert gained(apart, litres, BY) > 1 > gained(apart, litres, LAST)
    until = next(day for day in every_day if gained(apart, litres, day) < 1) - timedelta(1)
    least = min(gained(apart, litres, day) for day in every_day)
    assert not row.feasible
    assert row.decision.met_share == pytest.approx(least, rel=1e-5)
    level = f"{2 + 2.6 * least:.1f}%"
    assert row.why_not == (f"reached by {BY}, but held only to {until}, not to {LAST}: {level} on {LAST}")


def test_held_for_a_day_it_is_met(site_of: SiteOf, bed: Describe, row_of: RowOf) -> None:
    """The same is met where it need not be held."""
    row = row_of(site_of(*piled(bed, 400, hold="0 days")), "raise")
    assert (row.feasible, row.decision.met_share) == (True, 1.0)


def test_what_is_not_reached_counts_on_its_day(
    site_of: SiteOf, bed: Describe, row_of: RowOf, apart: Any
) -> None:
    """Where too little is there on the day itself, that day counts, as the sentence has it."""
    row = row_of(site_of(*piled(bed, 200)), "raise")
    assert row.decision.met_share == pytest.approx(gained(apart, 200, BY), rel=1e-6)
    assert "reached" not in row.why_not


def test_it_is_told_of_what_there_is_before_what_comes_too_late(
    site_of: SiteOf, bed: Describe, row_of: RowOf, apart: Any
) -> None:
    """As much each year holds it from the second on; by its date there is no more than the first."""
    places, [pile] = piled(bed, 400)
    yearly = {**pile, "have": {**pile["have"], "per_year": True}}
    row = row_of(site_of(places, [yearly]), "raise")
    assert row.ready_on == date(2028, 3, 1)
    assert row.decision.met_share == pytest.approx(gained(apart, 400, LAST), rel=1e-5)
    assert re.fullmatch(
        r"too late: reached by 2027-06-01, but held only to .*, ready 2028-03-01", row.why_not
    )


def test_a_ceiling_that_keeps_it_from_being_held(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, apart: Any
) -> None:
    """An inch in March reaches 3.6 % by June; none may follow within the year, and the row names the ceiling."""
    need = {"raise": {"organic_matter": "3.6 %", "depth": "15 cm", "by": str(BY)}}
    row = row_of(site_of([bed(need)], [buy()]), "raise")
    assert (row.feasible, row.decision.ceiling) == (False, "yearly_depth")
    carbon = apart.carbon("dark stuff", 0.25) / AREA
    counted = apart.model("dark stuff").counted(apart.years(START, LAST))
    assert row.decision.met_share == pytest.approx(apart.matter * carbon * counted / SOIL / 0.016, rel=1e-5)
    assert "(yearly_depth): reached by 2027-06-01, but held only to" in row.why_not


def test_what_is_not_met_never_reads_as_all(
    site_of: SiteOf, bed: Describe, row_of: RowOf, apart: Any
) -> None:
    """A litre too little is not met, and the table does not say 100 %."""
    counted = apart.model("dark stuff").counted(apart.years(START, date(2027, 8, 1)))
    enough = 0.026 * SOIL / apart.matter / counted * AREA / apart.carbon("dark stuff", 0.001)
    site = site_of(*piled(bed, int(enough), hold="2 months"))
    assert row_of(site, "raise").decision.met_share > 0.995
    (line,) = OPTIONS.table(option_lines(options(site))).rows
    assert (line["feasible"], line["met_percent"]) == (False, 99.4)


def test_without_a_date_nothing_is_too_late(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """6 % takes four dressings of an inch, the last three years on: not within a year, and late for no date.

    With the date on which a year is over it is too late for that.
    """

    def why_not(**more: str) -> str:
        need = {"raise": {"organic_matter": "6 %", "depth": "15 cm", **more}}
        row = row_of(site_of([bed(need)], [buy()]), "raise")
        assert row.ready_on == date(2030, 3, 1)
        return row.why_not

    assert why_not().startswith("not within a year of the first dose: stops at ")
    assert why_not(by="2028-03-01").startswith("too late: stops at ")
    assert why_not().endswith(", ready 2030-03-01")
