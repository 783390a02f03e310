"""What the tests of a season share: the demos' seasons, and those of made-up sites."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from season_sites import season_of_text, site_text

from barrowful.jobs.season import Season

DEMO = sorted((Path(__file__).parents[2] / "demo").glob("*.yaml"))


@pytest.fixture(scope="session")
def made() -> Callable[..., Season]:
    """Give what works out the season of a made-up site."""
    return lambda **changed: season_of_text(site_text(**changed))


@pytest.fixture(scope="session", params=DEMO, ids=lambda path: path.stem)
def demo(request: pytest.FixtureRequest) -> Season:
    """Give the season of each demo."""
    return season_of_text(request.param.read_text(encoding="utf-8"))
