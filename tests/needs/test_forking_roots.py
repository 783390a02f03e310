"""Roots that fork on manure, and roots that are dug among: whom it concerns is told so."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.cautions import cautions_for
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]


@pytest.mark.parametrize(
    ("crop", "material", "told"),
    [
        ("carrot", "horse manure", True),
        ("parsnip", "horse manure", True),
        ("kale", "horse manure", False),
        ("carrot", "green compost", False),
    ],
)
def test_manure_under_roots(
    site_of: SiteOf, bed: Callable[..., dict[str, Any]], crop: str, material: str, told: bool
) -> None:
    """Carrots and parsnips fork on manure (an allotment society's page), kale does not, and compost is none.

    Manure goes on for them where that is lifted alone.
    """
    ways = [{"name": "pile", "buy": {"material": material, "price": "10 EUR/m3"}}]
    answer = options(site_of([bed({"feed": {"for": crop}})], ways))
    assert any(row.decision.counted for row in answer.options) is not told
    answer = options(site_of([bed({"feed": {"for": crop}}, limits={"lift": ["suits"]})], ways))
    assert ("manure-forks-roots" in {entry.caution.key for entry in cautions_for(answer)}) is told


@pytest.mark.parametrize(
    ("kind", "dug", "told"),
    [
        ("row", True, True),
        ("tree", True, True),
        ("row", False, False),
        ("bed", True, False),
        ("pot", True, False),
    ],
)
def test_digging_among_roots(
    site_of: SiteOf, bed: Callable[..., dict[str, Any]], kind: str, dug: bool, told: bool
) -> None:
    """What is dug in round trees and in rows tears roots; on top, and in beds and pots, it does not."""
    ways = [{"name": "pile", "buy": {"material": "green compost", "price": "10 EUR/m3"}}]
    answer = options(site_of([bed({"dress": {"depth": "1 cm", "dug": dug}}, kind=kind)], ways))
    assert any(row.decision.counted for row in answer.options)
    assert ("dug-among-roots" in {entry.caution.key for entry in cautions_for(answer)}) is told


@pytest.mark.parametrize("manure", ["horse manure", "coffee grounds"])
def test_compost_of_a_heap_with_manure_forks_too(
    site_of: SiteOf, bed: Callable[..., dict[str, Any]], manure: str
) -> None:
    """A heap of muck and straw was advised for carrots beside the sentence that keeps manure from them."""
    parts = [{"material": manure, "volume": "600 L"}, {"material": "straw", "volume": "800 L"}]
    ways = [{"name": "heap", "make": {"bay": "1 m3", "bays": 2, "turn_every": "2 weeks", "from": parts}}]
    answer = options(site_of([bed({"feed": {"for": "carrot"}})], ways))
    barred = [row.decision.ceiling == "suits" for row in answer.options]
    assert barred == [manure == "horse manure"]
