"""What was done, as the ledger tells it: every entry of the history, and what all took."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from plan_sites import SOIL

from barrowful.answers.done import done, planned_again, spent
from barrowful.cli.main import exit_code
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
HISTORY = [
    {"date": "2026-12-20", "place": "bed", "material": "chipped wood", "depth": "5 cm", "hours": "90 min"},
    {
        "date": "2026-11-20",
        "place": "bed",
        "material": "dark stuff",
        "amount": "200 L",
        "hours": "2 h",
        "cash": "11.50 EUR",
        "note": "second half of the load",
    },
    {"date": "2026-10-01", "place": "bed", "organic_matter": "2.4 %", "cash": "30 EUR"},
]


def test_each_entry_by_hand(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """By its day: a test alone; 0.2 m3 at 600 kg/m3 are 120 kg; 10 m2 by 5 cm are 0.5 m3, 140 kg at 280."""
    tested, dark, wood = done(site_of([bed({"dress": {"depth": "2 cm"}})], [buy()], history=HISTORY))
    assert (tested.day, tested.material, tested.loose, tested.mass) == (date(2026, 10, 1), None, None, None)
    assert (tested.tested, tested.hours, tested.cash) == (pytest.approx(0.024), None, Decimal(30))
    assert (dark.day, dark.place, dark.material) == (date(2026, 11, 20), "bed", "dark stuff")
    assert (dark.loose, dark.mass) == (pytest.approx(0.2), pytest.approx(120))
    assert (dark.hours, dark.cash, dark.note) == (2, Decimal("11.50"), "second half of the load")
    assert (wood.loose, wood.mass, wood.hours) == (pytest.approx(0.5), pytest.approx(140), 1.5)
    assert (wood.cash, wood.note, wood.tested) == (None, "", None)


def test_what_all_took_by_hand(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Two hours and an hour and a half, 11.50 and 30; nothing is said where no entry tells any."""
    needs = [bed({"dress": {"depth": "2 cm"}})]
    assert spent(site_of(needs, [buy()], history=HISTORY)) == [
        "Done so far, as your history has it: 3.5 h in 2 entries and 41.50 EUR in 2 entries."
    ]
    assert spent(site_of(needs, [buy()], history=HISTORY[:1])) == [
        "Done so far, as your history has it: 1.5 h in 1 entry."
    ]
    assert spent(site_of(needs, [buy()])) == []


def ledger(folder: Path, history: list[dict[str, str]]) -> dict[str, Any]:
    """Return what the ledger of a small site with a history says."""
    site = {
        "site": "Field",
        "currency": "EUR",
        "start": "2027-03-01",
        "places": [{"name": "bed", "kind": "bed", "shape": {"area": "10 m2"}}],
        "history": history,
    }
    file = folder / "field.yaml"
    file.write_text(json.dumps(site), encoding="utf-8")
    with CliRunner().isolation() as (out, err, _):
        assert exit_code(["ledger", str(file), "--format", "json"]) == 0, err.getvalue()
        answer: dict[str, Any] = json.loads(out.getvalue())
    return answer


def test_the_ledger_shows_what_was_done(tmp_path: Path) -> None:
    """Hours, money and note stand beside what was put on; without a history there is no such table."""
    entry = {"date": "2026-11-20", "place": "bed", "material": "straw", "amount": "2 m3"}
    told = {"hours": "2 h", "cash": "4 EUR", "note": "wet"}
    answer = ledger(tmp_path, [{**entry, **told}])
    (row,) = next(table for table in answer["tables"] if table["name"] == "done")["rows"]
    assert (row["date"], row["place"], row["material"]) == ("2026-11-20", "bed", "straw")
    assert (row["loose_m3"], row["hours"], row["cash"], row["note"]) == (2, 2, 4, "wet")
    assert "2.0 h in 1 entry and 4.00 EUR in 1 entry" in answer["sentences"][-1]
    assert [table["name"] for table in ledger(tmp_path, [])["tables"] if table["rows"]] == ["ledger"]


def test_what_counts_of_the_season_and_what_is_planned_once_more(site_of: SiteOf, bed: Describe) -> None:
    """Lime put on since the start counts, a dressing does not; a cover counts that lay there on the start.

    Of what was spent since, the limits know nothing; of what was spent before nothing is told.
    """
    places = [
        bed({"lime": {"ph": "6.2", "depth": "15 cm"}}, {"dress": {"depth": "2 cm"}}),
        bed({"cover": {"depth": "5 cm"}}, name="other"),
    ]
    ways = [
        {"name": "lime", "buy": {"material": "ground limestone", "price": "1 EUR/kg"}},
        {"name": "chip", "buy": {"material": "chipped wood", "price": "20 EUR/m3"}},
    ]

    def told(*entries: tuple[str, str, str]) -> tuple[str, ...]:
        history = [
            {"date": day, "place": place, "way": way, "amount": "5 kg", "cash": "5 EUR", "hours": "2 h"}
            for day, place, way in entries
        ]
        limits = {"cash": "100 EUR", "hours": "40 h"}
        return planned_again(site_of(places, ways, history=history, limits=limits, soil={**SOIL, "ph": 5.6}))

    assert told(("2027-02-28", "bed", "lime")) == ()
    first, limits = told(("2027-02-28", "bed", "lime"), ("2027-03-04", "bed", "lime"))
    assert first.startswith(
        "This plans from 2027-03-01, counts for lime what your history has done since, to 2027-03-04, and"
        " plans dress once more: "
    )
    assert limits == (
        "None of the 5.00 EUR and 2.0 h that your history has spent since is taken off limits.cash and"
        " limits.hours."
    )
    assert told(("2027-03-01", "other", "chip"))[0].startswith(
        "This plans from 2027-03-01, counts for cover what your history has done since, to 2027-03-01: "
    )
    assert told(("2027-03-02", "other", "chip"))[0].startswith(
        "This plans from 2027-03-01, and once more what your history has done since, to 2027-03-02: "
    )
