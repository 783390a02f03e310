"""A cover that smothers grass: as deep as is published for that, of mulch."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.cautions import cautions_for
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]


@pytest.mark.parametrize(
    ("material", "words", "met"),
    [
        ("arborist chip", {"smother": True}, True),
        ("straw", {"smother": True}, True),
        ("green compost", {"smother": True}, False),
        ("arborist chip", {"depth": "12 cm"}, False),
        ("arborist chip", {"depth": "13 cm", "smother": True}, False),
    ],
)
def test_mulch_may_lie_as_deep_as_smothers(
    site_of: SiteOf, bed: Callable[..., dict[str, Any]], material: str, words: dict[str, Any], met: bool
) -> None:
    """UC Master Gardeners lay 4 to 5 in over cardboard; else chip and straw lie 4 in deep at most (Iowa State)."""
    ways = [{"name": "crew", "buy": {"material": material, "price": "10 EUR/m3"}}]
    [row] = options(site_of([bed({"cover": words})], ways, horizon="1 year")).options
    assert row.feasible is met
    assert (row.decision.ceiling == "cover_depth") is not met


@pytest.mark.parametrize(("words", "told"), [({"smother": True}, True), ({"depth": "8 cm"}, False)])
def test_what_smothers_lies_on_card(
    site_of: SiteOf, bed: Callable[..., dict[str, Any]], words: dict[str, Any], told: bool
) -> None:
    """The depth is published for mulch over card on mown grass: whoever lays it is told to mow and lay card."""
    ways = [{"name": "crew", "buy": {"material": "arborist chip", "price": "10 EUR/m3"}}]
    found = cautions_for(options(site_of([bed({"cover": words})], ways, horizon="1 year")))
    assert ("smother-on-card" in [one.caution.key for one in found]) is told
