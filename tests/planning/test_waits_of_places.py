"""A plan may use the day on which a harvest lets stuff on again, also where no row meets every place."""

from __future__ import annotations

import barrowful

TEXT = """\
{site: Waits, currency: GBP, start: 2027-10-01, horizon: 2 years,
 climate: {annual_mean: 10 degC, last_frost: 05-05, first_frost: 10-25}, places: [
 {name: salad, kind: bed, shape: {area: 7 m2}, harvest_from: 11-10, needs: [{dress: {depth: 1 cm, dug: true}}]},
 {name: squash, kind: bed, shape: {area: 12 m2}, needs: [{dress: {depth: 3 cm, dug: true}}]}],
 ways: [{name: yard, buy: {material: green compost, price: 25 GBP/m3}}]}
"""


def test_a_plan_waits_as_rows_do() -> None:
    """The squash wants more than a year lets on, so no row is whole; the salad is dressed once its crop is off."""
    report = barrowful.plan(barrowful.load(TEXT.encode()))
    [totals] = report.table("plan_totals").rows
    assert (totals["places_met"], totals["proven"]) == (1, True)
    assert [row["day"].isoformat() for row in report.table("plan").rows] == ["2028-05-06"]
