"""A fertiliser of the grower's own, described by what its label says and no more."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.instead import instead
from barrowful.answers.options import options
from barrowful.measures.problems import Problem
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Warned = Callable[..., tuple[Problem, ...]]
LABEL = {"class": "fertiliser", "nitrogen": "5 %", "phosphate": "6 %", "potash": "10 %"}
BY_WEIGHT = {"price": "20 EUR/bag", "bag": "1 kg"}
BY_VOLUME = {"price": "20 EUR/bag", "bag": "1 L"}


def parts(bed: Describe, terms: dict[str, str]) -> tuple[list[Any], list[Any]]:
    """Return a bed of 10 m2 that wants 40 g of nitrogen, and a seller of the stuff."""
    ways = [{"name": "shop", "buy": {"material": "stuff", **terms}}]
    return [bed({"feed": {"nitrogen": "4 g/m2"}}, area=10)], ways


@pytest.fixture
def assumed(warnings_of: Warned, bed: Describe) -> Callable[..., list[str]]:
    """Give a function that returns what is assumed of the stuff."""

    def told(label: dict[str, str], terms: dict[str, str], **more: Any) -> list[str]:
        found = warnings_of(*parts(bed, terms), materials={"stuff": label}, **more)
        return [one.message for one in found if one.code == "assumed"]

    return told


@pytest.mark.parametrize(
    ("more", "kilograms"),
    [
        ({}, 1.6),
        ({"density": "1.2 kg/L"}, 1.6),
        ({"density": "0.4 kg/L"}, 1.6),
        ({"available_nitrogen": "100 %"}, 0.8),
        ({"available_nitrogen": "80 %"}, 1.0),
    ],
)
def test_weight_needs_no_density(
    site_of: SiteOf, bed: Describe, more: dict[str, str], kilograms: float
) -> None:
    """40 g are wanted: of 5 % nitrogen half counts, or what is stated, 25 g in each kg; by weight all densities do."""
    [row] = options(
        site_of(*parts(bed, BY_WEIGHT), materials={"stuff": {**LABEL, **more}}, horizon="1 year")
    ).options
    assert row.feasible
    assert row.mass == pytest.approx(kilograms)
    assert row.cash == (20 if kilograms <= 1 else 40)


def test_what_is_assumed_of_its_nitrogen_is_said(assumed: Callable[..., list[str]]) -> None:
    """With its value, what it is of, and how to say otherwise; what is stated needs no word."""
    (sentence,) = assumed(LABEL, BY_WEIGHT)
    assert sentence.startswith("materials.stuff: how much of its nitrogen counts")
    assert "reckoned at 50 %, as of organic fertilisers" in sentence
    assert '"available_nitrogen: 100 %"' in sentence
    assert assumed({**LABEL, "available_nitrogen": "70 %"}, BY_WEIGHT) == []


def test_what_holds_no_nitrogen_is_not_asked_about_it(assumed: Callable[..., list[str]]) -> None:
    """Neither a salt of potassium nor what says it holds none."""
    assert assumed({"class": "fertiliser", "potash": "50 %"}, BY_WEIGHT) == []
    assert assumed({"class": "fertiliser", "nitrogen": "0 %", "potash": "50 %"}, BY_WEIGHT) == []


SOLVED = {**LABEL, "available_nitrogen": "100 %"}


def test_a_volume_tells_what_density_is_assumed(assumed: Callable[..., list[str]]) -> None:
    """A bag of litres, a litre in the history or in the plan: 800 kg/m3 stand for the density, and it is said."""
    entry = {"date": "2026-06-01", "place": "bed", "material": "stuff", "amount": "1 L"}
    line = {"place": "bed", "need": "feed", "way": "shop", "amount": "1 L"}
    for terms, more in ((BY_VOLUME, {}), (BY_WEIGHT, {"history": [entry]}), (BY_WEIGHT, {"plan": [line]})):
        (sentence,) = assumed(SOLVED, terms, **more)
        assert "the density of stuff is not known; a volume of it is reckoned at 800 kg/m3" in sentence
        assert assumed({**SOLVED, "density": "0.7 kg/L"}, terms, **more) == []


def test_a_volume_is_reckoned_at_the_density_assumed(site_of: SiteOf, bed: Describe) -> None:
    """40 g of 5 % are 0.8 kg, and at 800 kg/m3 that is one litre: one bag."""
    site = site_of(*parts(bed, BY_VOLUME), materials={"stuff": SOLVED}, horizon="1 year")
    [row] = options(site).options
    assert 1000 * (row.loose or 0.0) == pytest.approx(1.0)
    assert row.cash == 20


def test_other_stuff_still_needs_its_density(
    problems_of: Callable[..., tuple[Problem, ...]], bed: Describe
) -> None:
    """Compost by the kilogram without a density is asked about as before."""
    label = {"class": "compost", "nitrogen": "1 %", "moisture": "40 %"}
    codes = [problem.code for problem in problems_of(*parts(bed, BY_WEIGHT), materials={"stuff": label})]
    assert codes == ["missing-figure"]


NITRATE = {"class": "fertiliser", "nitrogen": "34.5 %"}


@pytest.mark.parametrize(
    ("more", "limits", "percent"),
    [
        ({"available_nitrogen": "100 %"}, {"farm": True}, 100),
        ({"available_nitrogen": "96 %", "flags": ["mineral"]}, {"farm": True}, 100),
        ({"available_nitrogen": "96 %"}, {"farm": True}, 80),
        ({"available_nitrogen": "100 %"}, {"nitrogen": "250 kg/ha"}, 83),
        ({"available_nitrogen": "100 %"}, {"farm": True, "nitrogen": "170 kg/ha"}, 57),
    ],
)
def test_a_farms_limit_on_manures_leaves_mineral_fertiliser_out(
    site_of: SiteOf, bed: Describe, more: dict[str, Any], limits: dict[str, Any], percent: int
) -> None:
    """Of 300 kg/ha wanted it lets 250 on of what is not mineral, at 96 %; a limit of the grower's own is of all."""
    beds, ways = [bed({"feed": {"nitrogen": "300 kg/ha"}}, area=10)], parts(bed, BY_WEIGHT)[1]
    site = site_of(beds, ways, materials={"stuff": {**NITRATE, **more}}, horizon="1 year", limits=limits)
    [row] = options(site).options
    assert round(100 * row.decision.met_share) == percent
    assert (row.decision.ceiling == "nitrogen") is (percent < 100)


def test_the_crops_own_limit_binds_mineral_fertiliser_too(site_of: SiteOf, bed: Describe) -> None:
    """A farm in England's nitrate zones gives carrots 180 kg/ha that plants can use at most, of whatever."""
    need = {"feed": {"for": "carrot", "nitrogen": "200 kg/ha"}}
    stuff = {**NITRATE, "available_nitrogen": "100 %"}
    ways = parts(bed, BY_WEIGHT)[1]
    site = site_of(
        [bed(need, area=10)], ways, materials={"stuff": stuff}, horizon="1 year", limits={"farm": True}
    )
    [row] = options(site).options
    assert row.decision.ceiling == "available_nitrogen"
    assert row.mass == pytest.approx(0.18 / 0.345)


def test_what_would_do_where_the_limit_on_manures_stops_a_feed(site_of: SiteOf, bed: Describe) -> None:
    """Meal stops at 250 kg/ha of its nitrogen: mineral fertiliser is named, and how to describe it."""
    ways = [{"name": "shop", "buy": {"material": "feather meal", **BY_WEIGHT}}]
    beds = [bed({"feed": {"nitrogen": "300 kg/ha"}}, area=10)]
    answer = options(site_of(beds, ways, horizon="1 year", limits={"farm": True}))
    [row] = answer.options
    would = instead(answer, row)
    assert would.startswith("mineral fertiliser, 30 g/m2 nitrogen (bed); give its label under materials")
    assert '"available_nitrogen: 100 %"' in would
    own = options(site_of(beds, ways, horizon="1 year", limits={"farm": True, "nitrogen": "250 kg/ha"}))
    assert "mineral" not in instead(own, own.options[0])
