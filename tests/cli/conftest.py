"""What the command-line tests share: running a command here, running it as a process, and some sites."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from click.testing import CliRunner

import barrowful
from barrowful.cli.main import exit_code

SOURCE = Path(barrowful.__file__).parents[1]
DEMO = Path(__file__).parents[2] / "demo"

SMALL = """\
site: Small Field
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC}
measures: {barrow: 80 L}
places:
  - name: beds
    kind: bed
    shape: {rectangle: [9 m, 1.2 m]}
    count: 2
    needs: [{cover: {depth: 5 cm}}]
ways:
  - name: yard
    buy: {material: arborist chip, price: 46 EUR/m3}
"""


class Outcome(NamedTuple):
    """What a command did: exit code, standard output as bytes, standard error as text."""

    code: int
    out: bytes
    err: str

    @property
    def text(self) -> str:
        """Return standard output as text."""
        return self.out.decode("utf-8")

    @property
    def json(self) -> Any:
        """Return standard output as JSON; the words NaN and Infinity are not JSON."""

        def refuse(word: str) -> None:
            raise AssertionError(f"{word} is not JSON")

        return json.loads(self.text, parse_constant=refuse)


def run_here(*words: str | Path, stdin: bytes = b"") -> Outcome:
    """Run the command line in this process, for a screen of no known width, and return what it did."""
    with CliRunner().isolation(input=stdin, env={"COLUMNS": None}) as (out, err, _):
        code = exit_code([str(word) for word in words])
        sys.stdout.flush()
        return Outcome(code, out.getvalue(), err.getvalue().decode("utf-8"))


@cache
def run_once(*words: str | Path, stdin: bytes = b"") -> Outcome:
    """Run a command that changes nothing; asked again, return the same answer."""
    return run_here(*words, stdin=stdin)


@pytest.fixture(scope="session")
def call() -> Callable[..., Outcome]:
    """Give the function that runs the command line in this process."""
    return run_here


@pytest.fixture(scope="session")
def ask() -> Callable[..., Outcome]:
    """Give the function that runs a reading command in this process, each one once."""
    return run_once


@pytest.fixture(scope="session")
def environment() -> Callable[..., dict[str, str]]:
    """Give a function for the environment of a process, with changes; None takes a name out."""

    def build(**changes: str | None) -> dict[str, str]:
        usual = {"PYTHONPATH": str(SOURCE), "PYTHONUNBUFFERED": None, "COLUMNS": None}
        found = {**os.environ, **usual, **changes}
        return {name: value for name, value in found.items() if value is not None}

    return build


@pytest.fixture(scope="session")
def start(environment: Callable[..., dict[str, str]]) -> Callable[..., subprocess.Popen[bytes]]:
    """Give a function that starts the command line as a process of its own."""

    def begin(*words: str | Path, **how: Any) -> subprocess.Popen[bytes]:
        how = {"stdin": subprocess.DEVNULL, "stderr": subprocess.PIPE, "env": environment(), **how}
        return subprocess.Popen([sys.executable, "-m", "barrowful", *map(str, words)], **how)

    return begin


@pytest.fixture(scope="session")
def demos() -> dict[str, Path]:
    """Give the demo files by name."""
    return {path.stem: path for path in sorted(DEMO.glob("*.yaml"))}


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """Give a small sound site file that calls for no warning."""
    file = tmp_path / "small.yaml"
    file.write_text(SMALL, encoding="utf-8")
    return file


@pytest.fixture
def spoilt(tmp_path: Path) -> Path:
    """Give a site file with two problems, on lines 3 and 9."""
    file = tmp_path / "spoilt.yaml"
    file.write_text(SMALL.replace("2027-03-01", "2027-02-30").replace("1.2 m", "1.2"), encoding="utf-8")
    return file


@pytest.fixture
def unusual(tmp_path: Path) -> Path:
    """Give a sound site file that calls for a warning as it is read."""
    file = tmp_path / "unusual.yaml"
    file.write_text(SMALL.replace("depth: 5 cm", "depth: 61 cm"), encoding="utf-8")
    return file


def contents_of(folder: Path) -> dict[str, bytes | None]:
    """Return what every name of a folder holds."""
    return {path.name: path.read_bytes() if path.is_file() else None for path in sorted(folder.iterdir())}


@pytest.fixture(scope="session")
def contents() -> Callable[[Path], dict[str, bytes | None]]:
    """Give the function that tells what every name of a folder holds."""
    return contents_of


@pytest.fixture
def refused(tmp_path: Path) -> Callable[..., str]:
    """Give a function that holds that a command is wrong use and writes nothing, and returns what it says."""

    def run(*words: str | Path, folder: Path = tmp_path) -> str:
        before = contents_of(folder)
        done = run_here(*words)
        assert (done.code, done.out) == (2, b""), done.err
        assert contents_of(folder) == before
        return done.err

    return run
