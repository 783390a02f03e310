"""What holds for every kind of need: one that is met already, and amounts told as stuff is sold."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.options import options
from barrowful.answers.sizes import sizes
from barrowful.needs.decision import CannotServe
from barrowful.needs.dress import Dressing
from barrowful.needs.kind import NeedKind
from barrowful.needs.rows import Asked, Manner
from barrowful.site.records import Place, Site
from barrowful.supplies.registry import supplies

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
START = date(2027, 3, 1)


class Met(Dressing):
    """A dressing that says that it is met already, and leaves all else to what every kind of need has."""

    judge, manners = NeedKind.judge, NeedKind.manners

    def is_met(self, site: Site, place: Place) -> bool:
        return True


class Hopeless(Met):
    """One that nothing could meet."""

    def is_met(self, site: Site, place: Place) -> bool:
        raise CannotServe("nothing meets it")


def test_a_need_that_is_met_already_is_so_for_rows_and_plans(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Nothing is put on for it, of whatever there is; no dose at all is judged to meet it, and a plan asks for none."""
    site = site_of([bed({"dress": {"depth": "1 cm"}})], [buy()])
    [place], supply, kind = site.places, supplies(site)["yard"], Met()
    decision = kind.decide(site, [place], supply)
    assert (decision.feasible, decision.every_dose, decision.ready_on) == (True, (), START)
    judged = kind.judge(site, place, ())
    assert (judged.share, judged.why_not, judged.ready_on) == (1.0, "", START)
    assert kind.manners(Asked(site=site, place=place, portions=())) == [Manner()]


def test_a_need_that_nothing_meets_says_why(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """No place gets anything, and the reason is the kind's own."""
    site = site_of([bed({"dress": {"depth": "1 cm"}})], [buy()])
    decision = Hopeless().decide(site, site.places, supplies(site)["yard"])
    assert (decision.feasible, decision.every_dose, decision.why_not) == (False, (), "nothing meets it")
    assert all(serving.unsuited for serving in decision.servings)


@pytest.mark.parametrize(
    ("stuff", "told"),
    [
        ("wood ash", "brings 0.3 kg, 0.7 kg short by 2031-03-01"),
        ("horse manure", "brings 0.000462 m3, 0.00108 m3 short by 2031-03-01"),
    ],
)
def test_what_is_short_is_told_as_stuff_is_sold(
    site_of: SiteOf, bed: Describe, stuff: str, told: str
) -> None:
    """Of a kilogram of ash that is wanted 0.3 are there: the rest is told by weight; of manure by volume."""
    way = {"name": "pile", "have": {"material": stuff, "amount": "0.3 kg"}}
    [row] = options(site_of([bed({"dress": {"dose": "100 g/m2"}})], [way])).options
    assert row.why_not == told


def test_only_layers_and_fills_have_a_volume_of_their_own(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """The depth of soil that is raised or limed is none that stuff takes up."""
    needs: list[dict[str, Any]] = [
        {"raise": {"organic_matter": "2.3 %", "depth": "15 cm"}},
        {"lime": {"ph": 6.5}},
        {"cover": {"depth": "5 cm"}},
        {"dress": {"depth": "1 cm"}},
        {"fill": {"depth": "30 cm"}},
    ]
    site = site_of([bed(*needs)], [buy()], soil={"organic_matter": "2 %", "ph": 5.8, "clay": "20 %"})
    volumes = {row.need.kind: row.volume for row in sizes(site)}
    assert volumes == {
        "raise": None,
        "lime": None,
        "cover": pytest.approx(0.5),
        "dress": pytest.approx(0.1),
        "fill": pytest.approx(3.0),
    }
