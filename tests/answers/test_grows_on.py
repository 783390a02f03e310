"""What a crop stands on: what is cut and dropped there serves that place, is not carried, and takes from it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
import yaml

import barrowful
from barrowful.catalogue.materials import Material
from barrowful.measures.problems import SiteProblems
from barrowful.needs.bounds import bounds_of


def beans(name: str = "beans", area: str = "7.2 m2", **terms: Any) -> dict[str, Any]:
    """Return field beans that stood over winter."""
    return {"name": name, "grow": {"plant": "field beans", "area": area, "planted": "2026-10-15", **terms}}


def loaded(*ways: dict[str, Any]) -> barrowful.LoadedSite:
    """Return a site of two beds of 7.2 m2 that are fed, and of some ways."""
    beds = [
        {
            "name": name,
            "kind": "bed",
            "shape": {"rectangle": ["6 m", "1.2 m"]},
            "needs": [{"feed": {"nitrogen": "1 g/m2"}}],
        }
        for name in ("cabbage", "potato")
    ]
    plain = {
        "site": "In place",
        "currency": "GBP",
        "start": "2027-01-15",
        "horizon": "1 year",
        "climate": {"annual_mean": "10 degC", "last_frost": "05-01", "first_frost": "10-20"},
        "soil": {"organic_matter": "3 %"},
        "places": beds,
        "ways": list(ways),
    }
    return barrowful.load(yaml.safe_dump(plain, sort_keys=False).encode())


def rows(report: Any, table: str, **wanted: Any) -> list[dict[str, Any]]:
    """Return the rows of a table that have some values."""
    return [row for row in report.table(table).rows if all(row[key] == of for key, of in wanted.items())]


def test_what_is_dropped_where_it_grows_serves_that_place() -> None:
    """Of two beds only the one with the beans is fed by them; carried, the same beans may feed either."""
    dropped = barrowful.options(loaded(beans(grows_on="potato", in_place="true")), by="place")
    assert {row["place"] for row in rows(dropped, "options") if row["met_percent"]} == {"potato"}
    carried = barrowful.options(loaded(beans(grows_on="potato")), by="place")
    assert {row["place"] for row in rows(carried, "options") if row["met_percent"]} == {"cabbage", "potato"}


def test_what_is_dropped_is_not_carried() -> None:
    """Two ways, one a bed, feed both beds with less work than when they are carried."""
    ways = [("beans 1", "cabbage"), ("beans 2", "potato")]
    hours = {}
    for in_place in ("true", "false"):
        site = loaded(*(beans(name, grows_on=on, in_place=in_place) for name, on in ways))
        report = barrowful.options(site)
        [row] = rows(report, "whole_site", way="cheapest for each need")
        assert (row["needs_met"], row["places_met"]) == ("feed", 2)
        hours[in_place] = row["hours"]
    assert hours["true"] < hours["false"]


def test_the_ledger_takes_from_the_place_it_grows_on() -> None:
    """No strip runs down: the bed gains what the beans took from the air, and no phosphorus."""
    report = barrowful.ledger(loaded(beans(grows_on="potato", in_place="true")), way="beans")
    assert {row["zone"] for row in rows(report, "ledger", sort="place")} == {"potato"}
    assert not rows(report, "ledger", sort="strip")
    [nitrogen] = rows(report, "ledger", zone="potato", nutrient="nitrogen")
    assert nitrogen["balance_g"] == pytest.approx(nitrogen["fixed_g"])
    [phosphorus] = rows(report, "ledger", zone="potato", nutrient="phosphorus")
    assert phosphorus["balance_g"] == pytest.approx(0)
    assert "builds up" not in (phosphorus["remark"] or "")


@pytest.mark.parametrize("test", ["high", "very high"])
def test_what_is_dropped_there_brings_no_phosphorus(test: str) -> None:
    """The bed has of it what it had: a high test bars the same beans carried there, and not these."""
    rich = {"soil.phosphorus_test": test}
    for where, serves in ({"grows_on": "potato", "in_place": "true"}, True), ({"grows_on": "cabbage"}, False):
        site = loaded(beans(**where)).with_values(rich)
        of_potato = rows(barrowful.options(site, by="place"), "options", place="potato")
        assert [bool(row["met_percent"]) for row in of_potato] == [serves]
        assert [row["ceiling"] for row in of_potato] == [None if serves else "phosphorus"]


def test_the_nitrogen_of_what_is_dropped_there_is_no_manure() -> None:
    """A farm's most is of what is spread; a limit of the grower's own counts all, what grew there too."""
    site = loaded(beans(grows_on="potato", in_place="true")).site
    [potato] = [place for place in site.places if place.name == "potato"]
    [carried] = loaded(beans(grows_on="potato")).site.ways

    def names(material: Material, **limits: Any) -> set[str]:
        ruled = replace(potato, limits=replace(potato.limits, **limits))
        return {bound.name for bound in bounds_of(ruled, "feed", True, material)}

    [dropped] = site.ways
    assert "nitrogen" in names(carried.material, farm=True)
    assert "nitrogen" not in names(dropped.material, farm=True)
    assert "nitrogen" in names(dropped.material, farm=True, nitrogen=0.01)


def test_dropped_where_no_place_is_named_is_said_to_be_carried() -> None:
    """Without the place it is as if it were carried, and the file's warning says so."""
    said, silent = loaded(beans(in_place="true")), loaded(beans())
    assert any("nothing says on which place it grows" in str(warning) for warning in said.warnings)
    assert not any("on which place" in str(warning) for warning in silent.warnings)
    told = [rows(barrowful.options(site), "options") for site in (said, silent)]
    assert told[0] == told[1]


@pytest.mark.parametrize(
    ("terms", "code"),
    [
        ({"grows_on": "potato", "area": "14.4 m2"}, "no-room"),
        ({"grows_on": "nowhere"}, "unknown-place"),
    ],
)
def test_what_has_no_room_is_refused(terms: dict[str, str], code: str) -> None:
    """A crop on more ground than its place has, or on a place that is not there."""
    with pytest.raises(SiteProblems) as refused:
        loaded(beans(**terms))
    assert code in {problem.code for problem in refused.value.problems}
