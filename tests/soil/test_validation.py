"""The page of field results: it is what the program says now, it is reckoned right, and it keeps its word."""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from datetime import date
from statistics import median
from typing import Any

import pytest
from scripts import DOCS, load_file

from barrowful.catalogue.materials import material

WRITTEN = tomllib.loads((DOCS / "validation.toml").read_text("utf-8"))
PAGE = load_file(DOCS / "validation.py")
PUT, THERE = PAGE.rows()


def test_the_page_is_what_the_program_says_now() -> None:
    """What stands in docs/validation.md is what the data and the program give."""
    assert PAGE.page() == (DOCS / "validation.md").read_text("utf-8")


def test_the_ranges_hold_what_was_seen() -> None:
    """At least 80 % of the soil observations lie inside, at a median high over low of 3.5 at most."""
    soil = [row for row in PUT if row.phase != "bags"]
    for some in (PUT, soil):
        assert sum(row.inside for row in some) >= 0.80 * len(some)
        assert median(row.width for row in some) <= 3.5
    assert all(row.model[0] <= row.model[1] <= row.model[2] for row in [*PUT, *THERE])


def test_the_low_end_of_composts_reaches_what_was_kept_least() -> None:
    """Of every compost in the trials no less was kept than the low end says."""
    composts = {"green compost", "home compost", "manure compost"}
    names = {
        (one["name"], each["what"])
        for one in WRITTEN["experiment"]
        for each in one["treatment"]
        if each["material"] in composts
    }
    rows = [row for row in PUT if (row.experiment, row.what) in names]
    assert len(rows) >= 6
    assert all(row.model[0] <= row.seen for row in rows)


def curve(temperature: float) -> float:
    """RothC's temperature curve, nothing at and below -5 degC."""
    return 0.0 if temperature <= -5 else 47.91 / (1 + math.exp(106.06 / (temperature + 18.27)))


def by_hand(one: dict[str, Any], treatment: dict[str, Any], on: date) -> float:
    """Return what the model makes of a treatment on a day, dose by dose in closed form."""
    stuff = material(treatment["material"])
    assert stuff is not None
    months = WRITTEN["climates"][one["climate"]]["months"]
    warm = sum(map(curve, months)) / 12 / curve(15.0)
    if "balance" in one:
        warm *= 1.03 / (1 + 0.03 * math.exp(-5.247 * one["balance"] / 1000))
    on_humus = warm * math.exp(-2.519 * (one.get("clay", 20) / 100 - 0.2))
    a, h, carbon = stuff["decay"] * warm, stuff["humus"], treatment["carbon"]
    first, last = treatment["first"], treatment.get("last", on)
    fresh = humus = put = 0.0
    for year in range(first.year, on.year + 1, treatment.get("every", 10_000)):
        day = first.replace(year=year)
        if day <= min(on, last):
            age = (on - day).days / 365.25
            put, fresh = put + carbon, fresh + carbon * math.exp(-a * age)
            for share, lost in ((0.75, 0.20 * on_humus), (0.25, 0.014 * on_humus)):
                gone = math.exp(-lost * age) - math.exp(-a * age)
                humus += carbon * share * h * a / (a - lost) * gone
    whole = {"gain": fresh + humus, "kg a tonne": 1000 * stuff["carbon"] * (fresh + humus) / put}
    return whole.get(
        treatment["sort"], 100 * (humus if treatment["sort"] == "humus" else fresh + humus) / put
    )


@pytest.mark.parametrize(
    ("one", "treatment"),
    [
        pytest.param(one, each, id=f"{one['name']}: {each['what']}")
        for one in WRITTEN["experiment"]
        for each in one["treatment"]
        if each["sort"] not in {"bag", "rate"}
    ],
)
def test_each_likely_value_is_the_sum_of_its_doses(one: dict[str, Any], treatment: dict[str, Any]) -> None:
    """The page's likely values are those of the equations, worked out apart from the program."""
    rows = [row for row in PUT if (row.experiment, row.what) == (one["name"], treatment["what"])]
    assert rows
    for row in rows:
        assert row.model[1] == pytest.approx(by_hand(one, treatment, row.on), rel=1e-9)


def test_a_range_is_judged_by_what_was_seen() -> None:
    """Inside is between low and high, or not below low where only a most was seen; a miss is a ratio."""
    row = PAGE.Row(
        experiment="x",
        fitted=False,
        what="y",
        on=date(2000, 1, 1),
        phase="plateau",
        sort="gain",
        seen=4.0,
        error=None,
        at_most=False,
        model=(1.0, 2.0, 3.0),
    )
    assert not row.inside
    assert row.miss == pytest.approx(math.log(0.5))
    limit = replace(row, at_most=True)
    assert limit.inside
    assert limit.miss == 0
    assert not replace(limit, model=(5.0, 6.0, 7.0)).inside
    assert replace(row, model=(0.0, 0.01, 3.0)).miss == pytest.approx(-math.log(10))
