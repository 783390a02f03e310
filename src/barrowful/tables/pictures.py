"""The charts of answers: what is drawn of each, for the writers of charts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from barrowful.measures.money import currencies, rounded
from barrowful.tables.writers.chart import Chart, Point, stairs


def frontier_chart(site_name: str, currency: str, points: Sequence[tuple[str, date, Decimal]]) -> Chart:
    """Return the chart of the least cash for each day by which everything is ready, from label, day, cash.

    >>> rows = [("now", date(2027, 5, 1), Decimal(1420)), ("chip", date(2028, 3, 1), Decimal("980.5"))]
    >>> frontier_chart("Orchard", "EUR", rows).about
    'Least cash falls from 1,420.00 EUR with all ready on 2027-05-01 to 980.50 EUR on 2028-03-01.'
    """
    chart = Chart(
        title=f"{site_name}: least cash against the day everything is ready",
        about="",
        days="everything ready on",
        values="least cash",
        unit=currency,
        decimals=currencies()[currency],
        points=tuple(Point(label=name, day=day, value=rounded(cash, currency)) for name, day, cash in points),
        staircase=True,
    )
    return replace(chart, about=_about(chart))


def _about(chart: Chart) -> str:
    """Return what a frontier shows, in a sentence."""
    corners = stairs(chart.points)
    if not corners:
        return "There is no day by which everything can be ready."
    (first, most), (last, least) = corners[0], corners[-1]
    if len(corners) == 1:
        return (
            f"Least cash is {chart.told(most)} with all ready on {first.isoformat()}, and falls no further."
        )
    return (
        f"Least cash falls from {chart.told(most)} with all ready on {first.isoformat()} "
        f"to {chart.told(least)} on {last.isoformat()}."
    )
