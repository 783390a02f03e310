"""What the hostile tests share: loading a file, judging its problems, and counting the work it makes."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from barrowful.measures.problems import Problem, SiteProblems
from barrowful.site.load import load

DEMO = Path(__file__).parents[2] / "demo"
QUOTED = re.compile(r'"[^"]*"')
PYTHON_WORDS = re.compile(
    r"\b(NoneType|None|Traceback|[A-Za-z]+(Error|Exception)|dict|tuple|frozenset|Decimal|datetime|float|int|str|list"
    r" object|Scalar|Listing|Mapping|Section|Quantity|ParseError|Ranged)\b|object at 0x|<class"
)
UNSEEN = re.compile(r"[\x00-\x08\x0a-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")


#: A file that makes the reader learn what it learns but once: units, their spellings, materials and hints.
FAMILIAR = (
    "site: x\ncurrency: EUR\nstart: 2027-03-01\ncolour: blue\n"
    "places: [{name: a, kind: bed, shape: {area: 3 m2}, needs: [{cover: {depth: 3 cms}}]}]\n"
    "ways: [{name: yard, buy: {material: straws, price: 4 EUR/m3, lead: 3 weeks}}]\n"
)


class TooMuch(Exception):
    """Raised inside a call that does more than it may."""


@pytest.fixture(scope="session")
def problems_of() -> Callable[[bytes | str], tuple[Problem, ...]]:
    """Give a function that loads a file and returns its problems: none for a sound one."""

    def load_it(data: bytes | str) -> tuple[Problem, ...]:
        try:
            load(data.encode("utf-8") if isinstance(data, str) else data, "field.yaml")
        except SiteProblems as found:
            return found.problems or pytest.fail("a refusal has to say why")
        return ()

    return load_it


@pytest.fixture(scope="session")
def well_formed() -> Callable[[tuple[Problem, ...], bytes | str], None]:
    """Give a function that asserts what holds for the problems of any file at all."""

    def check(problems: tuple[Problem, ...], data: bytes | str) -> None:
        content = data.encode("utf-8") if isinstance(data, str) else data
        lines = len(re.split(rb"\r\n|\n|\r", content))
        places = [(one.line, one.column) for one in problems]
        assert places == sorted(places), "problems stand in the order of the file"
        for one in problems:
            assert one.file == "field.yaml"
            assert 0 <= one.line <= lines, f"line {one.line} of {lines}: {one.message}"
            assert one.column >= (1 if one.line else 0)
            assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", one.code)
            assert len(one.message) > 10
            assert one.message == one.message.strip()
            assert not UNSEEN.search(one.message), repr(one.message)
            assert not PYTHON_WORDS.search(QUOTED.sub("", one.message)), one.message

    return check


@pytest.fixture(scope="session")
def work_of(problems_of: Callable[[bytes | str], tuple[Problem, ...]]) -> Callable[..., int]:
    """Give a function that returns how many calls it takes to load a file, stopping at too many.

    No clock is read, so the answer is the same on a machine of any speed and load.
    """
    problems_of(FAMILIAR)

    def count(data: bytes | str, most: int = 10_000_000) -> int:
        calls = 0

        def called(_: object, event: str, __: object) -> None:
            nonlocal calls
            calls += event in {"call", "c_call"}
            if calls > most:
                raise TooMuch

        before = sys.getprofile()
        sys.setprofile(called)
        try:
            problems_of(data)
        finally:
            sys.setprofile(before)
        return calls

    return count


@pytest.fixture(scope="session")
def demos() -> list[str]:
    """Give the text of every demo file."""
    return [path.read_text(encoding="utf-8") for path in sorted(DEMO.glob("*.yaml"))]
