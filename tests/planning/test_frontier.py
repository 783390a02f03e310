"""The frontier of plans: each sooner one costs more, in money and in what hours are worth."""

from __future__ import annotations

import barrowful

#: The heap that is turned is ready in July for nothing; the other in December for 5 EUR and half the hours.
SITE = b"""{site: Two heaps, currency: EUR, start: 2027-03-01, labour: {hourly_value: 8 EUR/h},
places: [{name: bed, kind: bed, shape: {area: 15 m2}, needs: [dress: {depth: 1 cm}]}], ways: [
{name: turned, make: {bay: 1 m3, from: [{material: autumn leaves, volume: 3 m3},
 {material: grass clippings, weekly: 136 L}], turn_every: 2 weeks}},
{name: left, make: {bay: 1 m3, from: [{material: straw, volume: 3 m3},
 {material: coffee grounds, weekly: 38 kg, price: 0.07 EUR/kg}]}}]}"""


def test_the_plan_is_on_its_frontier_where_hours_have_a_value() -> None:
    """Its last row is the plan, though one that is ready sooner costs less money: that costs more hours."""
    report = barrowful.plan(barrowful.load(SITE), frontier=True)
    [totals], rows = report.table("plan_totals").rows, report.table("frontier").rows
    assert rows[-1]["cash"] == totals["cash"]
    assert rows[-1]["ready_on"] == totals["ready_on"]
    assert rows[-1]["change"] == "least cost (hours at 8 EUR)"
    costs = [float(row["cash"]) + 8 * row["hours"] for row in rows]
    assert costs == sorted(costs, reverse=True)
    assert len(rows) > 1
