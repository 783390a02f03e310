"""The plan put into the site file: what stands there then, and what other commands make of it."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from barrowful.site.load import load

Call = Callable[..., Any]
SCARCE = Path(__file__).parent / "sites" / "scarce.yaml"
ODD = """
  - {name: pears, kind: tree, shape: {ring: {radius: 1 m, collar: 20 cm}}, count: 3, needs: [{cover: {depth: 5 cm}}]}
  - {name: greens, kind: bed, shape: {area: 7.3 m2}, needs: [{feed: {nitrogen: 8 g/m2}}]}
ways:
  - {name: clover, grow: {plant: white clover, around: pears}}
  - {name: meal, buy: {material: feather meal, price: 40 EUR/bag, bag: 10 kg}}
"""


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Give a site file of its own to write to."""
    file = tmp_path / "scarce.yaml"
    file.write_bytes(SCARCE.read_bytes())
    return file


def rows(done: Any, name: str) -> list[dict[str, Any]]:
    """Return the rows of a table of an answer in JSON."""
    assert done.code == 0, done.err
    return next(table["rows"] for table in done.json["tables"] if table["name"] == name)


def test_twice_the_same_bytes(call: Call, site: Path) -> None:
    """The second time the file stays as it is, its backup too, and nothing but the plan has changed."""
    old = site.read_text("utf-8")
    first = call("plan", site, "--write")
    assert first.code == 0, first.err
    new = site.read_text("utf-8")
    assert new.startswith(old)
    assert new.removeprefix(old).startswith("plan:\n")
    assert f"lines under plan: in {site}; the file as it was is {site}.bak." in first.err
    assert (site.parent / "scarce.yaml.bak").read_text("utf-8") == old
    second = call("plan", site, "--write")
    assert (second.code, second.out) == (0, first.out)
    assert site.read_text("utf-8") == new


def test_other_commands_follow_it_at_the_same_money(call: Call, site: Path) -> None:
    """Check is content; orders, course, ledger and options follow it, at its cash, hours and day."""
    planned = call("plan", site, "--write", "--format", "json")
    (totals,) = rows(planned, "plan_totals")
    assert call("check", site, "--strict").code == 0
    for command in ("orders", "course", "ledger"):
        followed = call(command, site, "--format", "json")
        assert any(said.startswith("Follows: your plan.") for said in followed.json["sentences"]), command
        assert not any("barrowful plan" in said for said in followed.json["sentences"])
        assert followed.json["warnings"] == []
    orders = rows(call("orders", site, "--format", "json"), "orders")
    assert sum(Decimal(str(row["cash"])) for row in orders) == Decimal(str(totals["cash"]))
    whole = rows(call("options", site, "--format", "json"), "whole_site")
    (row,) = (row for row in whole if row["way"] == "your plan")
    assert row["hours"] == pytest.approx(totals["hours"], abs=1e-6)
    for key in ("cash", "cash_first_year", "ready_on", "places_met"):
        assert row[key] == totals[key], key


def test_living_covers_and_stuff_by_weight(call: Call, site: Path) -> None:
    """What is planted has neither amount nor day; what is sold by weight has kg; all reads back the same."""
    text = site.read_text("utf-8").replace("limits: {cash: 45 EUR, hours: 40 h, by: 2029-02-01}\n", "")
    site.write_text(text.replace("\nways:\n", ODD, 1), "utf-8")
    (totals,) = rows(call("plan", site, "--write", "--format", "json"), "plan_totals")
    written = site.read_text("utf-8").partition("\nplan:\n")[2].splitlines()
    assert "  - {place: pears, need: cover, way: clover}" in written
    fed = [line for line in written if "way: meal" in line]
    assert fed
    assert all(" kg, date: " in line for line in fed)
    assert all(" m3, date: " in line for line in written if "way: meal" not in line and "clover" not in line)
    whole = rows(call("options", site, "--format", "json"), "whole_site")
    (row,) = (row for row in whole if row["way"] == "your plan")
    assert (row["cash"], row["places_met"]) == (totals["cash"], totals["places_met"])


def test_an_older_plan_gives_way(call: Call, site: Path) -> None:
    """Lines that stand there are replaced, all else stays."""
    text = site.read_text("utf-8")
    site.write_text(text + "plan: [{place: beds, need: dress, way: yard}]  # mine\n", "utf-8")
    assert call("plan", site, "--write").code == 0
    fresh = site.parent / "fresh.yaml"
    fresh.write_text(text, "utf-8")
    assert call("plan", fresh, "--write").code == 0
    assert load(site.read_bytes(), "site").site.plan == load(fresh.read_bytes(), "fresh").site.plan
    assert site.read_text("utf-8").startswith(text)
    assert site.read_text("utf-8").endswith("  # mine\n")


def test_a_file_that_changed_meanwhile_is_left_alone(
    call: Call, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was saved while the plan was worked out is not written over, and the plan is not for it."""
    from barrowful.reports import plan as planning

    reckon, changed = planning.plan_of, SCARCE.read_text("utf-8").replace("2.1 %", "2.4 %")

    def meanwhile(*args: Any, **more: Any) -> Any:
        site.write_text(changed, "utf-8")
        return reckon(*args, **more)

    monkeypatch.setattr(planning, "plan_of", meanwhile)
    done = call("plan", site, "--write")
    assert (done.code, done.out) == (5, b"")
    assert "was changed while the plan was worked out; nothing was written" in done.err
    assert site.read_text("utf-8") == changed


def test_nothing_met_writes_nothing(call: Call, site: Path, contents: Callable[[Path], Any]) -> None:
    """Without a plan the file stays, and has no backup."""
    before = contents(site.parent)
    assert call("plan", site, "--cash", "0 EUR", "--write").code == 3
    assert contents(site.parent) == before


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--table", "nosuch"), 2, 'there is no table "nosuch"; there are plan, clash'),
        (("--table", "frontier"), 2, 'the table "frontier" is there with --frontier'),
        (("--table", "binds", "--chart", "{}/a.svg"), 2, 'the table "binds" is there with --binds'),
        (("-o", "{}/none/a.txt"), 5, "a.txt: no such file or directory"),
        (("--chart", "{}/none/a.svg"), 5, "a.svg: no such file or directory"),
        (("-o", "{}"), 5, ": is a directory"),
    ],
)
def test_what_cannot_be_answered_is_refused_before_the_search(
    call: Call,
    site: Path,
    contents: Callable[[Path], Any],
    monkeypatch: pytest.MonkeyPatch,
    words: tuple[str, ...],
    code: int,
    said: str,
) -> None:
    """Nothing is looked for, and the site file stays as it was."""
    from barrowful.reports import plan as planning

    looked: list[object] = []
    monkeypatch.setattr(planning, "find", lambda *args: looked.append(args))
    before = contents(site.parent)
    done = call("plan", site, "--write", *(word.format(site.parent) for word in words))
    assert (done.code, done.out) == (code, b"")
    assert said in done.err
    assert not looked
    assert contents(site.parent) == before


@pytest.mark.parametrize("words", [("--frontier",), ("--chart", "{}/a.svg")])
def test_the_frontier_by_its_name(call: Call, site: Path, words: tuple[str, ...]) -> None:
    """It is there with --frontier, and with a drawing of it."""
    told = [word.format(site.parent) for word in words]
    assert rows(call("plan", site, *told, "--table", "frontier", "--format", "json"), "frontier")


NOTHING_TO_DO = """
site: Field
currency: EUR
start: 2027-03-01
soil: {ph: 6.6}
places:
  - {name: bed, kind: bed, shape: {area: 4 m2}, needs: [lime: {ph: 6.5}, feed: {nitrogen: 5 g/m2}]}
  - {name: pit, kind: bed, shape: {area: 4 m2}, needs: [fill: {depth: 20 cm}, cover: {depth: 5 cm}]}
ways:
  - {name: sand, buy: {material: sand, price: 40 EUR/m3}}
  - {name: chip, buy: {material: arborist chip, price: 0 EUR/load, load: 10 m3}}
"""


def test_a_plan_that_puts_nothing_on_says_so(call: Call, tmp_path: Path) -> None:
    """Where all that is met is met already no line is written, and nothing is said to be spared."""
    file = tmp_path / "met.yaml"
    file.write_text(NOTHING_TO_DO, "utf-8")
    done = call("plan", file, "--write")
    assert done.code == 0
    assert f"Nothing is to be put on: no line is under plan: in {file}" in done.err
    assert "Wrote" not in done.err
    assert b"Looking on" not in done.out
    assert load(file.read_bytes(), "met.yaml").site.plan == ()


@pytest.mark.parametrize("command", ["options", "orders", "course", "ledger"])
def test_without_a_plan_one_may_be_cheaper(command: str, ask: Call) -> None:
    """Commands that follow the cheapest ways say so in one sentence, outside the answer; of one way they do not."""
    said = [
        line
        for line in ask(command, SCARCE, "--format", "json").json["sentences"]
        if "barrowful plan" in line
    ]
    assert len(said) == 1
    text = ask(command, SCARCE).text
    assert "barrowful plan" not in text.split("\n\n")[0]
    if command != "options":
        assert "barrowful plan" not in ask(command, SCARCE, "--way", "yard").text
