"""What the hostile tests share: loading a file, judging its problems, and a limit on the time it may take."""

from __future__ import annotations

import re
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
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


#: Seconds of the processor in which a machine as fast as the limits are meant for adds up a million numbers.
REFERENCE = 0.03


def slowness() -> float:
    """Return how many times slower than the reference this machine is, and 1 for a faster one."""
    begin, total = time.process_time(), 0
    for number in range(1_000_000):
        total += number
    return max(1.0, (time.process_time() - begin) / REFERENCE)


class TooSlow(Exception):
    """Raised inside a call that would go on for ever."""


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
def within() -> Callable[[float], AbstractContextManager[None]]:
    """Give a context that fails when its body uses more than so many seconds of a fair processor."""
    factor = slowness()

    @contextmanager
    def limit(seconds: float) -> Iterator[None]:
        def stop(*_: object) -> None:
            raise TooSlow

        before = signal.signal(signal.SIGPROF, stop)
        signal.setitimer(signal.ITIMER_PROF, 10 * seconds * factor)
        begin = time.process_time()
        try:
            yield
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
            signal.signal(signal.SIGPROF, before)
        used = (time.process_time() - begin) / factor
        assert used <= seconds, f"took {used:.1f} s"

    return limit


@pytest.fixture(scope="session")
def demos() -> list[str]:
    """Give the text of every demo file."""
    return [path.read_text(encoding="utf-8") for path in sorted(DEMO.glob("*.yaml"))]
