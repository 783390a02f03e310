"""What less work would cost, held to what comes out when hours are given a value."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from barrowful.answers.advice import advice
from barrowful.answers.choices import PLAN, WholeSite, cheapest, of_way
from barrowful.answers.less_work import less_work
from barrowful.answers.options import options
from barrowful.catalogue.judgements import judgement
from barrowful.site.load import load
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
SAMPLE = Path(__file__).parents[2] / "demo" / "crooked-ladle-orchard.yaml"


@pytest.fixture
def near_and_far(site_of: SiteOf, bed: Describe, buy: Describe) -> Callable[..., Site]:
    """Give a function that returns a bed to dress from one who brings, or cheaper from one who is hours away."""

    def site(**labour: str) -> Site:
        ways = [
            buy(name="brings", price="40 EUR/m3"),
            buy(name="far", price="30 EUR/m3", box="1 m3", trip="3 h"),
        ]
        return site_of([bed({"dress": {"depth": "2 cm"}}, area=100)], ways, labour=labour)

    return site


def followed(site: Site) -> WholeSite:
    """Return the cheapest ways of a site."""
    return cheapest(options(site))


def test_an_hour_is_saved_for_what_it_costs(near_and_far: Callable[..., Site]) -> None:
    """Two rounds of three hours, and loading, save 10 a cubic metre: it is told, and for how much."""
    whole = followed(near_and_far())
    found = less_work(whole)
    assert found is not None
    assert (found.need, found.way) == ("dress", "brings")
    other = followed(near_and_far(hourly_value=f"{math.ceil(found.price)} EUR/h"))
    assert found.cash == other.bill.cash - whole.bill.cash
    assert found.hours == pytest.approx(whole.bill.hours.likely - other.bill.hours.likely)
    assert found.hours > 6
    [told] = [line for line in advice(whole) if line.startswith("Less work: ")]
    assert f"dress by brings, {found.hours:.0f} h less for {found.cash:.2f} EUR more" in told


def test_it_turns_where_an_hour_is_worth_as_much(near_and_far: Callable[..., Site]) -> None:
    """Below its price the far seller stays the cheapest, above it the other is; then nothing more is told."""
    found = less_work(followed(near_and_far()))
    assert found is not None
    for times, way in ((0.9, "far"), (1.1, "brings")):
        whole = followed(near_and_far(hourly_value=f"{times * found.price:.2f} EUR/h"))
        assert {part.way for part in whole.together.parts} == {way}
        assert less_work(whole) is None


def test_of_the_sample_the_heap_is_left_unbuilt() -> None:
    """The heap spares a bag of feed for a day's work and more; without it, it comes to what is told."""
    whole = followed(load(SAMPLE.read_bytes(), SAMPLE.name).site)
    found = less_work(whole)
    assert found is not None
    assert "two-bay heap" in {way.name for part in whole.together.parts for way in part.source.parts}
    assert (found.need, found.way) == ("feed", "garden feed")
    assert found.hours >= judgement("less_work_told") * whole.bill.hours.likely
    data = SAMPLE.read_bytes().replace(b"labour: {", b"labour: {hourly_value: 12 EUR/h, ")
    weighed = followed(load(data, SAMPLE.name).site)
    assert weighed.bill.cash == whole.bill.cash + found.cash
    assert weighed.bill.hours.likely == pytest.approx(whole.bill.hours.likely - found.hours)


def test_what_is_followed_as_asked_is_not_weighed(near_and_far: Callable[..., Site]) -> None:
    """A way that was asked for, and a plan of the grower's own, are followed without a second thought."""
    answer = options(near_and_far())
    assert less_work(of_way(answer, "far")) is None
    assert less_work(replace(cheapest(answer), title=PLAN)) is None


@pytest.mark.parametrize("lead", ["1 day", "6 weeks"])
def test_that_it_is_ready_later_is_told(site_of: SiteOf, bed: Describe, buy: Describe, lead: str) -> None:
    """Who brings it, for more, may take weeks longer: then both days stand in the line."""
    ways = [
        buy(name="brings", price="40 EUR/m3", lead=lead),
        buy(name="far", price="30 EUR/m3", box="1 m3", trip="3 h", lead="1 day"),
    ]
    whole = followed(site_of([bed({"dress": {"depth": "2 cm"}}, area=100)], ways))
    [told] = [line for line in advice(whole) if line.startswith("Less work: ")]
    later = " EUR more, but ready 2027-04-12 and not 2027-03-02; labour.hourly_value"
    assert (later in told) is (lead == "6 weeks")
    assert ("ready" in told) is (lead == "6 weeks")
