"""Pellets of poultry manure wait before a harvest as raw manure does, unless they were treated."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.cautions import cautions_for
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
BedWith = Callable[..., tuple[Site, Option]]
FEED, PELLETS = {"feed": {"nitrogen": "4 g/m2"}}, {"like": "pelleted poultry manure"}
TREATED = {**PELLETS, "flags": ["treated"]}
FROST = {"annual_mean": "12 degC", "first_frost": "10-30"}


@pytest.mark.parametrize(
    ("harvest", "raw", "open_"),
    [
        # 120 days before 29 June is 1 March, the last that is open: not less than so many (7 CFR 205.203)
        ("06-28", True, False),
        ("06-29", True, True),
        # 90 days before 30 May
        ("05-29", False, False),
        ("05-30", False, True),
    ],
)
def test_pellets_wait_as_raw_manure_does(bed_with: BedWith, harvest: str, raw: bool, open_: bool) -> None:
    """From 1 March it is 120 days to 29 June, and 90 to 30 May: nearer than that none goes on before the frost."""
    place = {"harvest_from": harvest, "eaten_raw": raw}
    _, row = bed_with(FEED, PELLETS, place, horizon="1 year", climate=FROST)
    assert row.feasible is open_
    assert row.decision.ceiling == ("" if open_ else "raw_manure")


@pytest.mark.parametrize(
    ("stuff", "place"), [(TREATED, {"harvest_from": "05-01", "eaten_raw": True}), (PELLETS, {})]
)
def test_treated_pellets_and_beds_without_a_harvest_do_not_wait(
    bed_with: BedWith, stuff: dict[str, Any], place: dict[str, Any]
) -> None:
    """4 g/m2 on 10 m2 are 40 g: 35 % of 3.7 % are 12.95 g in each kg, so 3.09 kg on the first day."""
    _, row = bed_with(FEED, stuff, place, horizon="1 year")
    assert row.feasible
    [dose] = row.decision.doses
    assert dose.day == date(2027, 3, 1)
    assert dose.material.wet_mass(dose.loose) == pytest.approx(0.04 / (0.037 * 0.35))


@pytest.mark.parametrize(("stuff", "told"), [(PELLETS, True), (TREATED, False)])
def test_the_caution_says_how_to_tell_that_they_were_treated(
    site_of: SiteOf, bed: Describe, stuff: dict[str, Any], told: bool
) -> None:
    """It stands beside raw pellets, with the words to write; beside treated ones neither it nor the wait does."""
    ways = [{"name": "shop", "buy": {"material": "thing", "price": "1 EUR/kg"}}]
    answer = options(site_of([bed(FEED)], ways, materials={"thing": stuff}))
    said = {entry.caution.key: entry.caution.text for entry in cautions_for(answer)}
    assert ("pellets-raw" in said, "raw-manure-wait" in said) == (told, told)
    assert not told or '"flags: [treated]"' in said["pellets-raw"]
