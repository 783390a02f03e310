"""What the tests of a written plan share: a site file on disk, and the plan written into it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest
from changed import Changed

from barrowful.cli.files import change
from barrowful.cli.planner import planner
from barrowful.measures.problems import BarrowfulError

HEAD = """\
# Kept by hand: spacing, quotes and all.
site:   Field      # two spaces more than needed
currency: EUR
start: 2027-03-01

places:
  - {name: beds, kind: bed, shape: {area: 10 m2}, needs: [{cover: {depth: 5 cm}}, {dress: {dose: 2 kg/m2}}]}
ways:
  - {name: yard, buy: {material: green compost, price: 40 EUR/m3}}
"""
LINES = (
    {"place": "beds", "need": "cover", "way": "yard", "amount": "0.5 m3", "date": "2027-04-10"},
    {"place": "beds", "need": "dress", "way": "yard"},
)


Write = Callable[..., Changed]
Lines = Sequence[Mapping[str, str]]


@pytest.fixture(scope="session")
def head() -> str:
    """Give the text of a sound site file without a plan."""
    return HEAD


@pytest.fixture(scope="session")
def lines() -> Lines:
    """Give the lines of a sound plan: one with all its keys, one without amount and date."""
    return LINES


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Give a function that writes a site file, unless it is there, and a plan into it."""

    def run(text: str | bytes | None = None, plan: Lines = LINES, **more: object) -> Changed:
        path = tmp_path / "field.yaml"
        if text is not None:
            path.write_bytes(text.encode() if isinstance(text, str) else text)
        before = path.read_bytes()
        code, said = 0, ""
        try:
            change(str(path), planner(str(path), plan, **more))  # type: ignore[arg-type]
        except BarrowfulError as refusal:
            code, said = refusal.exit_code, str(refusal)
        return Changed(code, said, before, path.read_bytes(), path)

    return run
