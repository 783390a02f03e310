"""What a screen says first of orders, heaps, courses, the ledger, sizes and a season: held to their tables."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

import barrowful
from barrowful.answers.options import options
from barrowful.site.load import load
from barrowful.tables.report import Report

DEMO = Path(__file__).parents[2] / "demo"
YARD = barrowful.load((DEMO / "odd-bucket-yard.yaml").read_bytes())


def first(report: Report) -> str:
    """Return what a report says first."""
    return report.answer[0]


def test_the_first_orders() -> None:
    """The earliest day is told with what is ordered by it, some by name and the rest by number."""
    report = barrowful.orders(YARD)
    rows = report.table("orders").rows
    day = min(row["order_by"] for row in rows if isinstance(row["order_by"], date))
    due = [row["way"] for row in rows if row["order_by"] == day]
    assert first(report).startswith(f"Order first, by {day}: ")
    told = [way for way in due if str(way) in first(report)]
    assert first(report).endswith(f" and {len(due) - len(told)} more.") == (len(told) < len(due))
    assert told


def test_the_first_jobs() -> None:
    """The first day's jobs are told, and how many there are in all with their hours."""
    report = barrowful.season(YARD)
    rows = report.table("season").rows
    hours = sum(float(row["hours"] or 0) for row in rows if isinstance(row["hours"], float))
    assert first(report).startswith(f"First, on {rows[0]['on']}: {rows[0]['job']} {rows[0]['way']}, ")
    assert first(report).endswith(f"; {len(rows)} jobs in all, {hours:,.1f} h.")


def test_heaps_come_to_their_batches() -> None:
    """What a heap brings in all, by when and for how many hours, is what its batches add up to."""
    report = barrowful.heap(YARD)
    for line in report.answer:
        way, told = line.split(": ", 1)
        rows = [row for row in report.table("batches").rows if row["way"] == way and not row["recorded"]]
        volume = sum(row["yield_m3"] for row in rows if isinstance(row["yield_m3"], float))
        hours = sum(row["hours"] for row in rows if isinstance(row["hours"], float))
        found = re.search(r" on (\S+), ([\d.]+) m3 in (\d+) batches by (\S+); ([\d,]+) h in all\.", told)
        assert found is not None
        assert found[1] == str(rows[0]["ready_on"])
        assert float(found[2]) == pytest.approx(volume, rel=0.005)
        assert int(found[3]) == len(rows)
        assert found[4] == str(max(row["ready_on"] for row in rows if isinstance(row["ready_on"], date)))
        assert found[5] == f"{hours:,.0f}"


def test_the_ledger_of_the_whole_site() -> None:
    """What the site gains is the balance of the rows of the whole site."""
    report = barrowful.ledger(YARD)
    rows = {row["nutrient"]: row for row in report.table("ledger").rows if row["sort"] == "site"}
    told = dict(re.findall(r"([\d.]+) kg of (\w+)", first(report)))
    assert sorted(told.values()) == sorted(map(str, rows))
    for amount, nutrient in re.findall(r"([\d.]+) kg of (\w+)", first(report)):
        balance = rows[nutrient]["balance_g"]
        assert isinstance(balance, float)
        assert float(amount) == pytest.approx(balance / 1000, rel=0.005)


def test_courses_end_where_their_tables_do() -> None:
    """The last day, the soil organic matter from first to last and the mulch are those of the table."""
    report = barrowful.course(YARD)
    rows = report.table("course").rows
    assert first(report).startswith(f"By {rows[-1]['date']}: ")
    for place in dict.fromkeys(str(row["place"]) for row in rows):
        last = [row for row in rows if row["place"] == place][-1]
        mulch = last["mulch_m"]
        assert isinstance(mulch, float)
        [depth] = re.findall(rf"{place}, .*? with ([\d.]+) cm of mulch", first(report))
        assert float(depth) == pytest.approx(100 * mulch, rel=0.05)


def test_sizes_of_all_places() -> None:
    """Places and their area are counted once, whatever needs they have."""
    report = barrowful.sizes(YARD)
    areas = {row["place"]: (row["count"], row["area_m2"]) for row in report.table("sizes").rows}
    count = sum(int(many) for many, _ in areas.values() if isinstance(many, int))
    area = sum(float(of) for _, of in areas.values() if isinstance(of, float))
    assert first(report).startswith(f"{count} places, {area:,.0f} m2 in all;")


@pytest.mark.parametrize("path", sorted(DEMO.glob("*.yaml")), ids=lambda path: path.stem)
def test_nothing_is_ready_before_its_stuff_has_done_its_work(path: Path) -> None:
    """Where the work lasts longer it is ready later than the decision has it, and never sooner."""
    rows = options(load(path.read_bytes(), path.name).site).options
    both = [(row.ready_on, row.decision.ready_on) for row in rows if row.ready_on and row.decision.ready_on]
    assert both
    assert all(ready >= decided for ready, decided in both)
    told = [row for row in barrowful.options(barrowful.load(path)).table("options").rows if row["ready_on"]]
    for row in told:
        if found := re.search(r", ready ([\d-]+)", str(row["why_not"] or "")):
            assert date.fromisoformat(found[1]) <= row["ready_on"]  # type: ignore[operator]
