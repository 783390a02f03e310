"""Sizes: whatever figures a material lacks, a need gets a row, and one that no way serves says why."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from plan_sites import NEEDS, SOIL

from barrowful.answers.sizes import sizes, sizes_by_way, unserved
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]

FIGURES = {
    "density": "600 kg/m3", "moisture": "45 %", "organic_matter": "42 %", "carbon": "22 %", "nitrogen": "1.4 %",
    "phosphorus": "0.25 %", "potassium": "0.9 %", "in_place": "88 %", "decay": "0.8 /year", "humus": "70 %",
    "available_nitrogen": "5 %", "lasts": "2 years",
}  # fmt: skip


@draws(120)
@given(st.sets(st.sampled_from(sorted(FIGURES))), st.sampled_from(["compost", "wood", "green", "soil"]))
def test_a_report_that_lacks_figures(
    site_of: SiteOf, bed: Describe, buy: Describe, known: set[str], sort: str
) -> None:
    """Stuff with any of its figures missing gets a row for every need: served, or with what it lacks."""
    every = [{kind: words} for kind, each in NEEDS.items() for words in each]
    places = [bed(need, name=f"bed {number}") for number, need in enumerate(every)]
    stuff = {"class": sort, **{name: FIGURES[name] for name in sorted(known)}}
    site = site_of(places, [buy(material="report")], materials={"report": stuff}, soil=SOIL)
    rows = sizes(site)
    assert [row.place.name for row in rows] == [place["name"] for place in places]
    for row in rows:
        assert (row.loose is None) == (row.way == "") == bool(row.why_not)
        assert {way for way, _ in row.why_not} <= {"yard"}
    assert [row.place for row in sizes_by_way(site)[1]] == [row.place for row in rows if row.way]


def test_catalogue_sand_beside_a_feed(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Sand feeds nothing; two beds that want phosphorus are told so in one sentence."""
    feed = {"feed": {"phosphorus": "2 g/m2"}}
    site = site_of([bed(feed, name="one"), bed(feed, name="two")], [buy("pit", material="sand")])
    sentences = unserved(sizes(site))
    assert sentences == [
        "feed, one and 1 more: no way can serve it (pit: sand counts as soil, which fills and serves no other need)."
    ]


def test_a_way_that_serves_says_nothing(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Where the second way can serve, the row is its row and nothing is said of the first."""
    ways = [buy("pit", material="sand"), buy("yard")]
    site = site_of([bed({"feed": {"phosphorus": "2 g/m2"}})], ways)
    assert [row.way for row in sizes(site)] == ["yard"]
    assert unserved(sizes(site)) == []
