"""Numbers: what is judged, and every number of the trade, stands in the catalogue with unit and reason."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Any

import pytest

from barrowful.catalogue.judgements import judgement_names

#: Where numbers are at home: figures, units and calendar, and the coefficients of published formulas.
HOMES = {"catalogue", "measures", "ground"}
#: Layers that reckon: here a number inside an expression is looked at too.
RECKONING = {"site", "costs", "soil", "supplies", "needs", "answers"}
#: Modules that draw pictures and nothing else: their numbers are sizes on paper or on a screen.
DRAWING_MODULES = (
    "axes",
    "canvas",
    "elements",
    "html",
    "plane",
    "plot",
    "plot_spans",
    "png",
    "span_rows",
    "svg",
)
DRAWING = frozenset(f"tables/writers/{name}.py" for name in DRAWING_MODULES)

#: Constants of modules, and why each is no figure.
CONSTANTS = {
    "FAR_YEARS": "how far a search looks",
    "LOOKS": "how fine a search looks",
    "SLACK": "what rounding may leave",
    "NEAR": "what rounding may leave",
    "LONGEST": "how far a search looks",
    "MOST_KEPT": "a setting of the machine",
    "KEPT": "a setting of the machine",
    "GAINS": "a setting of the search",
    "FAR": "a setting of the search",
    "LESS": "what rounding may leave",
    "NOTCHES": "a setting of the search",
    "SPARED": "a setting of the search",
    "MOST_KINDS": "a setting of the search",
    "PLENTY": "a setting of the search",
    "MOST_DAYS": "a setting of the machine",
    "APART": "what rounding can tell apart",
    "DUST": "what rounding may leave",
    "TWO_DIGITS": "how an amount is rounded to be told",
    "DIGITS": "how an amount is rounded to be told",
    "BASE": "how an amount is rounded to be told",
    "LONG_NUMBER": "how an amount is rounded to be told",
    "SLACK_CN": "what rounding may leave",
    "SLACK_SHARE": "what rounding may leave",
    "DRIEST": "limit of what is read",
    "WETTEST": "limit of what is read",
    "LEAST_SI": "limit of what is read",
    "MOST_SI": "limit of what is read",
    "MOST_MONEY": "limit of what is read",
    "MOST_BYTES": "limit of what is read",
    "MOST_NODES": "limit of what is read",
    "MOST_DEPTH": "limit of what is read",
    "MOST_SCALAR": "limit of what is read",
    "MOST_CASES": "limit of what is read",
    "MOST_END": "limit of what is read",
    "HEAD": "limit of what is read",
    "INCH_FOR_25_MM": "how an inch reads in millimetres",
    "MILLIMETRES": "how an inch reads in millimetres",
    "FIRSTS": "how far a search looks",
    "FEW_TRIES": "how far a search looks",
    "MANY_TRIES": "how far a search looks",
    "MOST_TRIES": "how far a search looks",
    "MOST_CHAINED": "how far a search looks",
    "MOST_THREES": "how far a search looks",
    "CRUMB": "what rounding may leave",
    "MOST_SPARE": "how far a search looks",
    "MOST_LEANING": "how far a search looks",
    "MOST_LEANINGS": "how far a search looks",
    "MOST_LASTING": "how far a search looks",
    "MOST_LEANT": "how far a search looks",
    "MOST_THREES_BESIDE": "how far a search looks",
    "HEAVY": "what tells amounts apart where no price is asked for",
    "BETTER": "what rounding may leave",
    "LOOKED_AT": "how fine a search looks",
    "HALVINGS": "how fine a search looks",
    "LEAST_STEPS": "how fine a search looks",
    "DAYS": "how far a search looks",
    "MOST_IN_FULL": "how far a search looks",
    "ENOUGH": "how far a search looks",
    "MOST_TRIED": "how far a search looks",
    "MOST_LOOKED_AT": "how far a search looks",
    "MOST_WAYS": "how far a search looks",
    "MET": "what rounding may leave",
    "LET_OFF": "what rounding may leave",
    "SPARE": "what rounding may leave",
    "ADDS_UP": "what rounding may leave",
    "COST": "how far a search looks",
    "COST_BY_COLUMNS": "how far a search looks",
    "LARGE": "how far a search looks",
    "AGAIN": "how far a search looks",
    "MANY_PORTIONS": "how far a search looks",
    "SPECK": "what rounding may leave",
    "TOLERANCE": "what rounding may leave",
    "HALF_A_COIN": "what rounding may leave",
    "CENT": "what rounding may leave",
    "ROUNDED": "what rounding may leave",
    "NOTHING": "what rounding may leave",
    "LITRE": "how an amount is rounded to be told",
    "TEN_GRAMS": "how an amount is rounded to be told",
    "EXACT": "how an amount is rounded to be told",
    "TENTH": "how an amount is rounded to be told",
    "FIGURES": "how an amount is rounded to be told",
    "LAST_STEP": "what is beyond rounding",
    "SOMETHING": "what tells something from nothing",
    "MONTHS": "months of a year",
    "DAYS_A_YEAR": "how fine a search looks",
    "MOST_POINTS": "how far a search looks",
    "ROUNDS": "how far a search looks",
    "EARLY": "what tells equals apart",
    "MOST_LEFT_OUT": "how far a search looks",
    "SOONER": "how far a search looks",
    "MOST_PROVED": "how far a search looks",
    "MOST_SORTS": "how far a search looks",
    "MOST_COLUMNS": "how far a search looks",
    "MOST_APART": "how far a search looks",
    "MOST_AMOUNTS": "how far a search looks",
    "FEW_AMOUNTS": "how far a search looks",
    "MOST_STEPS": "how far a search looks",
    "AS_GOOD_AS_ALL": "what rounding may leave",
    "SAME": "what tells equals apart",
    "SMALL": "what tells equals apart",
    "SPREADS": "how far a search looks",
    "LOOKS_UP": "how often a search looks up",
    "LEAST_PART": "how fine a search looks",
    "TEN": "what is tried",
    "LESS_STUFF": "what tells equals apart",
    "LATER": "what tells equals apart",
    "NO_PRICE": "what tells equals apart",
    "SERVINGS_HANDLED": "how far a search looks",
    "MANY_LOTS": "how far a search looks",
    "MOST_BESIDE": "how far a search looks",
    "MOST_CHANGED": "how far a search looks",
    "MOST_SEARCHED": "how far a search looks",
    "MOST_SETTLED": "how far a search looks",
    "MOST_NEEDS": "how far a search looks",
    "MOST_GIVEN": "how far a search looks",
    "LATER_PLACES": "how far a search looks",
    "MOST_AT_ONE": "how far a search looks",
    "MOST_AT_ALL": "how far a search looks",
    "COIN": "what rounding may leave",
    "MOMENT": "what rounding may leave",
    "MOST_WORKED_OUT": "how far a search looks",
    "FEW_VAIN": "how far a search looks",
    "LONG_YEAR": "of the calendar",
    "LETTERS": "width of a screen",
    "DAYS_PER_WEEK": "of the calendar",
    "MOST_REASONS": "how much is told at once",
    "MOST_HINTS": "how much is told at once",
    "MOST_HOMES": "how much is told at once",
    "MOST_TOLD": "how much is told at once",
    "MOST_VALUES": "how much is told at once",
    "MOST_NAMED": "how much is told at once",
    "GRAMS": "by definition",
    "PERCENT": "by definition",
    "PARTS": "how an amount is rounded to be told",
    "MOST_DRAWS": "how fine a search looks",
    "FEWEST_DRAWS": "how fine a search looks",
    "USUAL_DRAWS": "how fine a search looks",
    "MOST_SEED": "limit of what is read",
    "MOST_NOTES": "how much is told at once",
    "MOST_CAUTIONS": "how much is told at once",
    "MOST_WAYS_OUT": "how much is told at once",
    "MOST_CHARTS": "how much is told at once",
    "MOST_SPANS": "how much is told at once",
    "MOST_NAMES": "how much is told at once",
    "MOST_ROWS": "how much is told at once",
    "LEAST_SHOWN": "how much is told at once",
    "MOST_SHOWN": "how much is told at once",
    "INTERRUPTED": "an exit code",
    "NAMED": "how much is told at once",
    "ON_ORDERS": "how much is told at once",
    "MOST_DOSES": "how large a site is looked through",
    "LOOKED_AHEAD": "how far a search looks",
    "HALF_YEAR": "of the calendar",
    "MOST_OCTETS": "RFC 5545, 3.1: octets of a line",
    "BEFORE_END": "when a calendar tells of a day",
    "MOST_DAYS_A_YEAR": "how fine a search looks",
    "USUAL_WIDTH": "width of a screen",
    "LEAST_WIDTH": "width of a screen",
    "GAP": "width of a screen",
    "HEADING_LINES": "width of a screen",
    "LONG_WORD": "width of a screen",
    "NARROWEST": "width of a screen",
    "LEAST_WANTED": "what rounding may leave",
    "NEARLY_ALL": "what rounding may show",
    "MOST_BATCHES": "setting of the machine",
    "AT_ONCE": "setting of the machine",
    "MOST_LINES": "setting of the machine",
    "MOST_YEARS": "setting of the machine",
    "MOST_YEARLY_LINES": "setting of the machine",
    "PIECE": "setting of the machine",
    "TRIES": "setting of the machine",
    "PAUSE": "setting of the machine",
    "WEEKS_PER_YEAR": "of the calendar",
    "ANY_YEAR": "of the calendar",
    "EVERY_MONTH": "of the calendar",
    "YD3": "size of a unit that is shown",
    "FT2": "size of a unit that is shown",
    "LB": "size of a unit that is shown",
    "INCH": "size of a unit that is shown",
}
#: Numbers in expressions, and what each is.
LISTED: dict[str, dict[float, str]] = {
    "answers": {
        3: "nitrogen, phosphorus, potassium",
        1e6: "parts in a million",
        1e-4: "a share of the soil too small to be shown",
    },
    "soil": {3: "months in a season", 6: "months in half a year"},
    "costs": {60: "minutes in an hour"},
    "needs": {10: "a pH is told to the tenth"},
    "supplies": {7: "days in a week", 31: "the last of December"},
}
#: Numbers that count, turn and scale: they say nothing of the trade.
PLAIN = {0, 1, 2, 12, 100, 365, 1000}
#: What is at most so far from nothing, or from one, is there for rounding.
ROUNDING = 1e-6
#: Calls a constant may be made by and still be a number.
MAKERS = {"timedelta", "Decimal", "frozenset", "range"}


def numbers(node: ast.AST) -> Iterator[ast.Constant]:
    """Yield every number written inside a node."""
    for inner in ast.walk(node):
        if isinstance(inner, ast.Constant) and type(inner.value) in {int, float}:
            yield inner


def is_numeric(node: ast.expr) -> bool:
    """Say whether an expression is made of numbers alone, and not of nothing and one."""
    for inner in ast.walk(node):
        if isinstance(inner, ast.Constant) and type(inner.value) not in {int, float}:
            return False
        if isinstance(inner, ast.Call) and ast.unparse(inner.func) not in MAKERS:
            return False
        if isinstance(inner, ast.Name) and inner.id not in MAKERS and not inner.id.isupper():
            return False
    return any(number.value not in {0, 1} for number in numbers(node))


def constants(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Yield the name and line of every numeric constant of a module."""
    for node in tree.body:
        if isinstance(node, ast.Assign):
            targets, value = node.targets, node.value
        elif isinstance(node, ast.AnnAssign) and node.value is not None:
            targets, value = [node.target], node.value
        else:
            continue
        for target in targets:
            names = target.elts if isinstance(target, ast.Tuple) else [target]
            parts = value.elts if isinstance(value, ast.Tuple) and len(names) > 1 else [value] * len(names)
            for name, part in zip(names, parts, strict=True):
                if is_numeric(part):
                    yield ast.unparse(name), node.lineno


def let_by(tree: ast.Module) -> set[int]:
    """Return the ids of numbers that are decimal places, in a decorator, or in a constant of the module."""
    apart: list[ast.AST] = [node for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign)]
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            apart += node.decorator_list
        elif isinstance(node, ast.Call) and ast.unparse(node.func) == "round":
            apart += node.args[1:]
    return {id(number) for node in apart for number in numbers(node)}


def strange(tree: ast.Module, known: set[float]) -> Iterator[ast.Constant]:
    """Yield every number that is neither plain nor known, nor there for rounding."""
    known_by_name = let_by(tree)
    for number in numbers(tree):
        value = abs(float(number.value))  # type: ignore[arg-type]
        if value > ROUNDING and value not in PLAIN | known and id(number) not in known_by_name:
            yield number


def test_no_module_keeps_a_number_of_its_own(modules: list[Any]) -> None:
    """A constant outside the catalogue is a setting of the method, a limit or rounding, and is listed."""
    wrong = [
        f"{one.where}:{line}: {name}: make it a figure of catalogue/judgements/, or list it with its reason"
        for one in modules
        if one.layer not in HOMES and one.where not in DRAWING
        for name, line in constants(one.tree)
        if name not in CONSTANTS
    ]
    assert wrong == []


def test_no_number_of_the_trade_hides_in_an_expression(modules: list[Any]) -> None:
    """What reckons writes no number but plain ones and those listed with what they are."""
    wrong = [
        f"{one.where}:{number.lineno}: {number.value}: make it a figure, or list it with what it is"
        for one in modules
        if one.layer in RECKONING
        for number in strange(one.tree, set(LISTED.get(one.layer, {})))
    ]
    assert wrong == []


def test_nothing_is_listed_in_vain(modules: list[Any]) -> None:
    """A reason whose number is gone goes too."""
    free = {one.where: {name for name, _ in constants(one.tree)} for one in modules if one.layer not in HOMES}
    there = {name for where in free.keys() - DRAWING for name in free[where]}
    assert sorted(set(CONSTANTS) - there) == []
    assert [where for where in sorted(DRAWING) if not free.get(where)] == []
    for layer, known in LISTED.items():
        written = {n.value for one in modules if one.layer == layer for n in strange(one.tree, set())}
        assert sorted(set(known) - written) == [], layer


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("KEPT = timedelta(days=400)", {"KEPT"}),
        ("BAND = (25 / 30, 35 / 30)", {"BAND"}),
        ("A, B = 4, 0", {"A"}),
        ("DAYS: float = -14.5", {"DAYS"}),
        ("FULL = 0.99", {"FULL"}),
        ("NEAR: float = 12.0", {"NEAR"}),
        ("YEAR = Step(months=12)", set()),
        ("NONE = 0.0", set()),
        ("NAME = 'x'", set()),
        ("SHOWN = Shown('kg', 1.0, 3)", set()),
    ],
)
def test_the_test_sees_constants(source: str, found: set[str]) -> None:
    """Numbers alone, in tuples, sums and times, are constants; records with words are not."""
    assert {name for name, _ in constants(ast.parse(source))} == found


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("x > 0.15", {0.15}),
        ("x * (1 + 1e-9)", set()),
        ("round(x, 6)", set()),
        ("round(6.5 * x)", {6.5}),
        ("100 * x / 12", set()),
        ("@keep(most=256)\ndef f(): return 256", {256}),
        ("KEPT = 400", set()),
    ],
)
def test_the_test_sees_numbers(source: str, found: set[float]) -> None:
    """Rounding, scaling and counting are let by; a limit written where it is used is not."""
    assert {number.value for number in strange(ast.parse(source), set())} == found


def test_every_judgement_is_asked_for(modules: list[Any]) -> None:
    """No judgement stands for nothing: each name is written in a module outside the catalogue."""
    texts = {
        node.value
        for one in modules
        if one.layer not in HOMES
        for node in ast.walk(one.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    made = {f"sow_{season}" for season in ("autumn", "summer", "spring")} if "sow_" in texts else set()
    assert sorted(set(judgement_names()) - texts - made) == []
