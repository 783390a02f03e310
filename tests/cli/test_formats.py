"""The formats: the same cells in each, as the contract lays them down."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import barrowful
from barrowful.tables.registry import TABLES
from barrowful.tables.report import ABOVE_CAUTIONS

Call = Callable[..., Any]
FORMS = ("table", "plain", "csv", "tsv", "json", "markdown")
SURE = ("options", "sizes", "orders", "course", "ledger")
WHATIF = ("whatif", "--set", "start=2027-04-01")
PLACES = ("crooked-ladle-orchard", "tin-comet-ground")
ANSWERS = [(command, place) for command in SURE for place in PLACES] + [("heap", "crooked-ladle-orchard")]

#: The keys the contract promises.
PROMISED = [
    "place",
    "need",
    "way",
    "material",
    "area_m2",
    "depth_m",
    "volume_m3",
    "mass_kg",
    "dry_kg",
    "barrows",
    "order_quantity",
    "order_unit",
    "ordered_m3",
    "leftover_m3",
    "trips",
    "cash",
    "hours",
    "ready_on",
    "years_to_target",
    "levels_off_percent",
    "organic_matter_percent",
    "humus_kg",
    "mulch_left_percent",
    "nitrogen_g",
    "available_nitrogen_g",
    "cn_ratio",
    "moisture_percent",
    "water_kg",
    "beaten_by",
    "why_not",
    "loose_m3",
    "feasible",
    "topups",
    "compost_like_on",
    "organic_matter_left_kg",
    "phosphorus_g",
    "potassium_g",
    "dose_kg_m2",
    "holds_with_kg_m2_year",
]

#: What the end of a key says of its unit.
ENDINGS = {
    "_kg_m2_year": "kg/m2/year",
    "_kg_m2": "kg/m2",
    "_g_m2": "g/m2",
    "_m2": "m2",
    "_m3": "m3",
    "_kg": "kg",
    "_g": "g",
    "_m": "m",
    "_percent": "%",
}


@pytest.fixture(params=ANSWERS, ids=" ".join)
def answer(request: pytest.FixtureRequest, ask: Call, demos: dict[str, Path]) -> Any:
    """Give the JSON answer of a command on a demo file."""
    command, place = request.param
    done = ask(command, demos[place], "--format", "json")
    assert done.code == 0, done.err
    return done.json


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(("command", "place"), ANSWERS)
def test_every_format_of_every_command(
    command: str, place: str, form: str, ask: Call, demos: dict[str, Path]
) -> None:
    """Each command answers in each format on each demo file: UTF-8, a line end at the end, nothing unseen."""
    done = ask(command, demos[place], "--format", form)
    assert done.code == 0, done.err
    assert done.text.endswith("\n")
    assert not re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]", done.text)
    assert "None" not in done.text
    assert not re.search(r"\b(nan|inf|NaN|Infinity)\b", done.text)
    assert "Traceback" not in done.err


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "words",
    [WHATIF, ("figures",), ("figures", "green compost"), ("figures", "comfrey"), ("figures", "cabbage"),
     ("figures", "rates"), ("figures", "plants"), ("explain",), ("explain", "collar")],
    ids=" ".join,
)  # fmt: skip
def test_every_format_of_the_other_commands(words: tuple[str, ...], form: str, ask: Call) -> None:
    """So do the commands that take something else than a site."""
    done = ask(*words, "--format", form)
    assert done.code == 0, done.err
    assert done.text.endswith("\n")
    if form == "json":
        assert done.json["command"] == words[0]


def test_json_has_the_shape_of_the_contract(answer: Any) -> None:
    """One object with the keys of the contract, the first table called like the command."""
    assert list(answer) == [
        "format_version", "command", "site", "currency", "catalogue_version", "tables", "sentences", "cautions",
        "warnings",
    ]  # fmt: skip
    assert answer["format_version"] == 1
    assert answer["command"] == answer["tables"][0]["name"]
    assert answer["site"] in {"Crooked Ladle Orchard", "Tin Comet Ground"}
    assert isinstance(answer["catalogue_version"], str)
    for table in answer["tables"]:
        assert list(table) == ["name", "columns", "rows"]
    for caution in answer["cautions"]:
        assert caution["text"]
        assert 1 <= caution["severity"] <= 5
    assert all(isinstance(line, str) for line in [*answer["sentences"], *answer["warnings"]])


def test_json_columns_are_described(answer: Any) -> None:
    """Each column has a key in ASCII, a unit or null, and a meaning; the end of the key says the unit."""
    currency = {"Crooked Ladle Orchard": "EUR", "Tin Comet Ground": "USD"}[answer["site"]]
    for table in answer["tables"]:
        keys = [column["key"] for column in table["columns"]]
        assert len(keys) == len(set(keys))
        for column in table["columns"]:
            assert set(column) == {"key", "unit", "meaning"}
            assert re.fullmatch(r"[a-z][a-z0-9_]*", column["key"])
            assert column["meaning"].endswith((".", "?"))
            unit = next((unit for end, unit in ENDINGS.items() if column["key"].endswith(end)), None)
            assert unit is None or column["unit"] == unit, column
            if column["key"] in {"cash", "cash_low", "cash_high", "cash_and_hours"}:
                assert column["unit"] == currency


def test_json_rows_are_full(answer: Any) -> None:
    """Every row has every column in order; numbers are numbers, absent is null, a money cell is no text."""
    for table in answer["tables"]:
        keys = [column["key"] for column in table["columns"]]
        for row in table["rows"]:
            assert list(row) == keys
            for column in table["columns"]:
                value = row[column["key"]]
                assert value != ""
                assert not isinstance(value, list | dict)
                if column["unit"] is not None:
                    assert value is None or (isinstance(value, int | float) and not isinstance(value, bool))


def test_promised_keys(ask: Call, demos: dict[str, Path]) -> None:
    """The keys of the contract are described, and stand in the tables they belong to."""
    assert set(PROMISED) <= {key for layouts in TABLES.values() for layout in layouts for key in layout.keys}
    keys = {
        command: {
            c["key"]
            for c in ask(command, demos["crooked-ladle-orchard"], "--format", "json").json["tables"][0][
                "columns"
            ]
        }
        for command in ("options", "sizes", "orders")
    }
    later = {"cn_ratio", "moisture_percent", "water_kg", "volume_m3", "depth_m"}
    assert set(PROMISED) - later <= keys["options"]
    assert {
        "place",
        "need",
        "area_m2",
        "depth_m",
        "volume_m3",
        "loose_m3",
        "mass_kg",
        "dry_kg",
        "barrows",
    } <= keys["sizes"]
    assert {
        "way",
        "material",
        "order_quantity",
        "order_unit",
        "ordered_m3",
        "leftover_m3",
        "trips",
        "cash",
    } <= keys["orders"]


def as_cell(value: Any) -> str:
    """Return the text a machine cell must hold for a JSON value; numbers are compared apart."""
    if value is None:
        return ""
    return str(value).lower() if isinstance(value, bool) else str(value)


def assert_cells(header: list[str], rows: list[list[str]], table: Any) -> None:
    """Assert that delimited rows hold what the JSON table holds."""
    assert header == [column["key"] for column in table["columns"]]
    assert len(rows) == len(table["rows"])
    for cells, row in zip(rows, table["rows"], strict=True):
        assert len(cells) == len(header)
        for cell, value in zip(cells, row.values(), strict=True):
            if isinstance(value, int | float) and not isinstance(value, bool):
                assert float(cell) == pytest.approx(value, rel=1e-9)
            else:
                assert cell.removeprefix("'") == as_cell(value)


@pytest.mark.parametrize(("command", "place"), ANSWERS)
def test_csv_is_rfc_4180_and_holds_the_same(
    command: str, place: str, ask: Call, demos: dict[str, Path]
) -> None:
    """Records end in CRLF, any reader gets the cells back, and they are those of the JSON table."""
    done = ask(command, demos[place], "--format", "csv")
    text = done.out.decode("utf-8")
    assert text.endswith("\r\n")
    assert not re.search(r"(?<!\r)\n", re.sub(r'"(?:[^"]|"")*"', "", text))
    header, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert_cells(header, rows, ask(command, demos[place], "--format", "json").json["tables"][0])


@pytest.mark.parametrize(("command", "place"), ANSWERS)
def test_tsv_holds_the_same(command: str, place: str, ask: Call, demos: dict[str, Path]) -> None:
    """Each line splits at its tabs into the cells of the JSON table."""
    lines = ask(command, demos[place], "--format", "tsv").text.removesuffix("\n").split("\n")
    header, *rows = (line.split("\t") for line in lines)
    assert_cells(header, rows, ask(command, demos[place], "--format", "json").json["tables"][0])


NAMES = {
    "=1+1": "formula",
    "+49": "formula",
    "-beds": "formula",
    "@home": "formula",
    "a|b": "bar",
    "back\\slash": "bar",
    'say "so"': "quote",
    "one, two": "comma",
    "<b>": "tag",
    "café ☘ 木": "letters",
    "'tis": "quote",
    "1e10": "number",
    "1.10": "number",
    "  spaced  ": "space",
}


@pytest.fixture
def odd_names(tmp_path: Path) -> Path:
    """Give a site whose places have names that formats could trip over; one with a negative number."""
    places = "".join(
        f"  - {{name: {json.dumps(name, ensure_ascii=False)}, kind: bed, shape: {{area: 3 m2}},"
        " needs: [{cover: {depth: 3 cm}}]}\n"
        for name in NAMES
    )
    file = tmp_path / "odd.yaml"
    file.write_text(
        "site: =x()\ncurrency: EUR\nstart: 2027-03-01\nclimate: {annual_mean: 12 degC}\n"
        f"places:\n{places}ways:\n  - {{name: '=yard', buy: {{material: arborist chip, price: 9 EUR/m3}}}}\n",
        encoding="utf-8",
    )
    return file


@pytest.mark.parametrize("form", ["csv", "tsv"])
def test_no_cell_is_taken_for_a_formula(form: str, call: Call, odd_names: Path) -> None:
    """Text a spreadsheet would run gets an apostrophe before it; a number below nothing does not."""
    names = [name.strip() for name in NAMES]
    done = call("sizes", odd_names, "--format", form)
    rows = list(csv.reader(io.StringIO(done.text, newline=""), delimiter="," if form == "csv" else "\t"))
    wanted = ["'" + name if name[0] in "=+-@" else name for name in names]
    if form == "csv":
        assert [row[0] for row in rows[1:]] == wanted
    else:
        assert [line.split("\t")[0] for line in done.text.splitlines()[1:]] == wanted
    options = call("options", odd_names, "--by", "place", "--format", form).text
    lines = options.splitlines()
    column = lines[0].split("," if form == "csv" else "\t").index("available_nitrogen_g")
    for record in csv.reader(lines[1:], delimiter="," if form == "csv" else "\t", quoting=csv.QUOTE_MINIMAL):
        assert float(record[column]) < 0
        assert record[column].startswith("-")


def test_json_keeps_names_as_they_are(call: Call, odd_names: Path) -> None:
    """JSON needs no apostrophe, and letters are written as themselves."""
    done = call("sizes", odd_names, "--format", "json")
    assert [row["place"] for row in done.json["tables"][0]["rows"]] == [name.strip() for name in NAMES]
    assert "café ☘ 木" in done.text


def markdown_rows(text: str) -> list[list[str]]:
    """Return the cells of the first Markdown table, with escapes undone."""
    lines = next(part for part in text.split("\n\n") if part.startswith("| ")).splitlines()
    cells = [re.split(r"(?<!\\)\|", line)[1:-1] for line in lines]
    return [[re.sub(r"\\(.)", r"\1", cell.strip()) for cell in row] for row in (cells[0], *cells[2:])]


def test_markdown_keeps_its_columns(call: Call, odd_names: Path) -> None:
    """A bar, a backslash and a tag in a name do not break the table, and come back as they were."""
    text = call("sizes", odd_names, "--format", "markdown").text
    header, *rows = markdown_rows(text)
    assert {len(row) for row in rows} == {len(header)}
    assert [row[0] for row in rows] == [name.strip() for name in NAMES]
    assert not re.search(r"(?<!\\)<", text)


def test_the_table_keeps_words_that_look_like_numbers(call: Call, odd_names: Path) -> None:
    """A name such as 1.10 or 1e10 is printed as it was typed."""
    lines = call("sizes", odd_names).text.splitlines()
    begins = lines.index("") + 3
    first = [line.split("  ")[0].strip() for line in lines[begins : begins + len(NAMES)]]
    assert first == [name.strip() for name in NAMES]


def test_plain_is_a_record_a_line(call: Call, odd_names: Path) -> None:
    """The plain form has a line for each row, cells parted by two spaces, absent ones as a dash."""
    done = call("sizes", odd_names, "--format", "plain", "--table", "sizes")
    header, *rows = [line.split("  ") for line in done.text.splitlines()]
    table = call("sizes", odd_names, "--format", "json").json["tables"][0]
    assert len(header) == len(table["columns"])
    assert len(rows) == len(table["rows"])
    assert {len(row) for row in rows} == {len(header)}
    assert all(cell for row in rows for cell in row)


#: Customary units by definition: heading -> unit, JSON key, how many of the unit one of JSON's is.
FOOT, POUND = 0.3048, 0.45359237
CUSTOMARY = {
    "area": ("ft2", "area_m2", 1 / FOOT**2), "depth": ("in", "depth_m", 12 / FOOT),
    "volume": ("yd3", "volume_m3", 1 / (3 * FOOT) ** 3), "loose": ("yd3", "loose_m3", 1 / (3 * FOOT) ** 3),
    "mass": ("lb", "mass_kg", 1 / POUND),
}  # fmt: skip
METRIC = {
    "area": ("m2", "area_m2", 1), "depth": ("cm", "depth_m", 100), "volume": ("m3", "volume_m3", 1),
    "loose": ("m3", "loose_m3", 1), "mass": ("kg", "mass_kg", 1),
}  # fmt: skip


@pytest.mark.parametrize("measures", ["metric", "customary"])
@pytest.mark.parametrize("place", PLACES)
def test_people_see_the_numbers_of_the_machine(
    measures: str, place: str, ask: Call, demos: dict[str, Path]
) -> None:
    """A printed number is the JSON number times the exact factor, to the digits printed."""
    text = ask("sizes", demos[place], "--format", "markdown", "--measures", measures).text
    header, *rows = markdown_rows(text)
    table = ask("sizes", demos[place], "--format", "json").json["tables"][0]
    compared = 0
    for name, (unit, key, factor) in (CUSTOMARY if measures == "customary" else METRIC).items():
        at = header.index(f"{name}, {unit}")
        for cells, row in zip(rows, table["rows"], strict=True):
            if row[key] is None:
                assert cells[at] == ""
                continue
            digits = len(cells[at].partition(".")[2])
            shown, exact = float(cells[at].replace(",", "")), row[key] * factor
            assert abs(shown - exact) <= 0.5 * 10**-digits * (1 + 1e-9)
            compared += 1
    assert compared > 10


@pytest.mark.parametrize("command", ["options", "sizes", "orders"])
def test_customary_measures_touch_what_people_see_only(
    command: str, ask: Call, demos: dict[str, Path]
) -> None:
    """Table, plain and Markdown change; csv, tsv and json are metric, to the byte."""
    for form in FORMS:
        metric = ask(command, demos["crooked-ladle-orchard"], "--format", form)
        customary = ask(command, demos["crooked-ladle-orchard"], "--format", form, "--measures", "customary")
        assert (metric.out == customary.out) == (form in {"csv", "tsv", "json"})


@pytest.mark.parametrize("form", ["table", "plain", "markdown"])
def test_nothing_metric_is_left_in_customary_output(form: str, ask: Call, demos: dict[str, Path]) -> None:
    """With customary measures no heading of the sizes names a metric unit."""
    text = ask("sizes", demos["crooked-ladle-orchard"], "--format", form, "--measures", "customary").text
    first = text.splitlines()[0]
    assert not re.search(r",[ _](m|cm|m2|m3|kg|g|L)\b", first), first


@pytest.mark.parametrize("command", ["options", "orders", "sizes"])
def test_one_table_by_its_name(command: str, ask: Call, demos: dict[str, Path]) -> None:
    """--table picks one table in any format; csv then holds that table."""
    path = demos["crooked-ladle-orchard"]
    tables = ask(command, path, "--format", "json").json["tables"]
    assert len(tables) > 1
    for table in tables:
        one = ask(command, path, "--format", "json", "--table", table["name"]).json["tables"]
        assert one == [table]
        text = ask(command, path, "--format", "csv", "--table", table["name"]).text
        header, *rows = csv.reader(io.StringIO(text, newline=""))
        assert_cells(header, rows, table)


def test_check_in_json(call: Call, spoilt: Path, small: Path, unusual: Path) -> None:
    """check gives its problems and warnings as the contract says; none is an empty list."""
    done = call("check", spoilt, "--format", "json")
    assert done.code == 1
    assert list(done.json) == [
        "format_version", "command", "version", "catalogue_version", "problems", "warnings",
    ]  # fmt: skip
    assert (done.json["command"], done.json["version"]) == ("check", barrowful.__version__)
    assert [(one["line"], one["column"], one["code"]) for one in done.json["problems"]] == [
        (3, 8, "not-a-date"),
        (9, 30, "bare-number"),
    ]
    for one in done.json["problems"]:
        assert list(one) == ["file", "line", "column", "code", "message"]
        assert one["file"] == str(spoilt)
    sound = call("check", small, "--format", "json")
    assert (sound.code, sound.json["problems"], sound.json["warnings"]) == (0, [], [])
    warned = call("check", unusual, "--format", "json").json
    assert (warned["problems"], [one["code"] for one in warned["warnings"]]) == ([], ["unusual"])
    rows = list(
        csv.DictReader(io.StringIO(call("check", unusual, "--format", "csv", "--table", "warnings").text))
    )
    assert [row["message"] for row in rows] == [one["message"] for one in warned["warnings"]]


@pytest.mark.parametrize("form", ["csv", "tsv", "markdown", "plain", "table"])
def test_check_in_other_formats(form: str, call: Call, spoilt: Path) -> None:
    """Each format of check names line, code and message of each problem."""
    done = call("check", spoilt, "--format", form)
    assert done.code == 1
    for word in ("not-a-date", "bare-number", "2027-02-30"):
        assert word in done.text.replace("\\", "")


def cautions_in(text: str) -> list[str]:
    """Return the cautions of a text, each with the lines it goes on over."""
    whole = re.sub(r"\n  (?=\S)", " ", text)
    return [line for line in whole.splitlines() if re.match(r"(- )?Caution\b", line)]


@pytest.mark.parametrize("command", ["options", "orders"])
def test_three_cautions_and_all_of_them(command: str, ask: Call, demos: dict[str, Path]) -> None:
    """Under the table stand the three most serious; --all-cautions prints each with its source."""
    path = demos["crooked-ladle-orchard"]
    known = ask(command, path, "--format", "json", "--all-cautions").json["cautions"]
    assert len(known) > 3
    done = {one["key"] for one in ask("course", path, "--format", "json").json["cautions"]}
    ranks = [(command == "options" and one["key"] not in done, -one["severity"]) for one in known]
    assert ranks == sorted(ranks)
    for form in ("table", "markdown"):
        few = cautions_in(ask(command, path, "--format", form).text)
        every = cautions_in(ask(command, path, "--format", form, "--all-cautions").text)
        assert (len(few), len(every)) == (3, len(known))
        for line, one in zip(few, known, strict=False):
            assert one["text"] in line
        for line, one in zip(every, known, strict=True):
            assert one["source"]
            assert one["text"] in line
            assert one["source"].replace(" ", "") in line.replace(" ", "")  # an address may be broken
    assert f"{len(known) - 3} more cautions" in ask(command, path).text


def test_what_is_followed_is_cautioned_first(ask: Call, demos: dict[str, Path]) -> None:
    """A graver caution of a way that is not taken comes after those of the ways that are."""
    path = demos["dry-thimble-terraces"]
    known = [one["key"] for one in ask("options", path, "--format", "json").json["cautions"]]
    done = [one["key"] for one in ask("course", path, "--format", "json").json["cautions"]]
    assert known[: len(done)] == done
    assert len(known) > len(done)


@pytest.mark.parametrize("form", ["table", "markdown", "csv", "tsv", "plain"])
@pytest.mark.parametrize("more", [(), ("--all-cautions",)])
def test_a_line_above_cautions_says_what_comes_first(
    form: str, more: tuple[str, ...], ask: Call, demos: dict[str, Path]
) -> None:
    """Right above the first caution, once: local rules, the maker's instructions and licensed people."""
    done = ask("options", demos["crooked-ladle-orchard"], "--format", form, *more)
    lines = [line.removeprefix("- ") for line in (done.text + done.err).splitlines()]
    first = next(number for number, line in enumerate(lines) if line.startswith("Caution ("))
    assert lines.count(ABOVE_CAUTIONS) == 1
    assert lines[first - 1] == ABOVE_CAUTIONS
    assert all(word in ABOVE_CAUTIONS for word in ("Local rules", "maker's instructions", "licensed people"))


def test_without_cautions_the_line_stays_away(ask: Call, demos: dict[str, Path]) -> None:
    """Sizes tell no cautions, and nothing of what would come before them."""
    done = ask("sizes", demos["crooked-ladle-orchard"])
    assert ABOVE_CAUTIONS not in done.text + done.err


def test_cautions_stay_out_of_the_rows_of_machines(ask: Call, demos: dict[str, Path]) -> None:
    """In csv, tsv and plain they go to standard error, at most three."""
    for form in ("csv", "tsv", "plain"):
        done = ask("options", demos["crooked-ladle-orchard"], "--format", form)
        assert cautions_in(done.text) == []
        assert len(cautions_in(done.err)) == 3
