"""How many cases are drawn, and whether they are the same each time: they are, unless new ones are looked for."""

from __future__ import annotations

import os
from typing import Any

import pytest
from hypothesis import settings

#: What `BARROWFUL_TESTS` may say, and the cases of each hundred that are then drawn.
SHARES = {"moderate": 30, "thorough": 100, "searching": 100}
#: What draws other cases each time; all else draws the same, so that what passed once passes again.
SEARCHING = "searching"
#: So many are drawn in any case, where there are as many.
LEAST = 6
PROFILE = os.environ.get("BARROWFUL_TESTS", "") or "moderate"


def cases(most: int) -> int:
    """Return how many of at most so many cases are tried."""
    return min(most, max(LEAST, most * SHARES[PROFILE] // 100))


def draws(most: int, parent: settings | None = None, **more: Any) -> settings:
    """Return the settings of a test that is given at most so many drawn cases."""
    return settings(parent, max_examples=cases(most), **more)


def load_profile() -> None:
    """Let hypothesis draw as many as is asked for, on machines of any speed."""
    if PROFILE not in SHARES:
        raise pytest.UsageError(f'BARROWFUL_TESTS is "{PROFILE}"; it may be {", ".join(SHARES)}')
    for name, share in SHARES.items():
        settings.register_profile(name, max_examples=share, deadline=None, derandomize=name != SEARCHING)
    settings.load_profile(PROFILE)
