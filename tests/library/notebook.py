"""A grower's script as a type checker sees it: it runs nothing, and ``mypy --strict`` must take it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import barrowful


def cheapest(file: Path) -> dict[str, Decimal]:
    """Return the least money for each need that some way meets."""
    try:
        site = barrowful.load(file)
    except barrowful.SiteProblems as wrong:
        first: barrowful.Problem = wrong.problems[0]
        raise SystemExit(f"{first.file}:{first.line}:{first.column} {first.code}: {first.message}") from wrong
    least: dict[str, Decimal] = {}
    for row in barrowful.options(site, by="way").table("options").rows:
        need, cash = row["need"], row["cash"]
        if row["feasible"] and isinstance(need, str) and isinstance(cash, Decimal):
            least[need] = min(cash, least.get(need, cash))
    return least


def later(site: barrowful.LoadedSite, day: date) -> list[str]:
    """Return the warnings of starting on another day."""
    moved = site.with_values({"start": day, "labour.push": "60 m"})
    reports: list[barrowful.Report] = [
        barrowful.sizes(moved, ranges=True, draws=100, seed=2),
        barrowful.orders(moved, way="yard", partial=True),
        barrowful.heap(moved, recipes=True),
        barrowful.course(moved, years=3, monthly=True),
        barrowful.ledger(moved),
        barrowful.season(moved, first=day, by="place"),
        barrowful.plan(moved, by=day, cash="400 EUR", frontier=True),
        barrowful.whatif(moved, {"more": {"places.beds.count": 3}}),
    ]
    tables: list[barrowful.Table] = [table for report in reports for table in report.tables]
    return [f"{table.name}: {len(table.rows)} rows, {', '.join(table.keys)}" for table in tables]
