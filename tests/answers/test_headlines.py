"""What a screen says first of orders, heaps, courses, the ledger, sizes and a season: held to their tables."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
import yaml

import barrowful
from barrowful.measures.telling import told_in
from barrowful.site.load import LoadedSite
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
    of = rows[0]["way"] or f"for {rows[0]['amount']}"
    assert first(report).startswith(f"First, on {rows[0]['on']}: {rows[0]['job']} {of}, ")
    assert first(report).endswith(f"; {len(rows)} jobs in all, {hours:,.1f} h.")


def built() -> LoadedSite:
    """Return the site with the first batch of each heap built."""
    plain = yaml.safe_load((DEMO / "odd-bucket-yard.yaml").read_text(encoding="utf-8"))
    rows = barrowful.heap(YARD).table("batches").rows
    first = {str(row["way"]): str(row["built_on"]) for row in reversed(rows)}
    plain["history"] = [{"date": day, "way": way, "job": "built"} for way, day in first.items()]
    return barrowful.load(yaml.safe_dump(plain, sort_keys=False).encode())


@pytest.mark.parametrize("done", [False, True])
def test_heaps_come_to_their_batches(done: bool) -> None:
    """What a heap brings in all, by when and for how many hours, is what its batches add up to, built or not."""
    report = barrowful.heap(built() if done else YARD)
    for line in report.answer:
        way, told = line.split(": ", 1)
        rows = [row for row in report.table("batches").rows if row["way"] == way]
        new, there = ([row for row in rows if row["recorded"] == is_] for is_ in (False, True))
        volume = sum(row["yield_m3"] for row in rows if isinstance(row["yield_m3"], float))
        hours = sum(row["hours"] for row in rows if isinstance(row["hours"], float))
        found = re.search(r" on (\S+), ([\d.]+) m3 in (\d+) batches by (\S+); ([\d,]+) h in all\.", told)
        assert found is not None
        assert found[1] == str(new[0]["ready_on"])
        assert float(found[2]) == pytest.approx(volume, rel=0.005)
        assert int(found[3]) == len(rows)
        assert found[4] == str(max(row["ready_on"] for row in rows if isinstance(row["ready_on"], date)))
        assert found[5] == f"{hours:,.0f}"
        assert len(there) == done
        for row in there:
            said = f"Built already: 1, {row['yield_m3']:.3g} m3, ready by {row['ready_on']}."
            assert told.endswith(said)
        assert ("Built" in told) == done


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


def bed(needs: str, area: str = "82 m2") -> LoadedSite:
    """Return a site of one bed with some needs, with chip to buy and a little ash."""
    text = f"""
site: A bed
currency: EUR
start: 2027-03-01
soil: {{organic_matter: 2 %, bulk_density: 1.3 g/cm3}}
places: [{{name: bed, kind: bed, shape: {{area: {area}}}, needs: [{needs}]}}]
ways:
  - {{name: chip, buy: {{material: arborist chip, price: 20 EUR/m3, step: 0.25 m3}}}}
  - {{name: ash, have: {{material: wood ash, amount: 2 kg}}}}
"""
    return barrowful.load(text.encode())


COVER = "{cover: {depth: 5 cm}}"


@pytest.mark.parametrize(("way", "unmet"), [("", {"feed"}), ("ash", {"cover", "feed"})])
def test_what_is_not_met_is_told_before_any_table(way: str, unmet: set[str]) -> None:
    """Orders and jobs name at once the kinds of need that what is followed does not meet; why stands below."""
    site = bed(f"{COVER}, {{feed: {{for: cabbage}}}}")
    for report in (barrowful.orders(site, way=way), barrowful.season(site, way=way)):
        [line] = [line for line in report.answer if line.startswith("Not met everywhere: ")]
        assert set(line.removeprefix("Not met everywhere: ").partition(";")[0].split(", ")) == unmet
        for kind in unmet:
            assert [said for said in report.further_sentences if said.startswith(f"{kind}, bed: ")]


def test_where_all_is_met_nothing_else_is_told() -> None:
    """Where every need is met there is no such line."""
    assert not [line for line in barrowful.orders(bed(COVER)).answer if line.startswith("Not met")]


def test_no_need_that_is_not_met_is_cut_off() -> None:
    """Where the first lines have no room for each reason, the needs left over are named all the same."""
    text = (DEMO / "crooked-ladle-orchard.yaml").read_text("utf-8")
    limits = "limits: {cash: 20 EUR, by: 2027-03-20, hours: 2 h}\nplaces:\n"
    report = barrowful.options(barrowful.load(text.replace("places:\n", limits, 1).encode()))
    assert first(report) == "Nothing is put on: no way meets a need."
    whole = report.table("whole_site").rows[-1]
    told = {kind for line in report.answer[1:] for kind in re.findall(r"\w+", line.partition(": ")[2])}
    assert set(str(whole["needs_unmet"]).split(", ")) <= told
    assert report.answer[-1].startswith("Not met either: ")


def test_the_ways_come_first() -> None:
    """With two needs not met and work that can be saved, a way is told all the same, and the rest below."""
    text = (DEMO / "odd-bucket-yard.yaml").read_text("utf-8")
    raised = "{raise: {organic_matter: 5 %, depth: 20 cm, by: 2028-06-01}}"
    more = f"places:\n  - {{name: long bed, kind: bed, shape: {{area: 8.4 m2}}, needs: [{raised}]}}\n"
    changed = {
        "places:\n": more,
        "start: 2027-02-20": "start: 2027-06-15",
        "by: 2027-06-01,": "by: 2028-06-01,",
        "street tree chip\n    buy: {material: arborist chip": "street tree chip\n    buy: {material: straw",
    }
    for old, new in changed.items():
        assert old in text
        text = text.replace(old, new, 1)
    chip = text.index("  - name: street tree chip"), text.index("  - name: shop pellets")
    text = text[: chip[0]] + text[chip[1] :]
    text = text.replace("        - {way: street tree chip}\n", "")
    text = text[: text.index("  - name: chip corner")] + text[text.index("materials:") :]
    text = text.replace("[street tree chip, ", "[")
    report = barrowful.options(barrowful.load(text.encode()))
    assert report.answer[1].startswith("- depot topsoil: ")
    assert sum(-(-len(line) // 96) for line in report.answer) <= 8
    told = [*report.answer, *report.sentences]
    assert [line for line in report.sentences if line.startswith("Less work: ")]
    unmet = str(report.table("whole_site").rows[-1]["needs_unmet"]).split(", ")
    assert len(unmet) == 2
    for kind in unmet:
        assert [line for line in told if line.startswith(f"Not met: {kind}, ")]


def test_a_site_without_needs() -> None:
    """Nothing is said to be met where nothing is asked for."""
    site = bed("")
    assert first(barrowful.options(site)) == "Nothing to do: no place has a need."
    assert first(barrowful.sizes(site)) == "No place has a need."
    assert first(barrowful.ledger(site)) == "In all the site neither gains nor loses nutrients."


def test_orders_are_told_as_they_stand_in_their_table() -> None:
    """A quantity is not rounded beyond what its table shows."""
    report = barrowful.orders(bed(COVER))
    assert report.table("orders").rows[0]["order_quantity"] == 5.25
    assert first(report).endswith(": 5.25 m3 of chip.")


def test_less_than_an_hour_is_told() -> None:
    """What takes part of an hour is not said to take none."""
    report = barrowful.options(bed(COVER, "1 m2"))
    [hours] = [row["hours"] for row in report.table("options").rows if row["way"] == "chip"]
    assert isinstance(hours, float)
    assert f"; {hours:.1g} h; " in first(report)
    assert 0 < hours < 0.5


@pytest.mark.parametrize(("measures", "warmth"), [("metric", "15 degC"), ("customary", "59 degF")])
def test_the_climate_that_is_assumed(measures: str, warmth: str) -> None:
    """What a file leaves out is assumed in the measures that are asked for."""
    with told_in(measures):
        [warning] = bed(COVER).warnings
    assert f"decay is reckoned at {warmth} and moist" in str(warning)


def test_a_place_that_gets_nothing_is_not_named() -> None:
    """What is put on is told for the places that get some of it."""
    text = (
        "{site: Two, currency: EUR, start: 2027-03-01, ways: [{name: chip, buy: {material: arborist chip, price: 9 EUR/m3}}],"
        " places: [{name: mulched, kind: bed, shape: {rectangle: [9 m, 1 m]}, layer_now: 20 cm, needs: [{cover: {depth: 8 cm}}]},"
        " {name: bare, kind: bed, shape: {rectangle: [9 m, 1 m]}, needs: [{cover: {depth: 8 cm}}]}], horizon: 1 year}"
    )
    told = barrowful.options(barrowful.load(text.encode())).answer[1]
    assert "cover bare, " in told
    assert "mulched" not in told


@pytest.mark.parametrize(("weeks", "told"), [(9, True), (200, False)])
def test_a_raise_that_is_late_names_the_way_and_its_day(weeks: int, *, told: bool) -> None:
    """What has it ready later, within the horizon, is named with that day."""
    text = f"""
site: Late Yard
currency: EUR
start: 2027-03-01
horizon: 2 years
soil: {{organic_matter: 2 %, clay: 20 %}}
climate: {{annual_mean: 11 degC}}
places:
  - {{name: bed, kind: bed, shape: {{area: 10 m2}}, needs: [{{raise: {{organic_matter: 2.3 %, depth: 15 cm, by: 2027-04-15}}}}]}}
ways: [{{name: yard, buy: {{material: green compost, price: 40 EUR/m3, lead: {weeks} weeks}}}}]
"""
    answer = " ".join(barrowful.options(barrowful.load(text.encode())).answer)
    assert ("Not met: raise, bed: yard has it ready on 2027-05-03: " in answer) == told
    assert "Not met: raise, bed: " in answer
