"""A layer that is laid late is topped up as much later, and never before it is there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from season_sites import bed, bought, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, season
from barrowful.site.load import load

#: Chip is laid in April 2027 and topped up in May 2029.
TEXT = site_text(
    horizon="3 years",
    places=[bed("hedge", kind="row", cover={"depth": "8 cm"})],
    ways=[bought("arborist chip", "chip")],
)


def named(found: Season, word: str) -> list[Job]:
    """Return the jobs of a word."""
    return [job for job in found.jobs if job.job == word]


def season_on(today: date | None, text: str = TEXT) -> Season:
    """Return the season as it is to be done from a day on."""
    return season(load(text.encode(), "site.yaml").site, today=today)


@pytest.mark.parametrize("today", [date(2027, 6, 1), date(2027, 9, 1), date(2027, 12, 1)])
def test_a_layer_laid_late_is_topped_up_as_much_later(today: date) -> None:
    """The days from the end of its window on are added to those of the top-up, and to those of its delivery."""
    [laid], [planned] = named(season_on(None), "mulch"), named(season_on(None), "top up")
    found = season_on(today)
    [mulch], [later] = named(found, "mulch"), named(found, "top up")
    assert later.first == planned.first + (today - laid.last)
    assert mulch.on < later.on
    assert mulch in later.after
    brings, orders = named(found, "delivery")[-1], named(found, "order")[-1]
    assert orders.on < brings.on <= later.on
    assert brings.on >= planned.first + (today - laid.last)


def test_nothing_waits_while_a_layer_is_in_time() -> None:
    """On a day within the window of the first layer the top-up keeps its days."""
    [planned] = named(season_on(None), "top up")
    [later] = named(season_on(date(2027, 5, 1)), "top up")
    assert (later.first, later.last, later.on) == (planned.first, planned.last, planned.on)


def test_what_would_be_topped_up_after_the_horizon_is_not_ordered() -> None:
    """Laid two years late the layer lasts to the end: neither top-up nor what is bought for it is to do."""
    found = season_on(date(2029, 7, 1))
    assert not named(found, "top up")
    assert [job.job for job in found.jobs if job.way == "chip"] == ["ask", "order", "delivery", "mulch"]
    [not_done] = [job for job in found.dropped if job.stuff is not None]
    assert not_done.job == "top up"
    assert "lasts to the end of the horizon" in not_done.dropped


def test_what_was_laid_late_is_topped_up_later_too() -> None:
    """Logging the layer a hundred days after its window leaves the top-up where it was told."""
    laid = date(2027, 8, 26)
    told = season_on(laid)
    site = load(TEXT.encode(), "site.yaml").site
    entry = load(
        (TEXT + f"history: [{{date: {laid}, place: hedge, way: chip, amount: 2 m3}}]").encode(),
        "site.yaml",
    ).site.history
    found = season(replace(site, history=entry), today=laid)
    assert named(found, "mulch")[0].done == laid
    assert named(found, "top up")[0].first == named(told, "top up")[0].first
