"""What the tests of the log share: a site file on disk, and the command run on it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from changed import Changed

from barrowful.cli.main import exit_code

HEAD = """\
# Kept by hand: spacing, quotes and all.
site:   Field      # two spaces more than needed
currency: EUR
start: 2027-03-01
measures: {barrow: 80 L}

places:
  - {name: beds, kind: bed, shape: {area: 10 m2}}
  - name: 'young trees'
    kind: tree
    shape: {ring: {radius: 90 cm, collar: 15 cm}}
    count: 11
"""


Log = Callable[..., Changed]
ENTRY = ("--date", "2027-04-12", "--place", "beds", "--material", "straw", "--amount", "18 barrow")


@pytest.fixture(scope="session")
def head() -> str:
    """Give the text of a sound site file without a history."""
    return HEAD


@pytest.fixture(scope="session")
def entry() -> tuple[str, ...]:
    """Give the words of a sound entry: 18 barrows of straw on the beds."""
    return ENTRY


@pytest.fixture
def log(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> Log:
    """Give a function that writes a site file, unless it is there, and runs the command on it."""

    def run(text: str | bytes | None = None, *words: str) -> Changed:
        path = tmp_path / "field.yaml"
        if text is not None:
            path.write_bytes(text.encode() if isinstance(text, str) else text)
        before = path.read_bytes()
        code = exit_code(["log", str(path), *(words or ENTRY)])
        out, err = capfd.readouterr()
        assert out == ""
        return Changed(code, err, before, path.read_bytes(), path)

    return run
