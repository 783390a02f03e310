"""The door for scripts: what it loads, what it gives, what it raises, and that its page is true."""

from __future__ import annotations

import doctest
import json
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import date, datetime
from functools import cache
from pathlib import Path

import pytest

import barrowful
from barrowful.cli.main import COMMANDS
from barrowful.tables.names import ASKED_WITH, NAMES
from barrowful.tables.writers.json import write_json

ROOT = Path(__file__).parents[2]
YARD = ROOT / "demo" / "odd-bucket-yard.yaml"
#: Commands that read a site and write nothing but their answer.
ASKING = set(NAMES) - {"check", "figures", "explain"}
REPORTS: dict[str, Callable[[barrowful.LoadedSite], barrowful.Report]] = {
    "options": barrowful.options,
    "sizes": barrowful.sizes,
    "orders": barrowful.orders,
    "heap": barrowful.heap,
    "course": barrowful.course,
    "ledger": barrowful.ledger,
    "season": barrowful.season,
    "whatif": lambda site: barrowful.whatif(site, {"set": {"start": date(2027, 3, 1)}}),
}
SMALL = b"""
site: Small
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC}
places: [{name: bed, kind: bed, shape: {area: 8 m2}, needs: [{cover: {depth: 5 cm}}]}]
ways: [{name: yard, buy: {material: arborist chip, price: 46 EUR/m3}}]
"""


@cache
def yard() -> barrowful.LoadedSite:
    """Return the demo of the yard, loaded once."""
    return barrowful.load(YARD)


def test_importing_the_package_loads_nothing_of_it() -> None:
    """The door is lazy: until it is used, the package is a single module."""
    script = "import sys; before = set(sys.modules); import barrowful; print(sorted({*sys.modules} - before))"
    environment = {"PYTHONPATH": str(Path(barrowful.__file__).parents[1])}
    done = subprocess.run(
        [sys.executable, "-S", "-c", script], capture_output=True, text=True, check=True, env=environment
    )
    assert set(json.loads(done.stdout.replace("'", '"'))) <= {"__future__", "barrowful"}


def test_every_name_of_the_door_is_there() -> None:
    """What the door names it has; the rest is no attribute, and no folder hides a name of the door."""
    for name in barrowful.__all__:
        assert getattr(barrowful, name).__doc__
        assert name in dir(barrowful)
        assert not (Path(barrowful.__file__).parent / name).exists()
    with pytest.raises(AttributeError, match="nothing_such"):
        _ = barrowful.nothing_such


def test_every_command_that_asks_of_a_site_has_its_function() -> None:
    """Each command that reads a site and gives tables stands in the door by its name."""
    others = {"log", "check", "figures", "begin", "schema", "explain", "report"}
    assert set(COMMANDS) - others == ASKING
    assert set(barrowful.__all__) >= ASKING
    assert set(REPORTS) | {"plan"} == ASKING


@pytest.mark.parametrize("command", REPORTS)
def test_a_report_has_all_tables_and_full_rows(command: str) -> None:
    """Every table is there by its name, and each row has every key of the columns in their order."""
    report = REPORTS[command](yard())
    assert (report.command, report.site, report.currency) == (command, "Odd Bucket Yard", "GBP")
    assert [table.name for table in report.tables] == [
        name for name in NAMES[command] if name not in ASKED_WITH
    ]
    for table in report.tables:
        assert [column.key for column in table.columns] == table.keys
        assert all(list(row) == table.keys for row in table.rows)
    with pytest.raises(KeyError, match="there are"):
        report.table("no such table")


def test_a_report_is_what_the_command_writes(capsys: pytest.CaptureFixture[str]) -> None:
    """As JSON a report is the answer of the command, byte for byte; the door itself prints nothing."""
    from barrowful.cli.main import exit_code

    report = barrowful.options(yard())
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", "")
    assert exit_code(["options", str(YARD), "--format", "json"]) == 0
    assert capsys.readouterr().out == "".join(write_json(report))


def test_a_plan_is_found_within_limits_given() -> None:
    """A plan takes limits as the site file has them; one that is none is wrong use, and so is too long a look."""
    site = barrowful.load(SMALL)
    plan = barrowful.plan(site, cash="200 EUR", by=date(2028, 3, 1), frontier=True)
    assert [table.name for table in plan.tables] == [
        "plan",
        "frontier",
        "clash",
        "plan_totals",
        "plan_stages",
    ]
    assert plan.table("plan").rows[0]["way"] == "yard"
    with pytest.raises(barrowful.CannotMeet):
        barrowful.plan(site, cash="1 EUR")
    for wrong in ({"cash": "200"}, {"by": "soon"}, {"days": 13}):
        with pytest.raises(barrowful.WrongUse):
            barrowful.plan(site, **wrong)


def test_other_values_are_those_of_another_file() -> None:
    """A site with values is the site that a file with them is, and the first stays as it was."""
    site = barrowful.load(SMALL)
    other = site.with_values({"places.bed.count": 3, "made_ground": True, "start": date(2027, 4, 1)})
    assert (other.site.places[0].count, other.site.start, other.site.made_ground) == (
        3,
        date(2027, 4, 1),
        True,
    )
    assert (site.site.places[0].count, site.site.start) == (1, date(2027, 3, 1))
    with pytest.raises(barrowful.SiteProblems) as wrong:
        barrowful.load(SMALL.replace(b"8 m2", b"8").replace(b"46 EUR/m3", b"46"), "small.yaml")
    assert [(each.file, each.line, each.code) for each in wrong.value.problems] == [
        ("small.yaml", 6, "bare-number"),
        ("small.yaml", 7, "wrong-currency"),
    ]
    assert all(each.column > 1 and each.message for each in wrong.value.problems)


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A file that is not there is the error of the system; a loaded site has its warnings."""
    with pytest.raises(FileNotFoundError):
        barrowful.load(tmp_path / "none.yaml")
    deep = barrowful.load(SMALL.replace(b"5 cm", b"61 cm"))
    assert [warning.code for warning in deep.warnings] == ["unusual"]
    assert barrowful.sizes(deep).warnings
    with pytest.raises(barrowful.WrongUse, match="before"):
        barrowful.season(deep, last=date(2027, 1, 1))
    with pytest.raises(barrowful.WrongUse, match="years"):
        barrowful.course(deep, years=0)
    with pytest.raises(barrowful.WrongUse):
        barrowful.course(deep, way="yard", every_way=True)


#: Arguments that are none -> what the refusal says.
WRONG: dict[str, Callable[[barrowful.LoadedSite], object]] = {
    "give a site as barrowful.load returns it, not a str": lambda site: barrowful.options("yard.yaml"),
    "not None": lambda site: barrowful.sizes(None),
    "by is": lambda site: barrowful.options(site, by="bed"),
    "cash is a text such as 400 EUR, not an int": lambda site: barrowful.plan(site, cash=400),
    "days of each year are a whole number": lambda site: barrowful.plan(site, days="4"),
    "way is a text": lambda site: barrowful.orders(site, way=3),
    "years to follow are a whole number": lambda site: barrowful.course(site, years=2.5),
    "first is a datetime.date": lambda site: barrowful.season(site, first="2027-03-01"),
    "not a datetime": lambda site: barrowful.season(site, today=datetime(2027, 3, 1)),
    "cases are names with values by path": lambda site: barrowful.whatif(site, ["dear"]),
    "'dear': an int is none": lambda site: barrowful.whatif(site, {"dear": 3}),
    "values stand by their path": lambda site: site.with_values({3: 4}),
    "draws are 100 to 100000": lambda site: barrowful.sizes(site, ranges=True, draws=1),
    "seeds are a whole number": lambda site: barrowful.options(site, ranges=True, seed=1.5),
}


@pytest.mark.parametrize("says", WRONG)
def test_wrong_arguments_are_refused_in_words(says: str) -> None:
    """None of them ends in an error of Python's own: each says what would be right."""
    with pytest.raises(barrowful.WrongUse, match=re.escape(says)):
        WRONG[says](yard())


def test_the_examples_of_the_page_run(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each example of the page gives what stands under it."""
    monkeypatch.chdir(ROOT)
    flags = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
    failed, tried = doctest.testfile(
        str(ROOT / "docs" / "library.md"), module_relative=False, optionflags=flags
    )
    assert (failed, tried > 20) == (0, True)
