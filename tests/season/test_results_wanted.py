"""A soil test that is logged without what it found: its result is asked for until the file has it."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from season_sites import bed, bought, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.season import season
from barrowful.jobs.season_told import sentences
from barrowful.site.load import load

NEEDS: dict[str, dict[str, Any]] = {
    "lime": {"ph": 6.5},
    "raise": {"organic_matter": "3 %", "depth": "15 cm", "by": "2028-03-01"},
}
KEYS = {"lime": "ph", "raise": "organic_matter"}
SOIL = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "25 %", "ph": 5.6}
WAYS = [bought(), bought("ground limestone", "lime", price="0.4 EUR/kg")]
BARE = {"date": "2028-04-20", "place": "beds"}


def seen(
    kind: str, *entries: dict[str, str], start: str = "2027-03-01", **soil: Any
) -> tuple[list[str], list[Job]]:
    """Return the sentences that ask for a result, and the soil tests, of a bed with a kind of need."""
    text = site_text(
        start, places=[bed(**{kind: NEEDS[kind]})], ways=WAYS, soil={**SOIL, **soil}, history=list(entries)
    )
    found = season(load(text.encode(), "site.yaml").site)
    asked = [sentence for sentence in sentences(found) if sentence.startswith("Result wanted")]
    return asked, [job for job in found.jobs if job.job == "soil test"]


@pytest.mark.parametrize("kind", NEEDS)
def test_a_test_without_a_result_asks_for_it_by_its_key(kind: str) -> None:
    """Nothing is asked before it is done; then its key is, by the place, the day and the name of the job."""
    asked, [test] = seen(kind)
    assert asked == []
    [asked], [done] = seen(kind, {**BARE, "job": test.name})
    assert done.done == date(2028, 4, 20)
    assert f'"{test.name}" of 2028-04-20' in asked
    assert f" {KEYS[kind]} " in asked
    assert "tested: 2028-04-20" in asked
    assert seen(kind, {**BARE, "job": "soil test"})[0] != []


@pytest.mark.parametrize("kind", NEEDS)
def test_a_dated_soil_or_a_later_result_ends_it(kind: str) -> None:
    """A soil that was tested on that day or later has it, one tested before has not; so it is with a logged result."""
    _, [test] = seen(kind)
    entry = {**BARE, "job": test.name}
    assert seen(kind, entry, tested="2027-02-10")[0] != []
    for day in ("2028-04-20", "2028-05-02"):
        assert seen(kind, entry, tested=day)[0] == []
    result = {**BARE, "date": "2028-05-02", "organic_matter": "2.4 %"}
    assert (seen(kind, entry, result)[0] == []) is (kind == "raise")


def test_the_next_seasons_file_asks_on() -> None:
    """What a test of the season before found is asked for where its need stands still, and was not dated since."""
    entry = {"date": "2026-10-05", "place": "beds", "job": "soil test, beds, lime, 1"}
    [asked], _ = seen("lime", entry)
    assert '"soil test, beds, lime, 1" of 2026-10-05' in asked
    assert seen("lime", entry, tested="2026-10-05")[0] == []
    assert seen("raise", entry)[0] == []


def test_a_test_ahead_of_what_it_is_for_goes_into_this_file() -> None:
    """An old test is done anew before lime goes on, and the season goes by it; one after it is for the next season."""
    old = {"tested": "2022-02-01"}
    _, [first, second] = seen("lime", **old)
    entries = {**BARE, "date": "2027-03-02", "job": first.name}, {**BARE, "job": second.name}
    [ahead, after], _ = seen("lime", *entries, **old)
    assert "next season" not in ahead
    assert "next season" in after
