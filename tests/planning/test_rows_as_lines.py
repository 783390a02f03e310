"""Rows of options, written as lines of a plan: they meet what the row meets."""

from __future__ import annotations

from datetime import date

import pytest
from plan_lines import check_never_dearer, planned

from barrowful.answers.choices import whole_site
from barrowful.answers.options import Answer, options
from barrowful.planning.proof import lines_of_parts, proved
from barrowful.site.load import load

HEAD = """
site: Field
currency: EUR
start: 2027-03-01
soil: {organic_matter: 2 %, bulk_density: 1.3 g/cm3, clay: 20 %}
"""
#: A raise without a date, of leaf that comes from the second year on, and a dressing of the same, dug in before it.
WITHOUT_A_DATE = f"""{HEAD}
places:
  - name: bed
    kind: bed
    shape: {{area: 5 m2}}
    needs: [dress: {{depth: 2 cm, dug: true}}, raise: {{organic_matter: 2.1 %, depth: 20 cm}}]
ways: [{{name: strip, grow: {{plant: comfrey, area: 48 m2}}}}]
"""
#: Four hours are enough where each part is dug into a share of the ground, and not for all of it each time.
HOURS = f"""{HEAD}
horizon: 2 years
labour: {{hourly_value: 25 EUR/h, hours_per_week: 2 h}}
limits: {{hours: 4 h}}
places:
  - name: pot
    kind: pot
    shape: {{area: 10 m2}}
    limits: {{lift: [suits]}}
    harvest_from: 07-15
    needs: [raise: {{organic_matter: 2.3 %, depth: 15 cm, by: 2028-09-01}}]
ways:
  - {{name: vetch, grow: {{plant: hairy vetch, area: 53 m2, planted: 2026-09-13, displaces: 9 EUR}}}}
  - {{name: yard, buy: {{material: manure compost, price: 39 EUR/load, load: 1 m3}}}}
"""
#: Compost in two years' lots over manure that was spread before and rots faster than it.
OVER_MANURE = """
site: Field
currency: EUR
start: 2027-03-01
horizon: 18 months
materials:
  dark stuff:
    {class: compost, density: 600 kg/m3, moisture: 45 %, carbon: 22 %, in_place: 88 %, decay: 0.8 /year,
    humus: 70 %, lasts: 2 years}
places: [{name: tree, kind: tree, count: 2, shape: {ring: {radius: 130 cm}}, needs: [cover: {depth: 5 cm}]}]
ways: [{name: own, have: {material: dark stuff, amount: 400 L, per_year: true}}]
history: [{date: 2026-11-20, place: tree, material: horse manure, depth: 8 mm}]
"""
#: Chip to a depth as spread, over a dressing of compost that settles otherwise.
OVER_COMPOST = """
site: Field
currency: EUR
start: 2027-03-01
materials:
  dark stuff: {class: compost, density: 600 kg/m3, moisture: 45 %, lasts: 2 years}
  chipped wood:
    {class: wood, density: 280 kg/m3, moisture: 45 %, carbon: 48 %, in_place: 80 %, decay: 0.35 /year,
    humus: 40 %, lasts: 2 years}
places:
  - {name: bed, kind: bed, shape: {area: 3 m2}, needs: [dress: {depth: 8 mm}, cover: {depth: 5 cm, settled: false}]}
ways:
  - {name: chip, have: {material: chipped wood, amount: 1000 L}}
  - {name: yard, buy: {material: dark stuff, price: 17 EUR/m3}}
"""


def answer_of(text: str) -> Answer:
    """Return the options of a site file."""
    return options(load(text.encode(), "field.yaml").site)


@pytest.mark.parametrize("text", [WITHOUT_A_DATE, HOURS])
def test_a_row_is_met_as_lines_too(text: str) -> None:
    """Whatever a row meets its lines meet, and the plan is no dearer."""
    answer = answer_of(text)
    check_never_dearer(answer, planned(answer))


def test_what_lies_under_a_cover_rots_at_its_own_rate() -> None:
    """The second lot makes up what the first lost, and what the manure under it did, which is more."""
    answer = answer_of(OVER_MANURE)
    row = whole_site(answer)[0]
    assert row.places_met == {("cover", "tree")}
    assert proved(answer, lines_of_parts(row.together.parts)).meets(row.places_met)


def test_what_lies_under_a_cover_is_a_part_of_it_as_spread() -> None:
    """Of 5 cm as spread 8 mm are there, of whatever stuff: 42 mm of chip are put on."""
    answer = answer_of(OVER_COMPOST)
    row = whole_site(answer)[-1]
    assert row.places_met == {("dress", "bed"), ("cover", "bed")}
    first = next(dose for part in row.together.parts if part.need == "cover" for dose in part.doses)
    assert first.loose == pytest.approx(0.042 * 3)
    assert proved(answer, lines_of_parts(row.together.parts)).meets(row.places_met)


def test_the_year_of_a_raise_begins_with_its_own_first_dose() -> None:
    """A dressing of the spring before does not have it due a year after that: its own first dose is of the winter."""
    answer = answer_of(WITHOUT_A_DATE)
    row = whole_site(answer)[0]
    dressed, raised = (
        min(dose.day for part in row.together.parts if part.need == kind for dose in part.doses)
        for kind in ("dress", "raise")
    )
    assert dressed < raised
    carried = proved(answer, lines_of_parts(row.together.parts))
    assert carried.meets(row.places_met)
    assert carried.whole.ready_on is not None
    assert date(2029, 3, 1) < carried.whole.ready_on <= raised.replace(year=raised.year + 1)
    plan = planned(answer)
    assert plan is not None
    assert plan.whole.places_met == row.places_met
