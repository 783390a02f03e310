"""What is left of a feed that was put on in part: told with its amount, and left off when its time is over."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from season_sites import bed, bought, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.safe import SOFT_GROWTH
from barrowful.jobs.season import Season, season
from barrowful.jobs.season_told import sentences
from barrowful.site.load import load

FED = {"feed": {"nitrogen": "17 g/m2"}}
NAME = "feed, beds, feed, meal, 1"
#: Beds of 20 m2 want 340 g; feather meal brings some 72 g of each kilogram in a season.
PART = {"date": "2027-05-10", "place": "beds", "way": "meal", "amount": "1 kg"}


def seen(today: date, *entries: dict[str, str], **about: Any) -> Season:
    """Return the season of a place that is fed with meal, with what the history tells."""
    place = {**bed(**FED), **about}
    meal = bought("feather meal", "meal", price="2 EUR/kg")
    text = site_text(places=[place], ways=[meal], history=list(entries))
    return season(load(text.encode(), "site.yaml").site, today=today)


def fed(found: Season) -> Job:
    """Return the feed that was put on in part."""
    [job] = [job for job in found.jobs if job.name == NAME]
    return job


def told(found: Season, word: str) -> list[str]:
    """Return the sentences of a season that begin with a word."""
    return [sentence for sentence in sentences(found) if sentence.startswith(word)]


def left_of(found: Season) -> str:
    """Return how the rest of the feed is told: all of it less the kilogram that is on."""
    job = fed(found)
    assert job.stuff is not None
    assert job.loose is not None
    return f"{job.stuff.wet_mass(job.loose) - 1:.1f} kg"


def test_what_is_late_says_how_much_is_left() -> None:
    """In July all but a kilogram is late, and that much is told."""
    found = seen(date(2027, 7, 10), PART)
    [late] = told(found, "Late")
    assert f'"{NAME}", {left_of(found)} of it to go, is wanted by ' in late
    assert "of it to go" not in " ".join(told(seen(date(2027, 7, 10)), "Late"))


OVER = "the season that it was for is over"
CROP = "what feeds a crop waits for the next one"


@pytest.mark.parametrize(
    ("today", "about", "why"),
    [
        (date(2027, 9, 20), {"kind": "tree"}, SOFT_GROWTH),
        (date(2027, 11, 20), {}, OVER),
        (date(2027, 9, 20), {"harvest_from": "07-01"}, CROP),
    ],
)
def test_what_is_left_lapses_as_all_of_it_would(today: date, about: dict[str, Any], why: str) -> None:
    """Too late for the whole is too late for the rest: it is told as not done, with how much it is."""
    [whole] = told(seen(today, **about), "Not done")
    found = seen(today, PART, **about)
    assert told(found, "Not done") == [whole.replace(f'"{NAME}"', f'{left_of(found)} of "{NAME}"')]
    assert f": {why}" in whole
    job = fed(found)
    assert job.done == date(2027, 5, 10)
    assert not told(found, "Late")
    assert f"; leave out the other {left_of(found)}: {why}" in job.told[0]


def test_what_is_left_off_is_not_met() -> None:
    """A season whose feed was not put on whole is not said to be ready with the part."""
    assert seen(date(2027, 11, 20), PART).ready_on is None
    assert not told(seen(date(2027, 11, 20), PART), "With each job")
