"""The plan on a screen and for machines: what it is asked, what it says, and how it ends."""

from __future__ import annotations

import csv
import io
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, ClassVar

import pytest

from barrowful.cli import progress as progress_of
from barrowful.tables.registry import TABLES

Call = Callable[..., Any]
SCARCE = Path(__file__).parent / "sites" / "scarce.yaml"
ALWAYS = ["plan", "clash", "plan_totals", "plan_stages"]


def tables(done: Any) -> dict[str, list[dict[str, Any]]]:
    """Return the rows of each table of an answer in JSON."""
    assert done.code == 0, done.err
    return {table["name"]: table["rows"] for table in done.json["tables"]}


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    """Give a site of one bed that compost dresses and chip covers, with no limit."""
    file = tmp_path / "plain.yaml"
    text = SCARCE.read_text("utf-8").replace("limits: {cash: 45 EUR, hours: 40 h, by: 2029-02-01}\n", "")
    file.write_text("".join(line for line in text.splitlines(True) if "path side" not in line), "utf-8")
    return file


@pytest.fixture
def done_already(tmp_path: Path) -> Path:
    """Give a site whose one need is met as it is."""
    file = tmp_path / "done.yaml"
    file.write_text(
        "site: Done\ncurrency: EUR\nstart: 2027-03-01\nclimate: {annual_mean: 12 degC}\n"
        "soil: {organic_matter: 5 %, bulk_density: 1.3 g/cm3}\n"
        "places: [{name: beds, kind: bed, shape: {area: 10 m2},"
        " needs: [{raise: {organic_matter: 3 %, depth: 15 cm}}]}]\n"
        "ways: [{name: yard, buy: {material: green compost, price: 40 EUR/m3}}]\n",
        "utf-8",
    )
    return file


@pytest.mark.parametrize("form", ["table", "plain", "csv", "tsv", "json", "markdown"])
def test_every_format(form: str, ask: Call) -> None:
    """Each format answers, and no cell holds what is no value."""
    done = ask("plan", SCARCE, "--frontier", "--binds", "--format", form)
    assert (done.code, "Traceback" in done.err) == (0, False), done.err
    assert done.text.endswith("\n")
    assert "None" not in done.text
    assert "nan" not in done.text.lower()


def test_the_tables_and_their_keys(ask: Call) -> None:
    """The tables that are asked for are there, in the order and with the keys of their descriptions."""
    layouts = {layout.name: list(layout.keys) for layout in TABLES["plan"]}
    assert layouts["plan"] == (
        ["place", "need", "way", "material", "day", "loose_m3", "mass_kg", "barrows", "cash", "hours"]
    )
    assert layouts["frontier"] == ["ready_on", "cash", "hours", "orders", "change"]
    assert layouts["binds"][:4] == ["limit", "more", "saves_cash", "saves_days"]
    assert layouts["clash"] == ["need", "place", "limit", "least_change"]
    first = ["cash", "cash_first_year", "hours", "ready_on", "proven", "gap_percent", "calendar"]
    assert layouts["plan_totals"][:7] == first
    every = tables(ask("plan", SCARCE, "--frontier", "--binds", "--format", "json"))
    assert list(every) == list(layouts)
    for name, rows in every.items():
        assert rows, name
        assert all(list(row) == layouts[name] for row in rows), name


def test_only_what_is_asked_for(call: Call, plain: Path) -> None:
    """Without --frontier and --binds, and where all is met, the plan stands with its totals and stages, and no clash."""
    every = tables(call("plan", plain, "--format", "json"))
    assert list(every) == ALWAYS
    assert every["clash"] == []


def test_the_lines_add_up_to_the_totals(ask: Call) -> None:
    """Cash of the lines is that of the totals to the cent, hours to what rounding leaves."""
    every = tables(ask("plan", SCARCE, "--format", "json"))
    (totals,) = every["plan_totals"]
    assert sum(Decimal(str(row["cash"])) for row in every["plan"]) == Decimal(str(totals["cash"]))
    assert sum(row["hours"] for row in every["plan"]) == pytest.approx(totals["hours"], rel=1e-6)
    assert (totals["places_met"], totals["needs"]) == (2, 3)
    assert (totals["needs_met"], totals["needs_unmet"]) == ("dress, cover", "fill")
    assert (totals["proven"], totals["gap_percent"]) == (True, 0)
    assert "4 days a year" in totals["calendar"]


def test_the_stages_keep_to_what_is_reached(ask: Call) -> None:
    """No aim meets fewer needs than the one before, or costs more once the least is known; each stands once."""
    stages = tables(ask("plan", SCARCE, "--format", "json"))["plan_stages"]
    aims = [stage["aim"] for stage in stages]
    assert aims[:3] == ["most needs met", "least cost", "least hours"]
    assert len(set(aims)) == len(aims)
    assert len({stage["places_met"] for stage in stages}) == 1
    assert max(stage["cash"] for stage in stages[1:]) <= stages[1]["cash"] + 0.01
    assert stages[0]["gained"] is None
    assert all(stage["gained"] for stage in stages[1:])


def test_the_answer_comes_first(ask: Call) -> None:
    """What to do, what is not met and what would do, what it saves, how far it is proven; then the table."""
    done = ask("plan", SCARCE)
    before = done.text[: done.text.index("\n\nThe plan\n")]
    (totals,) = tables(ask("plan", SCARCE, "--format", "json"))["plan_totals"]
    assert before.startswith(f"Do this: {totals['cash']:.2f} EUR by 2029-03-01, ")
    for words in ("- yard: 0.2 m3, order by", "Not met: fill, path side", "more would do (limits.cash).",
                  "cheapest row of options", "It is proven that none costs less"):  # fmt: skip
        assert words in " ".join(before.split())
    assert max(map(len, done.text.splitlines())) <= 100


def test_the_sentences_are_in_json(ask: Call) -> None:
    """Machines get the same answer as a list of sentences, and the cautions of what goes on."""
    answer = ask("plan", SCARCE, "--format", "json").json
    assert answer["sentences"][0].startswith("Do this: ")
    assert any("It is proven" in sentence for sentence in answer["sentences"])
    assert {caution["key"] for caution in answer["cautions"]} <= {
        caution["key"] for caution in ask("options", SCARCE, "--format", "json").json["cautions"]
    }
    assert answer["cautions"]
    assert answer["warnings"] == []


def test_what_would_do_does(ask: Call) -> None:
    """With the change that the clash names, the need is met."""
    (clash,) = tables(ask("plan", SCARCE, "--format", "json"))["clash"]
    assert (clash["need"], clash["place"], clash["limit"]) == ("fill", "path side", "limits.cash")
    more = Decimal(clash["least_change"].removesuffix(" EUR more"))
    enough = tables(ask("plan", SCARCE, "--cash", f"{45 + more} EUR", "--format", "json"))
    assert enough["clash"] == []
    assert enough["plan_totals"][0]["places_met"] == 3


def test_the_frontier_falls(ask: Call) -> None:
    """Each later day costs less, the last is the least cost, and each but that says what changes."""
    every = tables(ask("plan", SCARCE, "--frontier", "--binds", "--format", "json"))
    points = every["frontier"]
    assert [point["ready_on"] for point in points] == sorted(point["ready_on"] for point in points)
    assert [point["cash"] for point in points] == sorted((point["cash"] for point in points), reverse=True)
    assert len(points) == 2
    assert points[-1]["change"] == "least cash"
    assert points[-1]["cash"] == every["plan_totals"][0]["cash"]
    assert "m3 more yard" in points[0]["change"]


def test_limits_on_the_command_line_stand_for_those_of_the_file(ask: Call, call: Call) -> None:
    """Each answers as the file with that limit does."""
    text = SCARCE.read_text("utf-8")
    for option, value in (("by", "2027-06-01"), ("cash", "300 EUR"), ("hours", "1 h")):
        old = {"by": "2029-02-01", "cash": "45 EUR", "hours": "40 h"}[option]
        assert text.count(f"{option}: {old}") == 1
        wanted = call(
            "plan",
            "-",
            "--format",
            "json",
            stdin=text.replace(f"{option}: {old}", f"{option}: {value}").encode(),
        )
        assert ask("plan", SCARCE, f"--{option}", value, "--format", "json").out == wanted.out
        assert wanted.out != ask("plan", SCARCE, "--format", "json").out


def test_cash_of_the_first_year(ask: Call) -> None:
    """With less money in the first twelve months than a plan takes there, less is met before the second year."""
    asked = ("plan", SCARCE, "--cash-first-year", "5 EUR", "--format", "json")
    for more, met in ((("--by", "2027-12-01"), 1), ((), 2)):
        every = tables(ask(*asked, *more))
        (totals,) = every["plan_totals"]
        assert totals["cash_first_year"] <= 5
        assert totals["places_met"] == met


def test_3_nothing_fits_the_first_year(call: Call, plain: Path) -> None:
    """Where no need can be met in the money of the first year there is no plan, and the file stays as it is."""
    before = plain.read_bytes()
    done = call("plan", plain, "--cash-first-year", "1 EUR", "--by", "2027-12-01", "--write")
    assert (done.code, done.out) == (3, b"")
    assert "EUR more would do (cash in the first year)" in done.err
    assert plain.read_bytes() == before


def test_units_of_the_grower(ask: Call) -> None:
    """Hours may be given in any unit of time the file knows."""
    assert ask("plan", SCARCE, "--hours", "60 min", "--format", "csv").out == (
        ask("plan", SCARCE, "--hours", "1 h", "--format", "csv").out
    )


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--cash", "5"), '--cash: "5" has no currency'),
        (("--cash", "5 USD"), "the site's currency is EUR"),
        (("--cash", "-5 EUR"), "is less than nothing"),
        (("--cash", "lots"), "--cash:"),
        (("--cash-first-year", "5"), '--cash-first-year: "5" has no currency'),
        (("--hours", "5"), '--hours: "5" has no unit'),
        (("--hours", "5 m"), '"5 m" is not'),
        (("--hours=-5 h",), "is less than 0 h"),
        (("--by", "soon"), '"soon" is not a date'),
        (("--by", "2027-02-30"), "--by:"),
        (("--by", "2027-02-28"), "--by 2027-02-28 is before the site's start; give 2027-03-01 or a later day"),
        (("--days", "0"), "1<=x<=12"),
        (("--days", "13"), "1<=x<=12"),
        (("--days", "4.5"), "--days"),
        (("--chart", "out.gif"), '--chart "out.gif" is no .svg or .png'),
        (("--chart", "--format", "csv"), "--chart FILE.svg"),
        (("--write", "--set", "site=x"), "leave --set out"),
        (("--table", "nothing"), "there are plan, clash, plan_totals, plan_stages"),
        (("--set", "nowhere.x=1"), "nowhere"),
        (("--cash", "5\x1b[31m EUR"), "--cash:"),
    ],
)  # fmt: skip
def test_2_wrong_use(words: tuple[str, ...], says: str, refused: Callable[..., str], tmp_path: Path) -> None:
    """A value that cannot be, and options that do not go together, are told in a sentence; nothing is written."""
    site = tmp_path / "site.yaml"
    site.write_bytes(SCARCE.read_bytes())
    said = refused("plan", site, *words)
    assert says in said
    assert "\x1b" not in said
    assert "Traceback" not in said


@pytest.mark.parametrize("words", [("--write",), ("-", "--write")])
def test_2_write_without_a_file(words: tuple[str, ...], refused: Callable[..., str]) -> None:
    """Without a file there is nowhere to write a plan."""
    assert "--write puts the plan into a site file; give its name" in refused("plan", *words)


def test_2_a_chart_that_takes_the_site_for_its_file(refused: Callable[..., str], small: Path) -> None:
    """--chart before SITE takes its name: that is told, and the file stays."""
    assert "--chart as the last word" in refused("plan", "--chart", small)


WITHOUT = """
import sys
sys.modules.update(dict.fromkeys(sys.argv[2:]))
from barrowful.cli.main import exit_code
sys.exit(exit_code(["plan", sys.argv[1]]))
"""


@pytest.mark.parametrize("missing", [["highspy"], ["numpy"], ["highspy", "numpy"]], ids=" ".join)
def test_2_without_the_extra(missing: list[str], environment: Call, small: Path) -> None:
    """Without the solver the one line to install it is told, and nothing else."""
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT, small, *missing],
        env=environment(),
        capture_output=True,
        check=False,
        text=True,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "barrowful: a plan needs its solver: pip install 'barrowful[full]'\n"


def test_1_problems_of_the_file(call: Call, spoilt: Path) -> None:
    """A file with problems is not planned."""
    done = call("plan", spoilt, "--cash", "5")
    assert (done.code, done.out) == (1, b"")
    assert f"{spoilt}:3:" in done.err


def test_3_nothing_can_be_met(call: Call) -> None:
    """Where no need can be met at all, the limit that would do is told."""
    done = call("plan", SCARCE, "--cash", "0 EUR")
    assert (done.code, done.out) == (3, b"")
    assert "no need can be met: " in done.err
    assert "more would do (limits.cash)" in done.err


def test_3_no_way_meets_anything(call: Call, small: Path) -> None:
    """Where it is the ways, the reason of the first need is told."""
    small.write_text(small.read_text("utf-8").replace("material: arborist chip", "material: sand"), "utf-8")
    done = call("plan", small)
    assert (done.code, done.out) == (3, b"")
    assert done.err.startswith("barrowful: no need can be met: cover, beds: ")


def test_nothing_to_do(call: Call, done_already: Path) -> None:
    """A site whose needs are met as it is has a plan without lines, which costs nothing."""
    every = tables(call("plan", done_already, "--format", "json"))
    assert every["plan"] == []
    (totals,) = every["plan_totals"]
    assert (totals["cash"], totals["places_met"], totals["proven"]) == (0, 1, True)
    assert "Met with nothing of its own: raise." in call("plan", done_already).text


def test_not_proven_says_how_far(call: Call, monkeypatch: pytest.MonkeyPatch, plain: Path) -> None:
    """A search that is stopped before its end answers all the same, with the distance from the bound."""
    from barrowful.planning.search import Search

    run = Search.run

    def stopped(self: Search) -> None:
        run(self)
        self.proven, self.bound = False, self.bound * 0.8

    monkeypatch.setattr(Search, "run", stopped)
    done = call("plan", plain)
    assert done.code == 0
    assert "% more than the least there may be, the search stopped before it was proven" in " ".join(
        done.text.split()
    )
    (totals,) = tables(call("plan", plain, "--format", "json"))["plan_totals"]
    assert totals["proven"] is False
    assert totals["gap_percent"] == pytest.approx(20, abs=0.1)


def test_130_when_interrupted(call: Call, monkeypatch: pytest.MonkeyPatch, small: Path) -> None:
    """Ctrl-C before there is any plan leaves as it does elsewhere, and writes nothing."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("barrowful.reports.plan.options", stop)
    before = small.read_bytes()
    done = call("plan", small, "--write")
    assert (done.code, done.out) == (130, b"")
    assert small.read_bytes() == before


def test_a_plan_of_the_file_is_left_out(call: Call, plain: Path) -> None:
    """What stands under plan: is no part of the search."""
    text = plain.read_text("utf-8")
    with_plan = text + "plan: [{place: beds, need: dress, way: yard, amount: 1.9 m3, date: 2028-03-01}]\n"
    wanted = call("plan", "-", "--format", "json", stdin=text.encode())
    done = call("plan", "-", "--format", "json", stdin=with_plan.encode())
    assert tables(done) == tables(wanted)


def test_a_long_plan_is_cut_on_a_screen_only(call: Call, plain: Path) -> None:
    """A screen shows the first lines and says how to see all; --table plan and csv have every one."""
    beds = "".join(
        f"  - {{name: bed {n}, kind: bed, shape: {{area: {n} m2}}, needs: [{{dress: {{depth: 2 cm}}}}]}}\n"
        for n in range(1, 45)
    )
    text = plain.read_text("utf-8").replace("ways:\n", f"{beds}ways:\n")
    count = len(tables(call("plan", "-", "--format", "json", stdin=text.encode()))["plan"])
    assert count > 40
    screen = call("plan", "-", stdin=text.encode()).text
    assert f"The first 40 of {count} lines; --table plan shows all." in screen
    assert len(re.findall("^2027-", screen, re.MULTILINE)) == 40
    whole = call("plan", "-", "--table", "plan", stdin=text.encode()).text
    assert "lines; --table plan" not in whole
    assert len(re.findall("^2027-", whole, re.MULTILINE)) == count
    rows = list(csv.reader(io.StringIO(call("plan", "-", "--format", "csv", stdin=text.encode()).text)))
    assert len(rows) == count + 1


@pytest.mark.parametrize("width", [80, 100])
def test_screens_fit(width: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """No line is longer than the screen, with all tables and the chart."""
    from click.testing import CliRunner

    from barrowful.cli.main import exit_code

    with CliRunner().isolation(env={"COLUMNS": str(width)}) as (out, _, _):
        assert exit_code(["plan", str(SCARCE), "--binds", "--chart"]) == 0
        sys.stdout.flush()
        text = out.getvalue().decode("utf-8")
    assert max(map(len, text.splitlines())) <= width
    assert "everything ready on" in text


def test_a_chart_in_its_file(call: Call, tmp_path: Path) -> None:
    """--chart FILE.svg writes the drawing of the frontier, the same twice, and says so aside."""
    file = tmp_path / "front.svg"
    done = call("plan", SCARCE, "--chart", file, "--format", "json")
    assert done.err.endswith(f"Wrote {file}.\n")
    once = file.read_bytes()
    assert b"<svg" in once
    for point in tables(done)["frontier"]:
        assert point["ready_on"].encode() in once
    call("plan", SCARCE, "--chart", file)
    assert file.read_bytes() == once


class HandTimer:
    """A timer that goes off when it is told to."""

    made: ClassVar[list[HandTimer]] = []

    def __init__(self, seconds: float, action: Callable[[], None]) -> None:
        self.seconds, self.action, self.daemon, self.state = seconds, action, False, "made"
        self.made.append(self)

    def start(self) -> None:
        """Begin to wait."""
        self.state = "waiting"

    def cancel(self) -> None:
        """Wait no longer."""
        self.state = "cancelled"


def test_what_is_looked_for_is_said_after_a_moment() -> None:
    """Nothing is said before; then what is being worked on, and each that comes next."""
    said: list[str] = []
    with progress_of.progress(said.append, HandTimer) as step:
        timer = HandTimer.made[-1]
        assert (timer.seconds, timer.state, timer.daemon) == (1.0, "waiting", True)
        step("most needs met")
        step("least cost")
        assert said == []
        timer.action()
        assert said == ["least cost"]
        step("least hours")
    assert said == ["least cost", "least hours"]
    assert timer.state == "cancelled"


def test_a_quick_answer_says_nothing_and_stops_the_clock() -> None:
    """The clock is stopped whatever happens."""
    said: list[str] = []

    def stopped() -> None:
        with progress_of.progress(said.append, HandTimer) as step:
            step("least cost")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert (said, HandTimer.made[-1].state) == ([], "cancelled")


def test_only_a_terminal_is_told(call: Call, small: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Elsewhere standard error stays empty, and no clock is set."""
    before = len(HandTimer.made)
    with progress_of.progress(None, HandTimer) as step:
        step("least cost")
    assert len(HandTimer.made) == before
    assert progress_of.to_terminal() is None or sys.stderr.isatty()
    monkeypatch.setattr(progress_of, "Timer", HandTimer)
    assert call("plan", small).err == ""


def test_a_terminal_is_told_on_standard_error(monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    """What is said there is one line."""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    say = progress_of.to_terminal()
    assert say is not None
    say("least cost")
    captured = capsys.readouterr()
    assert (captured.out, captured.err) == ("", "barrowful: looking for least cost ...\n")


def test_dates_are_days(ask: Call) -> None:
    """Every day of the plan lies within the horizon."""
    for row in tables(ask("plan", SCARCE, "--format", "json"))["plan"]:
        assert date(2027, 3, 1) <= date.fromisoformat(row["day"]) <= date(2029, 3, 1)
