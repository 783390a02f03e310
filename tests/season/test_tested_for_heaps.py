"""What is bought for a heap is tested for weedkiller before the heap is built, as what goes on ground is."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from season_sites import bed, bought, site_text

from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, season
from barrowful.jobs.tested import UNTESTED
from barrowful.site.load import load

TEST_TAKES = timedelta(days=28)  # wsu-whatcom-2011-bioassay: four weeks allow for a slow start


def heap_of(material: str, start: str = "2027-03-01", **terms: Any) -> Season:
    """Return the season of beds that are dressed with a heap of bought stuff."""
    heap = {"bay": "1 m3", "turn_every": "2 weeks", "from": [{"way": "field"}]}
    ways = [bought(material, "field", **terms), {"name": "heap", "make": heap}]
    site = load(site_text(start, ways=ways, places=[bed(dress={"depth": "2 cm"})]).encode(), "site.yaml").site
    return season(site, way="heap")


def named(found: Season, word: str) -> list[Job]:
    """Return the jobs of a word."""
    return [job for job in found.jobs if job.job == word]


def test_hay_is_tested_before_it_is_ordered_and_the_heap_built() -> None:
    """A sample is tested for four weeks, then hay is ordered, and the heap is built of it."""
    found = heap_of("hay")
    [test], [order], [built] = named(found, "test"), named(found, "order"), named(found, "build")
    assert (test.way, test.material) == ("field", "hay")
    assert test.on + TEST_TAKES <= order.on < built.on
    assert test in built.after
    assert "weedkiller-grass" in test.cautions


def test_steps_of_a_heap_wait_with_it_and_none_is_late() -> None:
    """Turns come as long after the heap is built as they would, and are not told as late."""
    found = heap_of("hay")
    [built] = named(found, "build")
    assert built.on > date(2027, 3, 29)  # the day it could be built on untested
    assert [(turn.on - built.on).days for turn in named(found, "turn")] == [14, 28, 42, 56, 70]
    assert not found.late


def test_where_there_is_no_time_to_wait_for_a_sample_the_order_says_so() -> None:
    """Four weeks of a test and three of the lead are more than a heap waits: it is tested as it comes."""
    found = heap_of("hay", lead="3 weeks")
    [order] = named(found, "order")
    [test], [built] = named(found, "test"), named(found, "build")
    assert UNTESTED in order.told
    assert built.first >= test.first + TEST_TAKES


def test_leaves_need_no_test() -> None:
    """No caution asks for a test of leaves."""
    assert not named(heap_of("autumn leaves"), "test")


def test_a_test_that_was_begun_is_in_time_from_its_own_day() -> None:
    """A sample in pots since 3 March tells on the 31st: from the first week to after it nothing else is said.

    Were it to be begun in late March, and the order to wait for that, the compost would come too late.
    """
    need = {"organic_matter": "3 %", "depth": "15 cm", "by": "2028-03-01"}
    begun = {"date": "2027-03-03", "job": "test, yard, 1"}
    for day in (date(2027, 3, 10), date(2027, 3, 28), date(2027, 4, 2), date(2027, 4, 10)):
        for entries in ([], [begun]):
            text = site_text(places=[bed(**{"raise": need})], ways=[bought(lead="2 weeks")], history=entries)
            found = season(load(text.encode(), "site.yaml").site, today=day)
            [order] = named(found, "order")[:1]
            assert (UNTESTED in order.told) is (not entries and day > date(2027, 3, 20))
            result = date(2027, 3, 3) + TEST_TAKES
            assert not entries or order.on == max(result, day)
