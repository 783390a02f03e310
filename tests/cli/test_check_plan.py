"""What `check` says of a plan in a site file: the warnings of following it, each at its line."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
SITE = """\
site: Typed Field
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC}
places:
  - {name: bed, kind: bed, shape: {area: 10 m2}, needs: [{cover: {depth: 5 cm}}, {dress: {depth: 2 cm}}]}
  - {name: other, kind: bed, shape: {area: 10 m2}, needs: [{dress: {depth: 2 cm}}]}
ways:
  - {name: chip, buy: {material: arborist chip, price: 46 EUR/m3, lead: 1 week}}
  - {name: yard, buy: {material: green compost, price: 46 EUR/m3}}
  - {name: tub, have: {material: green compost, amount: 100 L}}
"""
PLAN = """\
plan:
  - {place: bed, need: dress, way: yard, amount: 100 L, date: 2027-03-01}
  - {place: bed, need: cover, way: chip, amount: 1.5 m3, date: 2027-03-02}
  - {place: bed, need: dress, way: yard, amount: 600 L, date: 2027-03-02}
  - {place: other, need: dress, way: tub}
"""
#: Where each sentence points to: the one line of its way, and of two the one that goes on later.
LINES = [
    (14, "plan: bed, cover by chip is wanted on 2027-03-02, but comes on 2027-03-08 at the soonest when it is"
     " ordered on 2027-03-01"),
    (14, "plan: bed, cover by chip: 12.0 cm of it, 10.0 at most"),
    (15, "plan: bed: your plan puts on 2.8 times the most compost and manure in a year (yearly_depth)"),
    (16, "plan: other, dress by tub: brings 0.1 m3, 0.1 m3 short by 2031-03-01; 50% of it is met"),
]  # fmt: skip


@pytest.fixture
def typed(tmp_path: Path) -> Path:
    """Give a site with a plan that breaks ceilings, comes too soon, and leaves a need unmet."""
    path = tmp_path / "typed.yaml"
    path.write_text(SITE + PLAN, encoding="utf-8")
    return path


def of_plan(call: Call, *words: str | Path) -> list[tuple[int, str]]:
    """Return what a check warns of the plan, each with its line."""
    warned = call("check", *words, "--format", "json").json["warnings"]
    return [(one["line"], one["message"]) for one in warned if one["code"] == "plan"]


def test_each_stands_at_its_line(call: Call, typed: Path) -> None:
    """600 + 100 L are 7 cm on 10 m2, 2.8 inches; 1.5 m3 of chip lie 12 cm deep once they are settled."""
    assert of_plan(call, typed) == LINES
    done = call("check", typed)
    assert (done.code, done.out) == (0, b"")
    assert f"warning: {typed}:14:5: {LINES[1][1]} [plan]\n" in done.err
    assert call("check", typed, "--strict").code == 4


def test_the_words_are_those_of_orders(call: Call, typed: Path) -> None:
    """A check and the order sheet warn of a plan by the same sentences."""
    warned = call("orders", typed, "--format", "json").json["warnings"]
    assert sorted(line for line in warned if "plan: " in line) == sorted(told for _, told in LINES)


def test_limits_stand_at_the_plan(call: Call, typed: Path) -> None:
    """What is of the whole plan stands where it begins; a stock at the first line that draws on it."""
    typed.write_text(f"{SITE}limits: {{cash: 5 EUR}}\n{PLAN}", encoding="utf-8")
    drawn = of_plan(call, typed, "--set", "plan.4.amount=150 L")
    assert drawn[0][0] == 13
    assert drawn[0][1].startswith("your plan: ")
    assert [line for line, told in drawn if told.startswith("plan: tub is to bring 0.15 m3")] == [17]


def test_a_plan_that_does_as_it_says_is_not_warned_of(call: Call, typed: Path) -> None:
    """One bought dressing within the ceilings passes the strict check."""
    fine = "plan:\n  - {place: other, need: dress, way: yard}\n"
    typed.write_text(SITE + fine, encoding="utf-8")
    assert call("check", typed, "--strict").code == 0


def test_what_cannot_be_answered_is_told(call: Call, typed: Path) -> None:
    """A heap of more batches than are looked at leaves the plan unfollowed: that is a warning, not a bug."""
    more = "  - {name: straw, buy: {material: straw, price: 9 EUR/m3}}\n"
    stuff = "[{way: straw}, {material: grass clippings, weekly: 20 m3}]"
    more += f"  - {{name: pit, make: {{bay: 1 L, bays: 1000, from: {stuff}}}}}\nhorizon: 60 years\n"
    typed.write_text(SITE + more + PLAN, encoding="utf-8")
    [(line, told)] = of_plan(call, typed)
    assert (line, told.partition(":")[0], "more than" in told) == (15, "plan", True)


@pytest.mark.parametrize("plan", ["", PLAN])
def test_what_answers_is_loaded_for_a_plan_alone(typed: Path, plan: str) -> None:
    """A check of a file without a plan is as quick as it was."""
    typed.write_text(SITE + plan, encoding="utf-8")
    script = (
        "import sys; from barrowful.cli.main import exit_code; exit_code(['check', sys.argv[1]]);"
        "print(any(name.startswith('barrowful.answers') for name in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(typed)], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == str(bool(plan))
