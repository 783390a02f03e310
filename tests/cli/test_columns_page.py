"""The page of columns against what every command gives: keys, kinds, units, and what tells rows apart."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from barrowful.cli.main import COMMANDS

Call = Callable[..., Any]
Words = tuple[str, ...]
ROOT, OWN = Path(__file__).parents[2], Path(__file__).parent / "sites"
PAGE = ROOT / "docs" / "columns.md"
SITES = {path.stem: path for path in [*(ROOT / "demo").glob("*.yaml"), *OWN.glob("*.yaml")]}

#: A price at which something changes on the site scarce.
TREE_CREW = "ways.tree crew.buy.price=5..90 EUR/m3:5"
#: The columns of what a what-if varies, as many as are varied, and of ranges: told in words on the page.
VARIED = re.compile(r"varied_[0-9]+|\w+_(?:10|50|90)")
#: What is asked of every site.
ASKED = """
options SITE
options SITE --by place
sizes SITE
orders SITE
course SITE
course SITE --from-history
course SITE --every-way --monthly --years 2
ledger SITE
season SITE
whatif SITE --set start=2027-04-01
check SITE
figures --site SITE
figures materials --site SITE
"""
#: What is asked beside.
BESIDE: tuple[Words, ...] = (
    ("heap", "crooked-ladle-orchard"),
    ("heap", "crooked-ladle-orchard", "--recipes"),
    ("heap", "chosen"),
    ("heap", "planned"),
    ("heap", "planned", "--recipes"),
    ("heap", "--of", "12 bucket coffee grounds", "--of", "arborist chip", "--to-cn", "30"),
    ("heap", "--of", "10 L straw"),
    ("orders", "chosen", "--way", "two-bay heap"),
    ("orders", "chosen", "--way", "winter mix"),
    ("ledger", "chosen", "--way", "two-bay heap"),
    ("ledger", "chosen", "--way", "winter mix"),
    *((command, "crooked-ladle-orchard", "--ranges") for command in ("options", "sizes", "orders", "course")),
    *((command, "planned", "--ranges") for command in ("options", "sizes", "orders", "course")),
    ("whatif", "planned", "--case", "sooner:start=2027-02-02", "--all-rows"),
    ("whatif", "scarce", "--vary", "labour.push=30..60 m:2", "--vary", "start=2027-03-01,2027-04-01"),
    ("whatif", "scarce", "--break-even", TREE_CREW, "--break-even", "limits.by=2027-04-01..2029-02-01:5"),
    ("plan", "scarce", "--frontier", "--binds"),
    ("plan", "planned"),
    ("season", "odd-bucket-yard", "--set", "labour.hours_per_week=2 h"),
    ("figures",),
    ("figures", "--all"),
    ("figures", "rates"),
    ("figures", "plants"),
    ("figures", "crops"),
    ("explain",),
    ("explain", "price"),
    ("check", "spoilt"),
)
RUNS = [
    tuple(site if word == "SITE" else word for word in line.split())
    for line in ASKED.strip().splitlines()
    for site in SITES
] + list(BESIDE)

KINDS: dict[str, tuple[type, ...]] = {
    "text": (str,),
    "number": (int, float),
    "money": (int, float),
    "date": (str,),
    "flag": (bool,),
    "count": (int,),
}


@dataclass
class Described:
    """A table as the page describes it: kind and unit by key, and what identifies a row, always or not."""

    command: str
    name: str
    identifies: list[str] = field(default_factory=list)
    ranged: list[str] = field(default_factory=list)
    always: bool = True
    columns: dict[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def itself(self) -> tuple[str, ...]:
        """Return what tells the table from all others: command, name and keys."""
        return (self.command, self.name, *self.columns)


@cache
def page() -> dict[tuple[str, ...], Described]:
    """Return the tables of the page."""
    tables: list[Described] = []
    command = ""
    for line in PAGE.read_text("utf-8").splitlines():
        if line.startswith("## "):
            command = line[3:]
        elif line.startswith("### "):
            tables.append(Described(command, line[4:].strip("`")))
        elif told := re.search(r"A row is identified by ((?:`\w+`(?:, )?)+)(; not always)?", line):
            tables[-1].identifies = re.findall(r"`(\w+)`", told[1])
            tables[-1].always = told[2] is None
        elif tables and line.startswith("With `--ranges` these have"):
            tables[-1].ranged = re.findall(r"`(\w+)`", line.partition("beside them:")[2])
        elif tables and line.startswith("| `"):
            key, kind, unit, meaning, _ = (cell.strip().strip("`") for cell in line.strip("|").split("|"))
            assert meaning.endswith((".", "?")), line
            assert key not in tables[-1].columns, line
            tables[-1].columns[key] = (kind, unit)
    assert len({table.itself for table in tables}) == len(tables)
    return {table.itself: table for table in tables}


@dataclass
class Given:
    """A table as a command gave it in JSON, with its description on the page."""

    words: Words
    currency: str
    units: dict[str, str | None]
    rows: list[dict[str, Any]]
    page: Described
    ranged: dict[str, str | None] = field(default_factory=dict)


def tables_of(command: str, answer: Any) -> list[Any]:
    """Return the tables of a JSON answer; those of a check stand in it without descriptions."""
    if command != "check":
        return list(answer["tables"])
    keys = {table.name: [{"key": key} for key in table.columns] for table in page().values()}
    rows = {"check": answer["problems"], "warnings": answer["warnings"]}
    return [{"name": name, "columns": keys[name], "rows": found} for name, found in rows.items()]


@pytest.fixture(scope="session")
def given(ask: Call, tmp_path_factory: pytest.TempPathFactory) -> list[Given]:
    """Give every table of every command on all the sites; a table that is not on the page is an error."""
    spoilt = tmp_path_factory.mktemp("spoilt") / "spoilt.yaml"
    spoilt.write_text(SITES["planned"].read_text("utf-8").replace("7 cm", "7").replace("1 m3", "1"), "utf-8")
    files = {**SITES, "spoilt": spoilt}
    tables = []
    for words in RUNS:
        done = ask(*(files.get(word, word) for word in words), "--format", "json")
        assert done.code == (1 if "spoilt" in words else 0), (words, done.err)
        texts = [files[word].read_text("utf-8") for word in words if word in files]
        currency = "".join(re.findall(r"^currency: (\w+)", "".join(texts), re.MULTILINE))
        for table in tables_of(words[0], done.json):
            units = {column["key"]: column.get("unit") for column in table["columns"]}
            assert all(list(row) == list(units) for row in table["rows"]), words
            every = dict(units)
            units = {key: unit for key, unit in units.items() if not VARIED.fullmatch(key)}
            itself = (words[0], table["name"], *units)
            assert itself in page(), f"not on the page as it is: {itself}"
            tables.append(Given(words, currency, units, table["rows"], page()[itself]))
            tables[-1].ranged = {key: unit for key, unit in every.items() if re.search(r"_(10|50|90)$", key)}
    return tables


def test_the_page_has_what_is_given_and_nothing_else(given: list[Given]) -> None:
    """Every table and key that is emitted stands on the page, and none stands there that never is."""
    assert {table.page.itself for table in given} == set(page())
    wanted = set(COMMANDS) - {"log", "begin", "schema", "report"}
    assert {table.command for table in page().values()} == wanted


def test_units_are_those_of_the_page(given: list[Given]) -> None:
    """The unit of each column is that of the page; money is in the site's currency."""
    for table in given:
        for key, unit in table.units.items() if table.page.command != "check" else ():
            kind, told = table.page.columns[key]
            assert (unit or "") == (table.currency if kind == "money" else told), (table.words, key)


def test_values_are_of_the_kind_of_the_page(given: list[Given]) -> None:
    """What stands in a column is of its kind, and a date is one."""
    for table in given:
        for row in table.rows:
            for key, value in row.items():
                if value is None or VARIED.fullmatch(key):
                    continue
                kind, _ = table.page.columns[key]
                assert isinstance(value, KINDS[kind]), (table.words, key, value)
                assert kind == "flag" or not isinstance(value, bool), (table.words, key, value)
                assert kind != "date" or re.fullmatch(r"\d{4}-\d\d-\d\d", value), (table.words, key, value)


def test_ranges_stand_beside_what_the_page_says(given: list[Given]) -> None:
    """With --ranges just the columns named on the page have three more, of their unit and kind, in order."""
    tried = set()
    for table in given:
        if "--ranges" not in table.words:
            assert table.ranged == {}, table.words
            continue
        keys = [
            f"{key}_{end}" for key in table.page.columns for end in (10, 50, 90) if key in table.page.ranged
        ]
        assert list(table.ranged) == keys, table.words
        tried |= {(table.page.itself, key) for key in table.page.ranged}
        for key in table.page.ranged:
            kind, _ = table.page.columns[key]
            for row in table.rows:
                low, middle, high = (row[f"{key}_{end}"] for end in (10, 50, 90))
                assert (row[key] is None) <= (low is None and middle is None and high is None), key
                assert low is None or low <= middle <= high, (table.words, key, row)
                assert low is None or isinstance(low, KINDS[kind]), (table.words, key, row)
    assert tried == {(itself, key) for itself, table in page().items() for key in table.ranged}


def test_every_column_holds_something_somewhere(given: list[Given]) -> None:
    """Each column of the page has a value in some row: none reads what is never there."""
    filled = {
        (table.page.itself, key)
        for table in given
        for row in table.rows
        for key, value in row.items()
        if value is not None and not VARIED.fullmatch(key)
    }
    empty = {(itself, key) for itself, table in page().items() for key in table.columns} - filled
    assert {(itself[:2], key) for itself, key in empty} == set()


def test_rows_are_told_apart_where_it_is_promised(given: list[Given]) -> None:
    """No two rows share what identifies a row, but in the tables that say they may; there some do."""
    repeated = set()
    for table in given:
        names = Counter(tuple(row[key] for key in table.page.identifies) for row in table.rows)
        if names and max(names.values()) > 1:
            assert not table.page.always, (table.words, table.page.name, names.most_common(1))
            repeated.add(table.page.itself)
    assert all(table.identifies for table in page().values())
    assert repeated == {table.itself for table in page().values() if not table.always}


def test_csv_has_the_keys_of_the_page(given: list[Given], ask: Call) -> None:
    """The header of each table in csv is its keys on the page, in their order."""
    tables = {table.page.itself: table for table in given if table.page.command != "check"}
    for table in tables.values():
        words = [SITES.get(word, word) for word in table.words]
        text = ask(*words, "--format", "csv", "--table", table.page.name).text
        header = next(csv.reader(io.StringIO(text)))
        assert [key for key in header if not VARIED.fullmatch(key)] == list(table.page.columns)
    problems = ask("check", SITES["chosen"], "--format", "csv").text
    assert ("check", "check", *next(csv.reader(io.StringIO(problems)))) in page()


def test_the_layout_of_the_json_is_that_of_the_page(ask: Call) -> None:
    """The keys of the whole, of a table, of a column and of a caution are those the page names, in order."""
    text = PAGE.read_text("utf-8")
    part = text[text.index("\n## JSON") : text.index("\n## options")]
    answer = ask("options", SITES["chosen"], "--format", "json").json
    assert re.findall(r"^\| `(\w+)` \|", part, re.MULTILINE) == list(answer)
    assert answer["format_version"] == 1
    for name in ("tables", "cautions"):
        told = re.search(rf"^\| `{name}` \|(.*)$", part, re.MULTILINE)
        assert told
        assert re.findall(r"`(\w+)`", told[1]) == list(answer[name][0])
    told = re.search(r"`columns` is a list with (.*?) of\s+each", part, re.DOTALL)
    assert told
    assert re.findall(r"`(\w+)`", told[1]) == list(answer["tables"][0]["columns"][0])
    told = re.search(r"`check` gives an object\s+with (.*?),\s+both lists", part, re.DOTALL)
    assert told
    assert re.findall(r"`(\w+)`", told[1]) == list(ask("check", SITES["chosen"], "--format", "json").json)
