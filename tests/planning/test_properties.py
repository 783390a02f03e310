"""What does not matter to a plan, and what never makes it worse."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest
from draws import cases
from plan_lines import CENT, cost_of, planned
from plan_sites import planned_site

from barrowful.answers.options import options
from barrowful.measures.problems import SiteProblems
from barrowful.site.load import load

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
#: Sites that each property is tried on.
SEEDS = range(3000, 3000 + cases(25))
FOOT, INCH = 0.3048, 0.0254


@cache
def come_to(data: bytes) -> tuple[int, float]:
    """Return how many needs of places a plan meets, and cash with hours at their value."""
    answer = options(load(data, "field.yaml").site)
    plan = planned(answer)
    return (len(plan.whole.places_met), cost_of(answer, plan.whole)) if plan else (0, 0.0)


def is_no_worse(new: tuple[int, float], old: tuple[int, float]) -> bool:
    """Say whether more is met, or as much for no more."""
    return new[0] > old[0] or (new[0] == old[0] and new[1] <= old[1] + CENT)


def without_a_way(described: Plain, seed: int) -> Plain:
    """Return a site with one way fewer, where nothing else names it; else the site."""
    name = random.Random(seed).choice(described["ways"])["name"]
    ways = [way for way in described["ways"] if way["name"] != name]
    places = [
        {**place, "ways": [each for each in place["ways"] if each != name]} if "ways" in place else place
        for place in described["places"]
    ]
    named = any(name == part.get("way") for way in ways for part in way.get("make", {}).get("from", []))
    if named or not ways or any(place.get("ways") == [] for place in places):
        return described
    return {**described, "places": places, "ways": ways}


def test_another_way_never_makes_it_worse(bytes_of: BytesOf) -> None:
    """With one way more no fewer needs are met, and as many for no more."""
    for seed in SEEDS:
        whole = planned_site(seed)
        fewer = without_a_way(whole, seed)
        assert is_no_worse(come_to(bytes_of(whole)), come_to(bytes_of(fewer))), seed


@pytest.mark.parametrize("limit", [{"cash": "25 EUR"}, {"hours": "4 h"}, {"by": "2028-03-01"}])
def test_a_looser_limit_never_makes_it_worse(bytes_of: BytesOf, limit: Plain) -> None:
    """Without a limit no fewer needs are met, and as many for no more."""
    for seed in SEEDS:
        free = {key: value for key, value in planned_site(seed).items() if key != "limits"}
        assert is_no_worse(come_to(bytes_of(free)), come_to(bytes_of({**free, "limits": limit}))), seed


def in_two(place: Plain) -> list[Plain]:
    """Return a place of two as two places of one."""
    if place["count"] != 2:
        return [place]
    return [{**place, "count": 1, "name": f"{place['name']}, {half}"} for half in ("first", "second")]


def test_places_in_two_are_the_same_places(bytes_of: BytesOf) -> None:
    """Two equal places told one by one get the same for the same money and hours, of what can be bought.

    What there is too little of is another matter: it may do for one of two.
    """
    tried = 0
    for seed in SEEDS:
        whole = {**planned_site(seed), "history": [], "limits": {"lift": ["suits"]}}
        whole["ways"] = [way for way in whole["ways"] if "buy" in way]
        names = {way["name"] for way in whole["ways"]}
        whole["places"] = [
            {**place, "needs": [need for need in place["needs"] if "fill" not in need], "count": 2}
            for place in whole["places"]
            if set(place.get("ways", [])) <= names
        ]
        if not (whole["ways"] and whole["places"]):
            continue
        halves = {**whole, "places": [half for place in whole["places"] for half in in_two(place)]}
        (met, cost), (twice, again) = come_to(bytes_of(whole)), come_to(bytes_of(halves))
        assert twice == 2 * met, seed
        assert again == pytest.approx(cost, abs=2 * CENT), seed
        tried += bool(met)
    assert tried > 0.4 * len(SEEDS)


def in_feet(text: str) -> str:
    """Return a file with areas in square feet, and depths and rings in inches."""
    squares = re.sub(r'"([\d.]+) m2"', lambda of: f'"{float(of[1]) / FOOT**2:.12f} ft2"', text)
    short = re.sub(r'"([\d.]+) cm"', lambda of: f'"{float(of[1]) / 100 / INCH:.12f} inch"', squares)
    return re.sub(r'"([\d.]+) mm"', lambda of: f'"{float(of[1]) / 1000 / INCH:.12f} inch"', short)


def test_units_do_not_matter(bytes_of: BytesOf) -> None:
    """In feet and inches a site gets the same plan: as much met, for the same money and hours."""
    for seed in SEEDS:
        data = bytes_of(planned_site(seed))
        try:
            there = come_to(in_feet(data.decode()).encode())
        except SiteProblems as refusal:
            raise AssertionError(f"{seed}: {refusal.problems}") from None
        here = come_to(data)
        assert there[0] == here[0], seed
        assert there[1] == pytest.approx(here[1], abs=2 * CENT), seed
