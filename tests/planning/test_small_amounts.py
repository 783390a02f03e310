"""Amounts of a plan that only rounding left over: they are no lines, and the plan can be written."""

from __future__ import annotations

from plan_lines import check_carried_out, planned

from barrowful.answers.options import options
from barrowful.planning.proof import LEAST
from barrowful.site.load import load

#: Compost on hand that is just enough for two dressings; of what is left over nothing is spread.
SITE = b"""
site: Field
currency: EUR
start: 2027-03-01
horizon: 2 years
materials:
  dark stuff: {class: compost, density: 600 kg/m3, moisture: 45 %, carbon: 22 %, in_place: 88 %,
               decay: 0.8 /year, humus: 70 %, lasts: 2 years}
  chipped wood: {class: wood, density: 280 kg/m3, moisture: 45 %, carbon: 48 %, in_place: 80 %,
                 decay: 0.35 /year, humus: 40 %, lasts: 2 years}
places:
  - {name: place 0, kind: bed, shape: {area: 2 m2}, count: 2, needs: [cover: {depth: 8 cm}], layer_now: 3 cm}
  - {name: place 1, kind: pot, shape: {area: 8 m2}, count: 2, needs: [dress: {depth: 1 cm}]}
  - {name: place 2, kind: bed, shape: {area: 12 m2}, needs: [dress: {dose: 2 kg/m2}]}
ways:
  - {name: way 1, have: {material: dark stuff, amount: 200 L}}
  - {name: way 2, grow: {plant: comfrey, area: 57 m2, planted: 2024-04-01}}
  - {name: way 3, have: {material: chipped wood, amount: 400 L}}
"""


def test_what_rounding_left_over_is_no_line() -> None:
    """A fifth of a cubic centimetre is not spread, everything is met without it, and all reads back the same."""
    plan = planned(options(load(SITE, "field.yaml").site))
    assert plan is not None
    amounts = [line.amount.volume for line in plan.lines if line.amount]
    assert min(loose for loose in amounts if loose is not None) >= LEAST
    assert not plan.whole.together.unmet
    check_carried_out(SITE, plan)
