"""A plan as it is written is judged by what it does: a part of what is wanted does not meet a need."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from barrowful.answers.advice import advice
from barrowful.answers.choices import WholeSite, your_plan
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
LIFTED = {"lift": ["yearly_depth"]}


def plan_of(
    site_of: SiteOf,
    bed: Describe,
    buy: Describe,
    need: dict[str, Any],
    *lines: str,
    stuff: str = "dark stuff",
    **more: Any,
) -> WholeSite:
    """Return a plan of one stuff for a bed of 10 m2, each line an amount and a day."""
    kind = next(iter(need))
    typed = (line.split(" on ") for line in lines)
    written = [
        {"place": "bed", "need": kind, "way": "yard", "amount": amount, "date": day} for amount, day in typed
    ]
    site = site_of([bed(need, area=10, limits=LIFTED)], [buy(material=stuff)], plan=written, **more)
    return your_plan(options(site))


@pytest.mark.parametrize(("amount", "share"), [("200 L", 1.0), ("100 L", 0.5), ("20 L", 0.1)])
def test_a_dress_is_met_as_far_as_it_goes(
    site_of: SiteOf, bed: Describe, buy: Describe, amount: str, share: float
) -> None:
    """Two centimetres on 10 m2 are 200 L."""
    whole = plan_of(site_of, bed, buy, {"dress": {"depth": "2 cm"}}, f"{amount} on 2027-04-01")
    [part] = whole.together.parts
    assert part.decision.met_share == pytest.approx(share)
    assert whole.met == (("dress",) if share == 1 else ())
    assert share == 1 or f"Not met: dress, bed: {share:.0%} of what is wanted." in advice(whole)


def test_work_that_is_soon_done_is_not_late(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A plan that meets no need is over no limit of hours: its work takes an hour of ten a week."""
    need, on = {"dress": {"depth": "2 cm"}}, "100 L on 2027-04-01"
    plenty = plan_of(site_of, bed, buy, need, on, labour={"hours_per_week": "10 h"})
    assert (plenty.met, plenty.over) == ((), "")
    few = plan_of(site_of, bed, buy, need, on, labour={"hours_per_week": "1 min"}, horizon="2 months")
    assert few.over == "the work is not done within the horizon"


def test_two_lines_meet_what_one_does_not(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Each line is judged by all that is put on its place."""
    need = {"dress": {"depth": "2 cm"}}
    both = plan_of(site_of, bed, buy, need, "120 L on 2027-04-01", "80 L on 2027-04-02")
    assert both.met == ("dress",)


def test_a_season_that_is_not_fed_is_not_met(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Fed in one year of three, and with enough for that year, a third is met."""
    need = {"feed": {"nitrogen": "1 g/m2"}}
    fed = partial(
        plan_of, site_of, bed, partial(buy, price="2 EUR/kg"), need, horizon="3 years", stuff="feather meal"
    )
    assert fed("1 kg on 2027-04-01").met == ()
    assert fed(*(f"1 kg on {year}-04-01" for year in (2027, 2028, 2029))).met == ("feed",)


def test_a_raise_by_half_is_half_met(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """What half the doses raise is half the gain; twice as much is met."""
    need = {"raise": {"organic_matter": "3 %", "depth": "15 cm", "by": "2028-03-01", "hold": "0 days"}}
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3"}
    whole, half = (
        plan_of(site_of, bed, buy, need, f"{amount} on 2028-03-01", soil=soil).together.parts[0].decision
        for amount in ("20 m3", "0.1 m3")
    )
    assert whole.feasible
    assert not half.feasible
    tenth = plan_of(site_of, bed, buy, need, "0.01 m3 on 2028-03-01", soil=soil).together.parts[0].decision
    assert half.met_share == pytest.approx(10 * tenth.met_share)


def test_a_cover_that_is_not_kept_up_is_not_met(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """One layer and no top-up is not kept up over six years; a thin one is as deep as it is."""
    need = {"cover": {"depth": "5 cm", "settled": False}}
    once = plan_of(site_of, bed, buy, need, "500 L on 2027-04-01", horizon="6 years").together.parts[0]
    assert once.decision.why_not.startswith("not kept up from 20")
    thin = plan_of(site_of, bed, buy, need, "100 L on 2027-04-01").together.parts[0].decision
    assert (thin.met_share, thin.why_not) == (pytest.approx(0.2), "20% of the depth")
