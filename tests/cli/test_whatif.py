"""The what-if: cases, paths, differences."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from draws import draws
from hypothesis import example, given
from hypothesis import strategies as st

from barrowful.measures.problems import WrongUse
from barrowful.measures.text import read_measure
from barrowful.sitefile.text.cases import Case, cases_of

Call = Callable[..., Any]
ORCHARD = Path(__file__).parents[2] / "demo" / "crooked-ladle-orchard.yaml"
CHANGES = {
    "cash_change": "cash", "hours_change": "hours", "loose_m3_change": "loose_m3",
    "matter_left_kg_change": "organic_matter_left_kg",
}  # fmt: skip


@pytest.fixture
def rows(call: Call, demos: dict[str, Path]) -> Callable[..., dict[str, list[Any]]]:
    """Give a function that returns the rows of a what-if on a demo file, by case."""

    def ask(*words: str, place: str = "crooked-ladle-orchard") -> dict[str, list[Any]]:
        done = call("whatif", demos[place], *words, "--all-rows", "--format", "json")
        assert done.code == 0, done.err
        found: dict[str, list[Any]] = {}
        _, ways = done.json["tables"]
        for row in ways["rows"]:
            found.setdefault(row["case"], []).append(row)
        return found

    return ask


def test_the_base_is_the_options(rows: Callable[..., Any], call: Call, demos: dict[str, Path]) -> None:
    """The rows of the base are those of the options, without differences."""
    found = rows("--set", "places.old apples.count=14")
    assert list(found) == ["base", "set"]
    options = call("options", demos["crooked-ladle-orchard"], "--format", "json").json["tables"][0]["rows"]
    assert len(found["base"]) == len(options)
    for row, option in zip(found["base"], options, strict=True):
        assert {key: row[key] for key in option} == option
        assert all(row[key] is None for key in (*CHANGES, "days_change"))


def test_a_case_is_the_options_of_the_changed_file(
    rows: Callable[..., Any], call: Call, demos: dict[str, Path], tmp_path: Path
) -> None:
    """Setting a value gives what a file with that value gives."""
    changed = tmp_path / "changed.yaml"
    text = demos["crooked-ladle-orchard"].read_text("utf-8")
    assert text.count("    count: 9\n") == 1
    changed.write_text(text.replace("    count: 9\n", "    count: 14\n"), "utf-8")
    found = rows("--set", "places.old apples.count=14")["set"]
    options = call("options", changed, "--format", "json").json["tables"][0]["rows"]
    for row, option in zip(found, options, strict=True):
        assert {key: row[key] for key in option} == option


@pytest.mark.parametrize("way", ["two-bay heap", "two-bay heap.make.from.1", "comfrey strip", "leaf cage"])
def test_a_case_without_a_way_is_the_file_without_it(
    way: str, rows: Callable[..., Any], call: Call, demos: dict[str, Path]
) -> None:
    """What is taken over from the file as it stands is the same: rows and whole site are those without the way."""
    taken, demo = f"ways.{way}=none", demos["crooked-ladle-orchard"]
    found = rows("--case", f"without:{taken}")["without"]
    options = call("options", demo, "--set", taken, "--format", "json")
    for row, option in zip(found, options.json["tables"][0]["rows"], strict=True):
        assert {key: row[key] for key in option} == option
    whole = call("whatif", demo, "--case", f"without:{taken}", "--format", "json", "--all-rows")
    for row, option in zip(
        [row for row in whole.json["tables"][0]["rows"] if row["case"] == "without"],
        options.json["tables"][1]["rows"],
        strict=True,
    ):
        assert {key: row[key] for key in option} == option


@pytest.mark.parametrize(
    "change",
    [
        "places.old apples.count=14", "places.kitchen beds.needs.raise.depth=20 cm", "start=2027-06-01",
        "ways.yard compost.buy.price=66 EUR/m3", "ways.lane chip.buy.lead=3 weeks",
        "labour.hourly_value=9 EUR/h",
        "places.half barrels.shape.circle.diameter=80 cm", "materials.green compost.density=700 kg/m3",
        "ways.two-bay heap.make.from.3.weekly=150 L", "climate={annual_mean: 8 degC}", "soil.clay=40 %",
    ],
)  # fmt: skip
def test_differences_are_differences(change: str, rows: Callable[..., Any]) -> None:
    """Each difference is the case's number less the base's, and days are counted from date to date."""
    found = rows("--set", change)
    base = {(row["need"], row["way"]): row for row in found["base"]}
    moved = 0
    for row in found["set"]:
        before = base[row["need"], row["way"]]
        for change_key, key in CHANGES.items():
            if row[key] is None or before[key] is None:
                assert row[change_key] is None
            else:
                assert row[change_key] == pytest.approx(row[key] - before[key], rel=1e-9, abs=1e-6)
                moved += abs(row[change_key]) > 1e-9
        days = [
            None if one["ready_on"] is None else date.fromisoformat(one["ready_on"]) for one in (row, before)
        ]
        if None in days:
            assert row["days_change"] is None
        else:
            assert row["days_change"] == (days[0] - days[1]).days
            moved += row["days_change"] != 0
    assert moved or change.startswith("labour")


def test_several_values_in_one_case(rows: Callable[..., Any]) -> None:
    """--set may be repeated; all changes hold together."""
    found = rows("--set", "places.old apples.count=14", "--set", "places.half barrels.count=1")
    assert list(found) == ["base", "set"]
    cover = next(row for row in found["set"] if (row["need"], row["way"]) == ("cover", "yard compost"))
    fill = next(row for row in found["set"] if (row["need"], row["way"]) == ("fill", "yard compost"))
    assert cover["loose_m3_change"] > 0
    assert fill["loose_m3_change"] < 0


def test_named_cases(rows: Callable[..., Any]) -> None:
    """--case gives a name; more values of one name belong to one case; a --set holds in each."""
    price = "ways.yard compost.buy.price"
    found = rows(
        "--case", f"dear: {price}=90 EUR/m3", "--case", f"cheap, near:{price}=9 EUR/m3",
        "--case", "cheap, near:ways.yard compost.buy.delivery=0 EUR", "--set", "places.old apples.count=10",
    )  # fmt: skip
    assert list(found) == ["base", "dear", "cheap, near"]
    cash = {
        case: next(row["cash"] for row in some if row["way"] == "yard compost")
        for case, some in found.items()
    }
    assert cash["cheap, near"] < cash["base"] < cash["dear"]


@pytest.mark.parametrize("sign", [":", "/"])
def test_a_value_varied(sign: str, rows: Callable[..., Any]) -> None:
    """A..B:N and A..B/N are N cases from A to B, each named by its value."""
    path = "ways.yard compost.buy.price"
    found = rows("--vary", f"{path}=40..60 EUR/m3{sign}5")
    assert list(found) == ["base", *(f"{path}={price} EUR/m3" for price in (40, 45, 50, 55, 60))]
    some = [
        next(row for row in some if (row["need"], row["way"]) == ("cover", "yard compost"))
        for case, some in found.items()
        if case != "base"
    ]
    assert {row["order_quantity"] for row in some} == {some[0]["order_quantity"]}
    for less, more in pairwise(some):
        assert more["cash"] - less["cash"] == pytest.approx(5 * some[0]["order_quantity"], abs=0.011)


PRICE = "ways.yard compost.buy.price"


@pytest.fixture(scope="module")
def grid(ask: Call) -> Any:
    """Give the answer to a grid of a price and a date on the demo orchard."""
    by = "places.kitchen beds.needs.raise.by=2028-03-01..2029-03-01:2"
    return ask("whatif", ORCHARD, "--vary", f"{PRICE}=40,80 EUR/m3", "--vary", by, "--format", "json").json


def test_the_whole_site_first_and_what_is_varied_as_columns(grid: Any) -> None:
    """The first table is the whole site; each varied value is a number in its unit, or a date."""
    assert [table["name"] for table in grid["tables"]] == ["whatif_site", "whatif"]
    for table in grid["tables"]:
        _, price, by, *_ = table["columns"]
        assert (price["key"], price["unit"], price["meaning"]) == (
            "varied_1",
            "EUR/m3",
            f"{PRICE}, which is varied.",
        )
        assert (by["key"], by["unit"]) == ("varied_2", None)
        cells = {(row["varied_1"], row["varied_2"]) for row in table["rows"] if row["case"] != "base"}
        assert cells == {(price, day) for price in (40, 80) for day in ("2028-03-01", "2029-03-01")}
        assert {(row["varied_1"], row["varied_2"]) for row in table["rows"] if row["case"] == "base"} == {
            (None, None)
        }


def test_a_row_of_the_whole_site_is_that_of_the_changed_file(grid: Any, ask: Call) -> None:
    """What the whole site costs in a case is what the options of a file with these values say."""
    sets = ("--set", f"{PRICE}=80 EUR/m3", "--set", "places.kitchen beds.needs.raise.by=2029-03-01")
    answer = ask("options", ORCHARD, *sets, "--format", "json").json
    whole = {row["way"]: row for row in answer["tables"][1]["rows"]}
    case = [
        row for row in grid["tables"][0]["rows"] if (row["varied_1"], row["varied_2"]) == (80, "2029-03-01")
    ]
    base = {row["way"]: row for row in grid["tables"][0]["rows"] if row["case"] == "base"}
    assert {row["way"] for row in case} == {"yard compost", "bagged compost", "cheapest for each need"}
    for row in case:
        assert {key: row[key] for key in whole[row["way"]]} == whole[row["way"]]
        assert row["cash_change"] == pytest.approx(row["cash"] - base[row["way"]]["cash"], abs=1e-9)


def test_the_sentences_say_what_it_comes_to(grid: Any) -> None:
    """The first lines say what the site costs as it stands, the cheapest and the dearest, and what changes."""
    whole = {
        (row["varied_1"], row["varied_2"]): row["cash"]
        for row in grid["tables"][0]["rows"]
        if row["way"] == "cheapest for each need"
    }
    first, cheapest, dearest, *turns = grid["sentences"]
    assert first.startswith(f"As the file stands the whole site costs {whole[None, None]:.2f} EUR and ")
    assert cheapest.startswith(f"Cheapest of 4 cases: {min(whole.values()):.2f} EUR with {PRICE}=40 EUR/m3, ")
    assert dearest.startswith(f"Dearest of 4 cases: {max(whole.values()):.2f} EUR with {PRICE}=80 EUR/m3, ")
    yard, bags = (f"{way} compost + merchant topsoil + bagged sand" for way in ("yard", "bagged"))
    assert f"In 2 of 4 cases fill is by {yard} instead of {bags}." in turns


def test_a_case_that_meets_less_is_not_told_as_the_dearest(call: Call, demos: dict[str, Path]) -> None:
    """With no money nothing is met at no cost: what meets most is told first, by its cost, then what meets less."""
    cash = "limits.cash=0,900 GBP", "labour.push=25,50 m"
    words = [word for each in cash for word in ("--vary", each)]
    _, first, fewer, *others = call("whatif", demos["odd-bucket-yard"], *words, "--format", "json").json[
        "sentences"
    ]
    assert first.startswith("Each of 2 cases that meet most needs costs ")
    assert fewer == (
        "2 of 4 cases meet fewer needs, as with limits.cash=0 GBP, labour.push=25 m (5 of 5 needs not met)."
    )
    assert "In 2 of 4 cases cover is not met (before by street tree chip)." in others


def test_rows_that_nothing_changes_are_left_out(ask: Call) -> None:
    """Only what some case changes is shown, and that in each case; --all-rows shows the rest too."""
    words = ("whatif", ORCHARD, "--vary", f"{PRICE}=44,50 EUR/m3", "--format", "json")
    few, every = (ask(*words, *more).json["tables"] for more in ((), ("--all-rows",)))
    for some, full in zip(few, every, strict=True):
        keys = [key for key in ("need", "way") if key in full["rows"][0]]
        same = [key for key in full["rows"][0] if key not in {"case", "varied_1"} and "_change" not in key]

        def by_key(rows: list[Any], case: str, keys: list[str] = keys) -> dict[Any, Any]:
            return {tuple(row[key] for key in keys): row for row in rows if row["case"] == case}

        cases = [by_key(full["rows"], case) for case in ("base", f"{PRICE}=44 EUR/m3", f"{PRICE}=50 EUR/m3")]
        changed = {
            key
            for key, row in cases[0].items()
            if any(case[key][of] != row[of] for case in cases for of in same)
        }
        assert some["rows"] == [row for row in full["rows"] if tuple(row[key] for key in keys) in changed]
        assert 0 < len(changed) < len(cases[0])


def test_words_are_varied_and_warned_of_by_case(ask: Call) -> None:
    """A list of materials is a column of text; what a value warns of is told with the case it is of."""
    done = ask(
        "whatif", ORCHARD, "--vary", "ways.yard compost.buy.material=green compost,manure compost",
        "--case", "far:labour.push=400 m", "--case", "farther:labour.push=450 m", "--format", "json",
    )  # fmt: skip
    whole = done.json["tables"][0]["rows"]
    assert {row["varied_1"] for row in whole} == {None, "green compost", "manure compost"}
    told = [line for line in done.json["warnings"] if line.startswith("far: ")]
    assert len(told) == 1
    assert "labour.push" in told[0]
    assert told[0].endswith(", and in 1 more case")
    assert f"warning: {told[0]}" in done.err


def test_another_file_row_by_row(call: Call, small: Path, tmp_path: Path) -> None:
    """--against has the other file's rows as a case, and nothing but them where both are the same."""
    other = tmp_path / "other.yaml"
    other.write_text(small.read_text("utf-8").replace("46 EUR/m3", "50 EUR/m3"), "utf-8")
    tables = call("whatif", small, "--against", other, "--format", "json").json["tables"]
    for table in tables:
        base, case = (
            next(row for row in table["rows"] if row["case"] == of) for of in ("base", "other.yaml")
        )
        assert case["way"] == base["way"] == "yard"
        assert case["cash"] / base["cash"] == pytest.approx(50 / 46, abs=1e-3)
    same = call("whatif", small, "--against", small, "--format", "json").json
    assert [table["rows"] for table in same["tables"]] == [[], []]
    assert same["sentences"][-1] == "For the whole site nothing changes in any case."


def test_a_break_even_is_a_table_and_sentences(call: Call, small: Path) -> None:
    """--break-even gives the table of what changes, with --set as if it stood in the file."""
    text = small.read_text("utf-8")
    small.write_text(
        f"{text}  - name: crew\n    buy: {{material: arborist chip, price: 50 EUR/m3}}\n", "utf-8"
    )
    words = ("--break-even", "ways.yard.buy.price=20..90 EUR/m3", "--set", "ways.crew.buy.price=60 EUR/m3")
    answer = call("whatif", small, *words, "--format", "json").json
    [table] = answer["tables"]
    [row] = table["rows"]
    assert (row["need"], row["ways_before"], row["ways_after"], row["unit"]) == (
        "cover",
        "yard",
        "crew",
        "EUR/m3",
    )
    assert row["at"] == pytest.approx(60, abs=0.02)
    assert "the best ways change once" in answer["sentences"][0]


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        ([], 2, "--break-even"),
        (["--against", "FILE", "--set", "site=x"], 2, "as they stand"),
        (["--break-even", "labour.push", "--vary", "labour.push=1,2 m"], 2, "by themselves"),
        (["--vary", "places.beds.count=1..2:3"], 2, "places.beds.count=1.5: "),
        (["--vary", "labour.psh=1..2 m:2"], 2, 'did you mean "push"?'),
        (["--vary", "labour.push=1..2 m:10001"], 2, "10,001 cases are more than 10,000"),
        (["--break-even", "site"], 2, "no number or date"),
        (["--against", "BAD"], 1, "places.beds.count"),
        (["--against", "USD"], 2, "their cash cannot be compared"),
        (["--against", "GONE"], 5, "cannot read"),
    ],
)
def test_wrong_use_says_what_is_right(
    words: list[str], code: int, says: str, call: Call, small: Path, tmp_path: Path
) -> None:
    """What cannot be asked leaves with a sentence and nothing else; problems of another file are its own."""
    text = small.read_text("utf-8")
    files = {"FILE": text, "BAD": text.replace("count: 2", "count: two"), "USD": text.replace("EUR", "USD")}
    for name, content in files.items():
        (tmp_path / name).write_text(content, "utf-8")
    done = call("whatif", small, *(tmp_path / word if word.isupper() else word for word in words))
    assert (done.code, done.out) == (code, b"")
    assert says in done.err


def test_names_with_spaces_and_dots(call: Call, small: Path) -> None:
    """A place may be called by a name with spaces and dots in a path."""
    small.write_text(
        small.read_text("utf-8").replace("name: beds", "name: beds no. 1.2 by the well"), "utf-8"
    )
    done = call(
        "whatif",
        small,
        "--set",
        "places.beds no. 1.2 by the well.needs.cover.depth=10 cm",
        "--format",
        "json",
    )
    assert done.code == 0, done.err
    base, changed = done.json["tables"][1]["rows"]
    assert changed["loose_m3"] == pytest.approx(2 * base["loose_m3"], rel=1e-9)


@pytest.mark.parametrize(
    ("path", "hint"),
    [
        ("places.old aples.count", "old apples"), ("ways.yard compst.buy.price", "yard compost"),
        ("places.old apples.needs.covr.depth", "cover"), ("places.old apples.cuont", "count"),
        ("ways.yard compost.buy.prise", "price"), ("labor.push", "labour"),
        ("places.old apples.count.of", "of"),
    ],
)  # fmt: skip
def test_a_path_that_leads_nowhere(path: str, hint: str, call: Call, demos: dict[str, Path]) -> None:
    """A path that is none is wrong use, not a problem of the file, and the nearest name is told."""
    done = call("whatif", demos["crooked-ladle-orchard"], "--set", f"{path}=3")
    assert hint in done.err
    assert (done.code, done.out) == (2, b"")


def test_a_value_that_cannot_be(call: Call, demos: dict[str, Path]) -> None:
    """A value its key cannot take stops the what-if, in words that name the key."""
    done = call("whatif", demos["crooked-ladle-orchard"], "--set", "places.old apples.count=many")
    assert done.code in {1, 2}
    assert done.out == b""
    assert "places.old apples.count" in done.err
    assert '"many"' in done.err


def test_the_file_is_not_touched(call: Call, small: Path) -> None:
    """A what-if leaves the site file as it is."""
    before = small.read_bytes()
    assert call("whatif", small, "--set", "places.beds.count=3").code == 0
    assert small.read_bytes() == before


def ends() -> st.SearchStrategy[str]:
    """Draw an end of a range as it may be typed: plain, with a point, or with an exponent of any size."""
    plain = st.integers(-(10**13), 10**13).map(str)
    pointed = st.tuples(st.integers(0, 10**6), st.integers(0, 10**6)).map(lambda two: f"{two[0]}.{two[1]}")
    power = st.tuples(st.integers(-9, 9), st.integers(-400, 400)).map(lambda two: f"{two[0]}e{two[1]}")
    return plain | pointed | power


@draws(300)
@given(ends(), ends(), st.integers(2, 9))
@example("1", "1e308", 3)
@example("1", "1e999", 2)
@example("1e-300", "2e-300", 3)
@example("999999999999.999", "1", 2)
def test_ends_of_any_size_give_steps_or_a_sentence(low: str, high: str, count: int) -> None:
    """A range is either so many steps that a file can hold, apart and in order, or wrong use with a sentence."""
    text, cases, told = f"labour.push={low}..{high} m:{count}", list[Case](), ""
    try:
        cases = cases_of([], [], [text]).cases
    except WrongUse as wrong:
        told = str(wrong)
    if not cases:
        assert told.startswith(f'"{text}": ')
        return
    assert float(low) != float(high)
    values = [read_measure(case.changes[0][1], ("length",), {}).magnitude for case in cases]
    assert [case.cells for case in cases] == [(value,) for value in values]
    assert len(values) == count
    assert values == sorted(values, reverse=float(low) > float(high))
    assert len(set(values)) == count
    assert (values[0], values[-1]) == (float(low), float(high))
    step = (float(high) - float(low)) / (count - 1)
    for number, value in enumerate(values):
        assert value == pytest.approx(float(low) + number * step, abs=1.01e-3 * abs(step))


@pytest.mark.parametrize(
    ("how", "change", "says"),
    [
        ("--vary", "labour.push=1..1e308 m:3", "1e308 is too large"),
        ("--vary", "labour.push=1..1e999 m:3", '"1e999" is too large a number'),
        ("--vary", "labour.push=1e-300..2e-300 m:3", "1e-300 written out has more than 15 digits"),
        ("--vary", "labour.push=1e-13..2e-13 m:3", "too close for 3 steps"),
        ("--set", "labour.push=1e308 m", "more than 5 km"),
        ("--set", "horizon=1e300 years", "not a length of time"),
        ("--set", "ways.yard.buy.price=1e300 EUR/m3", "too large a price"),
        ("--case", "far:places.beds.count=1e300", "not a whole number"),
    ],
)
def test_a_change_beyond_measure_is_wrong_use(
    call: Call, small: Path, how: str, change: str, says: str
) -> None:
    """A value too large or too small to reckon with leaves with exit code 2 and says so."""
    done = call("whatif", small, how, change)
    assert (done.code, done.out) == (2, b"")
    assert says in done.err
