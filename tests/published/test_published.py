"""Printed answers against the package, one test a row of the data files beside this one.

A row holds ``id``, ``says``, ``seen``, ``calculation``, ``inputs``, ``expected`` and ``tolerance``:

* ``last digit``: ours rounds to what is printed, give or take half of its last place;
* ``exact``: the printed figure is the whole truth, one part in a million million;
* ``relative 0.01`` and ``nearest 10``: within so large a part, or half of so large a step.

``exact`` gives the true figure to the digits shown where the source rounds. A row with
``agrees = false`` says ``why``; ours must then miss each printed figure that has an ``exact`` one
beside it, and hit the exact one. What others printed is ``seen`` as read, read in a copy or from
memory; ``derived`` is worked out by hand from a printed formula. A list of texts is one answer in several units, a table several
answers of one kind.
"""

from __future__ import annotations

import importlib
import importlib.util
import inspect
import pkgutil
import re
import sys
import tomllib
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

import pytest
from scripts import load_file

import barrowful.ground
from barrowful.measures.factors import SPELLINGS
from barrowful.measures.quantities import quantity
from barrowful.measures.text import split_quantity

HERE = Path(__file__).parent
READ = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(HERE.glob("*.toml"))}
#: Relations of ground without a printed value: module -> name -> why there is none.
REASONS = READ.pop("reasons")
FILES = READ
ROWS = [(f"{stem}-{row['id']}", row) for stem, data in FILES.items() for row in data["row"]]
PRINTED = {"read", "read in a copy", "from memory"}
SEEN = PRINTED | {"derived"}
KEYS = {"id", "says", "seen", "calculation", "inputs", "expected", "tolerance"}
MORE_KEYS = {"exact", "agrees", "why", "class"}
ROUNDING = 1e-12


CALCULATIONS = load_file(HERE / "calculations.py")


def to_input(value: Any) -> Any:
    """Turn texts with units into quantities, inside lists and tables too."""
    if isinstance(value, str):
        number, words = split_quantity(value)
        return quantity(number, names(words))
    if isinstance(value, list):
        return [to_input(one) for one in value]
    if isinstance(value, dict):
        return {name: to_input(one) for name, one in value.items()}
    return value


def names(words: str) -> str:
    """Write the spellings of a unit as the names that pint knows."""
    named = re.sub(r"[^/*\s]+", lambda word: SPELLINGS.get(word[0], word[0]), words)
    return f"1{named}" if named[:1] in {"", "/"} else named


def magnitude(answer: Any, words: str) -> float:
    """Read an answer in the unit that the source prints, or as a plain number."""
    if not hasattr(answer, "units"):
        assert not words, f"{answer} is a plain number, not so many {words}"
        return float(answer)
    return float(answer.to(names(words)).magnitude)


def last_place(number: str) -> float:
    """Give the worth of one unit of a printed number's last digit."""
    mantissa, _, exponent = number.lower().partition("e")
    decimals = len(mantissa.partition(".")[2])
    return 10.0 ** (int(exponent or 0) - decimals)


def allowed(number: str, tolerance: str) -> float:
    """Give the largest difference a tolerance allows from a printed number."""
    kind, _, size = tolerance.partition(" ")
    if tolerance == "last digit":
        room = last_place(number) / 2
    elif tolerance == "exact":
        room = 0.0
    elif kind == "relative":
        room = float(size) * abs(float(number))
    else:
        assert kind == "nearest", f"unknown tolerance {tolerance}"
        room = float(size) / 2
    return room + ROUNDING * max(1.0, abs(float(number)))


def hits(answer: Any, printed: Any, tolerance: str) -> bool:
    """Say whether an answer is the printed one, within the tolerance."""
    if isinstance(printed, bool):
        return answer is printed
    if isinstance(printed, list):
        return all(hits(answer, one, tolerance) for one in printed)
    text = str(printed)
    number = re.match(r"\S+", text).group()
    difference = abs(magnitude(answer, text.removeprefix(number).strip()) - float(number))
    return difference <= allowed(number, tolerance)


def leaves(table: dict[str, Any], prefix: str = "") -> dict[str, Any]:
    """Flatten tables inside a table, so that each single answer is judged by itself."""
    flat: dict[str, Any] = {}
    for name, value in table.items():
        flat |= leaves(value, f"{prefix}{name}.") if isinstance(value, dict) else {prefix + name: value}
    return flat


@pytest.mark.parametrize("row", [pytest.param(row, id=name) for name, row in ROWS])
def test_row(row: dict[str, Any]) -> None:
    """The package gives the printed answer, or the exact one where the source is off and we say why."""
    answers = leaves(getattr(CALCULATIONS, row["calculation"])(**to_input(row["inputs"])))
    exact = leaves(row.get("exact", {}))
    for name, printed in leaves(row["expected"]).items():
        differs = not row.get("agrees", True) and name in exact
        assert hits(answers[name], printed, row["tolerance"]) is not differs, (
            f"{name}: ours {answers[name]}, printed {printed}"
        )
    for name, true in exact.items():
        assert hits(answers[name], true, "last digit"), f"{name}: ours {answers[name]}, exact {true}"


@pytest.mark.parametrize("row", [pytest.param(row, id=name) for name, row in ROWS])
def test_row_is_complete(row: dict[str, Any]) -> None:
    """A row names its source, how it was seen, and why it differs when it does."""
    assert row.keys() >= KEYS
    assert row.keys() <= KEYS | MORE_KEYS
    assert row["says"].endswith(".")
    assert row["seen"] in SEEN
    assert row["expected"]
    assert leaves(row.get("exact", {})).keys() <= leaves(row["expected"]).keys()
    assert row.get("class", "A") in {"A", "B", "C", "D", "K"}
    if not row.get("agrees", True):
        assert row["exact"]
        assert row["why"].endswith(".")
    else:
        assert "why" not in row


@pytest.mark.parametrize("stem", FILES)
def test_file_is_complete(stem: str) -> None:
    """A file states its subject, uses each id once, and says why it leaves examples out."""
    data = FILES[stem]
    ids = [row["id"] for row in data["row"]]
    assert data["subject"].endswith(".")
    assert len(ids) == len(set(ids))
    assert all(one["what"] and one["because"].endswith(".") for one in data["left_out"])
    assert not {one["what"] for one in data["left_out"]} & set(ids)


def relations_of_ground() -> dict[CodeType, str]:
    """Return every public function of ground by its code, named by module and function."""
    return {
        function.__code__: f"{module.name}.{name}"
        for module in pkgutil.iter_modules(barrowful.ground.__path__)
        for name, function in inspect.getmembers(
            importlib.import_module(f"barrowful.ground.{module.name}"), inspect.isfunction
        )
        if not name.startswith("_") and function.__module__ == f"barrowful.ground.{module.name}"
    }


def called_by_printed_rows(relations: dict[CodeType, str]) -> set[str]:
    """Ask every row that prints what others found, and return the relations that run, however deep."""
    called: set[str] = set()

    def note(frame: FrameType, event: str, _: Any) -> None:
        if event == "call" and frame.f_code in relations:
            called.add(relations[frame.f_code])

    before = sys.getprofile()
    for _, row in ROWS:
        if row["seen"] in PRINTED:
            inputs = to_input(row["inputs"])
            sys.setprofile(note)
            try:
                getattr(CALCULATIONS, row["calculation"])(**inputs)
            finally:
                sys.setprofile(before)
    return called


def test_every_relation_has_a_printed_value_or_a_reason() -> None:
    """What no printed row calls says why; what one calls needs no excuse."""
    relations = relations_of_ground()
    reasons = {f"{module}.{name}": why for module, names in REASONS.items() for name, why in names.items()}
    assert set(relations.values()) - called_by_printed_rows(relations) == reasons.keys()
    assert all(why.endswith(".") and why.count(" ") >= 4 for why in reasons.values())


def test_every_calculation_is_used() -> None:
    """No question stands in the module without a row that asks it."""
    functions = {
        name
        for name, thing in inspect.getmembers(CALCULATIONS, inspect.isfunction)
        if thing.__module__ == CALCULATIONS.__name__ and not name.startswith("_")
    }
    assert functions == {row["calculation"] for _, row in ROWS}


def test_there_are_enough_rows() -> None:
    """The collection does not shrink unseen."""
    assert len(ROWS) >= 150
