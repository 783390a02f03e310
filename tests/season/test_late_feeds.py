"""A feed that nobody put on by the end of summer: what is said where it is still done ahead of winter."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from season_sites import bought, site_text

from barrowful.jobs.safe import WASHED_OUT
from barrowful.jobs.season import season
from barrowful.site.load import load

LEEKS = {
    "name": "leeks",
    "kind": "bed",
    "shape": {"area": "20 m2"},
    "harvest_from": "11-15",
    "needs": [{"feed": {"nitrogen": "17 g/m2"}}],
}
COMPOST = {"limits": {"depth_per_year": "1 m"}}


@pytest.mark.parametrize(
    ("today", "material", "more", "told"),
    [
        (date(2027, 5, 20), "feather meal", {}, False),
        (date(2027, 8, 20), "feather meal", {}, False),
        (date(2027, 9, 20), "feather meal", {}, True),
        (date(2027, 9, 20), "green compost", COMPOST, False),
    ],
)
def test_meal_ahead_of_winter_is_told(today: date, material: str, more: dict[str, Any], told: bool) -> None:
    """Eight weeks ahead of the frost of 25 October, from 31 August on, meal for leeks is late; compost is no meal."""
    text = site_text(places=[{**LEEKS, **more}], ways=[bought(material)])
    jobs = season(load(text.encode(), "site.yaml").site, today=today).jobs
    [fed, *_] = [job for job in jobs if job.job == "feed"]
    assert fed.on >= today
    assert (WASHED_OUT in fed.told) is told
