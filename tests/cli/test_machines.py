"""Files for machines: what data frames, databases and spreadsheets make of them, and how tables join."""

from __future__ import annotations

import csv
import io
import json
import shutil
import sqlite3
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pandas
import pytest

from barrowful.catalogue.materials import names
from barrowful.cli.main import COMMANDS
from barrowful.site.load import load
from barrowful.sitefile.keys.need import NEED_KINDS
from barrowful.tables.names import ASKED_WITH, NAMES
from barrowful.tables.registry import TABLES

Call = Callable[..., Any]
READING = ("options", "sizes", "orders", "heap", "course", "ledger", "season")
ORCHARD = "crooked-ladle-orchard"
#: What stands for more than one way, and for what is no material.
FOLLOWED, IN_HEAPS = {"your plan", "cheapest for each need"}, {"water", "total"}

#: A site whose names a spreadsheet would run, and one that holds what parts the names of a list.
TRICKY = """\
site: "=1+1"
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC}
places:
  - {name: "pots; small", kind: pot, shape: {area: 2 m2}, needs: [{cover: {depth: 5 cm}}]}
  - {name: '"old" bed', kind: bed, shape: {area: 8 m2}, needs: [{cover: {depth: 5 cm}}]}
  - {name: "@SUM(A1)", kind: bed, shape: {area: 9 m2}, needs: [{cover: {depth: 5 cm}}]}
ways:
  - {name: "=HYPERLINK(1)", buy: {material: arborist chip, price: 46 EUR/m3}}
  - {name: "-chip, split", buy: {material: straw, price: 40 EUR/m3}}
  - {name: heap, make: {bay: 1 m3, from: [{material: straw, volume: 1 m3}, {material: grass clippings, volume: 1 m3}]}}
"""
PLACES = {"pots; small", '"old" bed', "@SUM(A1)"}


@pytest.fixture(scope="module")
def tricky(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the site with names that a spreadsheet would run."""
    file = tmp_path_factory.mktemp("tricky") / "tricky.yaml"
    file.write_text(TRICKY, encoding="utf-8")
    return file


def rows_of(text: str) -> list[dict[str, str]]:
    """Return the rows of a csv text as any program reads them."""
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_the_names_of_tables_are_those_that_there_are() -> None:
    """What help and completion name is what the registry of tables has, in its order."""
    assert {
        name: tuple(dict.fromkeys(each.name for each in layouts)) for name, layouts in TABLES.items()
    } == NAMES
    assert set(ASKED_WITH) <= {name for tables in NAMES.values() for name in tables}


@pytest.mark.parametrize("command", NAMES)
def test_help_names_the_tables(command: str, ask: Call) -> None:
    """The help of a command names each of its tables."""
    told = " ".join(ask(command, "--help").text.split())
    assert f"Only this table. [{', '.join(NAMES[command])}]" in told


@pytest.mark.parametrize(
    ("command", "table"), [(command, table) for command in READING for table in NAMES[command]]
)
def test_every_table_has_its_header_with_or_without_rows(
    command: str, table: str, ask: Call, tricky: Path
) -> None:
    """Each table of each command is there in each format for machines; without rows it has its columns."""
    words: tuple[str | Path, ...] = (command, tricky, "--table", table)
    if table in ASKED_WITH:
        refused = ask(*words)
        assert (refused.code, ASKED_WITH[table] in refused.err) == (2, True)
        words = (*words, ASKED_WITH[table])
    (given,) = ask(*words, "--format", "json").json["tables"]
    keys = [column["key"] for column in given["columns"]]
    for form, parted in (("csv", ","), ("tsv", "\t")):
        done = ask(*words, "--format", form)
        assert (done.code, done.text.splitlines()[0]) == (0, parted.join(keys))
    assert ask(*words, "--format", "markdown").text.count("| --- ") >= 1


def test_a_table_without_rows(ask: Call, tricky: Path) -> None:
    """Nothing is grown: that table is a header, and people do not see it."""
    words = ("options", tricky, "--table", "growing")
    assert ask(*words, "--format", "csv").text.count("\r\n") == 1
    assert ask(*words, "--format", "json").json["tables"][0]["rows"] == []
    assert "| way | plant |" in ask(*words, "--format", "markdown").text
    everything = ask("options", tricky, "--format", "json").json["tables"]
    assert [table["name"] for table in everything] == [
        name for name in NAMES["options"] if name not in ASKED_WITH
    ]
    assert "What is grown" not in ask("options", tricky).text


@pytest.mark.parametrize("form", ["csv", "tsv"])
def test_what_is_left_is_said_on_standard_error(form: str, ask: Call, demos: dict[str, Path]) -> None:
    """One line names the tables that are not written; where a table is named, or there is one, none does."""
    told = "Only the table options is written; --table writes whole_site, growing or choices."
    assert ask("options", demos[ORCHARD], "--format", form).err.splitlines().count(told) == 1
    for words in (("options", demos[ORCHARD], "--table", "growing"), ("explain",)):
        assert "is written; --table" not in ask(*words, "--format", form).err


def test_places_ways_needs_and_materials_join_across_tables(
    ask: Call, demos: dict[str, Path], tricky: Path
) -> None:
    """In every table of every command these keys hold names of the site and the catalogue, spelt alike."""
    seen = set()
    for file in (demos[ORCHARD], tricky):
        site = load(file.read_bytes(), "x").site
        known = {
            "place": {place.name for place in site.places},
            "way": {way.name for way in site.ways},
            "need": set(NEED_KINDS),
            "material": {*names(), *site.materials},
        }
        for command in READING:
            for table in ask(command, file, "--format", "json").json["tables"]:
                more = {"way": FOLLOWED} if table["name"] in {"whole_site", "course", "opinions"} else {}
                more |= {"material": IN_HEAPS} if command == "heap" else {}
                for key, row in ((key, row) for row in table["rows"] for key in known if row.get(key)):
                    several = listed(row[key]) if command == "options" else [row[key]]
                    parts = several if key == "place" else row[key].split(" + ")
                    assert set(parts) <= known[key] | more.get(key, set()), (command, table["name"], row[key])
                    seen.add((table["name"], key))
    assert len(seen) > 25


def listed(cell: str) -> list[str]:
    """Return the names of a cell that lists them, as the page on files for machines says."""
    return next(csv.reader([cell], delimiter=";", skipinitialspace=True))


def test_a_list_gives_back_names_with_semicolons(ask: Call, tricky: Path) -> None:
    """Names with a semicolon or quotes come out of a list as they are."""
    for row in ask("options", tricky, "--format", "json").json["tables"][0]["rows"]:
        assert set(listed(row["place"])) == PLACES
    places = {row["place"] for row in ask("sizes", tricky, "--format", "json").json["tables"][0]["rows"]}
    assert places == PLACES


def test_pandas_reads_numbers_dates_and_text(ask: Call, demos: dict[str, Path]) -> None:
    """A data frame of csv and one of json hold the same: numbers as numbers, days as days."""
    options = ask("options", demos[ORCHARD], "--format", "csv").out
    frame = pandas.read_csv(io.BytesIO(options), parse_dates=["ready_on"])
    table = ask("options", demos[ORCHARD], "--format", "json").json["tables"][0]
    other = pandas.DataFrame(table["rows"], columns=[column["key"] for column in table["columns"]])
    assert list(frame.columns) == list(other.columns)
    for key in ("cash", "hours", "loose_m3", "met_percent"):
        assert pandas.api.types.is_numeric_dtype(frame[key])
        assert frame[key].sum() == pytest.approx(other[key].sum())
    assert pandas.api.types.is_datetime64_any_dtype(frame["ready_on"])
    assert frame["feasible"].dtype == bool
    assert frame["way"].tolist() == other["way"].tolist()
    sizes = pandas.read_csv(io.BytesIO(ask("sizes", demos[ORCHARD], "--format", "csv").out))
    each = frame.assign(place=frame["place"].map(listed)).explode("place").merge(sizes, on=["place", "need"])
    assert len(each) >= len(frame)
    again = pandas.read_json(io.StringIO(json.dumps(table["rows"])))
    assert again["cash"].sum() == pytest.approx(frame["cash"].sum())


def test_a_database_adds_up_and_joins(ask: Call, demos: dict[str, Path]) -> None:
    """In SQLite, columns with numbers add up, days compare, and two tables join by way."""
    database = sqlite3.connect(":memory:")
    for words in (("options",), ("orders",), ("orders", "--table", "sharing")):
        rows = rows_of(ask(words[0], demos[ORCHARD], *words[1:], "--format", "csv").text)
        keys = ", ".join(f'"{key}" NUMERIC' for key in rows[0])
        database.execute(f"create table {words[-1]} ({keys})")
        marks = ", ".join("?" * len(rows[0]))
        database.executemany(
            f"insert into {words[-1]} values ({marks})", [tuple(row.values()) for row in rows]
        )
    answer = ask("orders", demos[ORCHARD], "--format", "json").json["tables"][0]["rows"]
    (total,) = database.execute("select sum(cash) from orders").fetchone()
    assert total == pytest.approx(sum(row["cash"] or 0 for row in answer))
    assert {kind for (kind,) in database.execute("select typeof(loose_m3) from options")} <= {
        "real",
        "integer",
        "text",
    }
    soon = database.execute(
        "select count(*) from options where ready_on between '2027-01-01' and '2031-12-31'"
    )
    assert soon.fetchone()[0] > 0
    joined = database.execute("select count(*) from orders join sharing using (way)").fetchone()[0]
    assert joined >= len(answer)
    database.close()


def test_what_a_spreadsheet_would_run_is_guarded(ask: Call, tricky: Path) -> None:
    """Text gets an apostrophe and numbers do not; without the guard cells are the names themselves."""
    guarded = ask("sizes", tricky, "--format", "csv").text
    assert "'@SUM(A1)" in guarded
    assert {row["place"].removeprefix("'") for row in rows_of(guarded)} == PLACES
    for form in ("csv", "tsv"):
        bare = ask("sizes", tricky, "--format", form, "--no-guard").text
        assert "'@" not in bare
        assert "@SUM(A1)" in bare
    assert {
        row["place"] for row in rows_of(ask("sizes", tricky, "--format", "csv", "--no-guard").text)
    } == PLACES


OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"


def test_libreoffice_takes_numbers_as_numbers_and_runs_nothing(
    ask: Call, tricky: Path, demos: dict[str, Path], tmp_path: Path
) -> None:
    """Opened in LibreOffice, no cell is a formula, money is a number and a day a day."""
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office is None:
        pytest.skip("LibreOffice is not on this machine")
    (tmp_path / "tricky.csv").write_bytes(ask("options", tricky, "--format", "csv").out)
    (tmp_path / "orchard.csv").write_bytes(ask("options", demos[ORCHARD], "--format", "csv").out)
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    words = [office, profile, "--headless", "--convert-to", "fods", "--outdir", str(tmp_path)]
    files = [str(tmp_path / name) for name in ("tricky.csv", "orchard.csv")]
    subprocess.run([*words, *files], check=True, capture_output=True)
    kinds = set()
    for name in ("tricky.fods", "orchard.fods"):
        for cell in ElementTree.parse(tmp_path / name).iter(f"{TABLE}table-cell"):
            assert f"{TABLE}formula" not in cell.attrib
            kinds.add(cell.get(f"{OFFICE}value-type"))
    assert {"float", "date", "string"} <= kinds


def test_all_figures_are_those_of_every_name(ask: Call) -> None:
    """``figures --all`` has what each material and kind of figure has by itself, and no name with it."""
    every = pandas.DataFrame(ask("figures", "--all", "--format", "json").json["tables"][0]["rows"])
    assert not every.duplicated(["of", "figure"]).any()
    assert set(every["material"].dropna()) == set(names())
    for name in ("green compost", "judgements", "comfrey"):
        some = ask("figures", name, "--format", "json").json["tables"][0]["rows"]
        assert {(row["of"], row["figure"]) for row in some} <= set(
            zip(every["of"], every["figure"], strict=True)
        )
    assert ask("figures", "--all", "green compost").code == 2


def test_every_command_is_known_to_have_tables_or_none() -> None:
    """A command stands among those with tables, or is one of the four that have none."""
    assert set(COMMANDS) - set(NAMES) == {"log", "begin", "schema", "report"}
