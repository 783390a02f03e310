"""Sites that are odd, yet within every limit the reader states: no command ever calls them a bug."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from barrowful.cli.main import exit_code

SITE = """\
site: Odd Field
currency: EUR
start: 2027-03-01
horizon: 4 years
climate: {annual_mean: 12 degC}
soil: {organic_matter: 2 %, bulk_density: 1.3 g/cm3, clay: 20 %}
measures: {barrow: 80 L}
labour: {push: 40 m, hourly_value: 12 EUR/h}
places:
  - name: beds
    kind: bed
    shape: {rectangle: [9 m, 1.2 m]}
    count: 2
    needs:
      - cover: {depth: 8 cm}
      - feed: {nitrogen: 12 g/m2}
      - raise: {organic_matter: 4 %, depth: 15 cm}
      - fill: {volume: 300 L}
ways:
  - name: yard
    buy: {material: green compost, price: 46 EUR/m3}
  - name: heap
    make: {bay: 1 m3, turn_every: 2 weeks, from: [{way: yard}, {material: straw, weekly: 300 L}]}
  - name: patch
    grow: {plant: comfrey, area: 10 m2}
  - name: leaves
    have: {material: autumn leaves, amount: 2 m3}
"""
GOO = "materials:\n  goo: {class: green, density: 300 kg/m3}\n"
PLAN = "plan:\n  - {place: beds, need: raise, way: "

#: What is odd -> what stands in the site, and what is put in its place; an empty first part adds lines.
ODD = {
    "nothing odd": ("", ""),
    "frost all year": ("annual_mean: 12 degC", "annual_mean: -5 degC"),
    "the coldest allowed": ("annual_mean: 12 degC", "annual_mean: -30 degC"),
    "the hottest allowed": ("annual_mean: 12 degC", "annual_mean: 45 degC"),
    "the driest allowed": ("12 degC}", "12 degC, rain_less_evaporation: -3000 mm}"),
    "the wettest allowed": ("12 degC}", "12 degC, rain_less_evaporation: 6000 mm}"),
    "the longest horizon": ("horizon: 4 years", "horizon: 60 years"),
    "the shortest horizon": ("horizon: 4 years", "horizon: 1 day"),
    "the last start": ("start: 2027-03-01", "start: 2200-12-31"),
    "the first start": ("start: 2027-03-01", "start: 1900-01-01"),
    "the longest lead": ("46 EUR/m3", "46 EUR/m3, lead: 100 years"),
    "nothing but stones": ("clay: 20 %", "stones: 100 %"),
    "nothing but humus": ("organic_matter: 2 %", "organic_matter: 100 %"),
    "no humus": ("organic_matter: 2 %", "organic_matter: 0 %"),
    "nothing but clay": ("clay: 20 %", "clay: 100 %"),
    "target met already": ("organic_matter: 2 %", "organic_matter: 4 %"),
    "target of long ago": ("depth: 15 cm", "depth: 15 cm, by: 1900-01-01"),
    "target of long hence": ("depth: 15 cm", "depth: 15 cm, by: 2200-12-31"),
    "no carbon": ("", "materials: {green compost: {carbon: 0 %}}\n"),
    "no humus made": ("", "materials: {green compost: {humus: 0 %}}\n"),
    "no nitrogen": ("", "materials: {green compost: {nitrogen: 0 %}, straw: {nitrogen: 0 %}}\n"),
    "no water": ("", "materials: {green compost: {moisture: 0 %}, straw: {moisture: 0 %}}\n"),
    "all nitrogen tied up": ("", "materials: {green compost: {available_nitrogen: -100 %}}\n"),
    "lighter than air": ("", "materials: {green compost: {density: 1e-300 kg/m3}}\n"),
    "bought without moisture": ("material: green compost", "material: goo"),
    "heaped without moisture": ("material: straw", "material: goo"),
    "made without moisture": ("make: {bay", "make: {material: goo, bay"),
    "held without moisture": ("material: autumn leaves", "material: goo"),
    "dear beyond reason": ("46 EUR/m3", "1e30 EUR/m3"),
    "an hour beyond price": ("12 EUR/h", "1e30 EUR/h"),
    "a year's wage": ("12 EUR/h", "20000 EUR/year"),
    "the greatest minimum": ("46 EUR/m3", "46 EUR/m3, minimum: 1e300 kg"),
    "the smallest step": ("46 EUR/m3", "46 EUR/m3, step: 1e-300 L"),
    "the smallest truck": ("46 EUR/m3", "46 EUR/m3, truck: 1e-300 L"),
    "the smallest bag": ("46 EUR/m3", "46 EUR/bag, bag: 1e-300 L"),
    "the smallest barrow": ("barrow: 80 L", "barrow: 1e-300 L"),
    "a barrow by length": ("barrow: 80 L", "barrow: 80 cm"),
    "a barrow by mass": ("barrow: 80 L", "barrow: 80 kg"),
    "a bed smaller than dust": ("rectangle: [9 m, 1.2 m]", "rectangle: [1e-200 m, 1e-200 m]"),
    "the greatest land": ("rectangle: [9 m, 1.2 m]", "area: 100 ha"),
    "plants on one point": ("plant: comfrey", "plant: comfrey, spacing: 1e-300 m"),
    "planted in time to come": ("plant: comfrey", "plant: comfrey, planted: 2200-12-31"),
    "the smallest bay": ("bay: 1 m3", "bay: 1e-300 m3"),
    "the most bays": ("bay: 1 m3", "bays: 1000, bay: 1 m3"),
    "no push": ("push: 40 m", "push: 0 m"),
    "layers as thin as nothing": ("depth: 15 cm", "depth: 15 cm, most_per_application: 1e-300 m"),
    "never topped up": ("depth: 8 cm", "depth: 8 cm, keep: 0 %"),
    "always topped up": ("depth: 8 cm", "depth: 8 cm, keep: 100 %"),
    "planned from a patch, dated": ("", PLAN + "patch, date: 2027-06-01}\n"),
    "planned from a patch, weighed": ("", PLAN + "patch, amount: 3 kg}\n"),
    "planned from a heap, dated": ("", PLAN + "heap, date: 2027-06-01}\n"),
    "planned before the start": ("", PLAN + "yard, amount: 3 m3, date: 1999-01-01}\n"),
    "planned twice": ("", PLAN + "yard}\n" + PLAN.removeprefix("plan:\n") + "yard}\n"),
    "ranges in a range": (
        "depth: 8 cm",
        "depth: {low: {low: 1 cm, likely: 2 cm, high: 3 cm}, likely: 4 cm, high: 5 cm}",
    ),
    "a switch without its depth": ("depth: 8 cm", "smother: false"),
}


@pytest.mark.parametrize("odd", ODD)
def test_no_command_calls_it_a_bug(odd: str, tmp_path: Path) -> None:
    """Each command answers, says that nothing can be answered, or refuses the file: never exit code 70."""
    old, new = ODD[odd]
    assert old in SITE
    text = SITE.replace(old, new, 1) if old else SITE + new
    file = tmp_path / "odd.yaml"
    file.write_text(text + GOO if "goo" in text else text, encoding="utf-8")
    for command in ("options", "sizes", "orders"):
        with CliRunner().isolation() as (out, err, _):
            code = exit_code([command, str(file), "--format", "json"])
            answer, said = out.getvalue().decode(), err.getvalue().decode()
        assert code in {0, 1, 3}, f"{command}: {code}: {said}"
        assert code == 0 or not answer
        if code == 0:
            json.loads(answer, parse_constant=pytest.fail)


def test_a_range_of_two_dimensions_is_refused(tmp_path: Path) -> None:
    """A low by mass and a likely by volume cannot be put in order, so they are a problem."""
    mixed = "amount: {low: 1 kg, likely: 2 m3, high: 5 kg}"
    text = SITE.replace("amount: 2 m3", mixed)
    line = text[: text.index(mixed)].count("\n") + 1
    file = tmp_path / "odd.yaml"
    file.write_text(text, encoding="utf-8")
    with CliRunner().isolation() as (_, err, _mixed):
        assert exit_code(["sizes", str(file)]) == 1
        assert f"odd.yaml:{line}:" in err.getvalue().decode()
