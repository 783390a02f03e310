"""What more of a limit saves: never less than nothing, as what does with less does with more."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest

from barrowful.planning import bindings


def plan(met: int, cash: str, ready: date) -> Any:
    """Return what is asked of a plan: needs met, cash, and the day it is ready."""
    whole = SimpleNamespace(places_met=range(met), bill=SimpleNamespace(cash=Decimal(cash)))
    return SimpleNamespace(whole=whole, ready_on=ready)


@pytest.mark.parametrize(
    ("better", "saves"),
    [
        (plan(3, "90.00", date(2027, 6, 1)), ("10.00", -31, 0)),
        (plan(3, "100.00", date(2027, 4, 1)), ("0.00", 30, 0)),
        (plan(4, "120.00", date(2027, 6, 1)), ("-20.00", -31, 1)),
        (plan(3, "100.00", date(2027, 6, 1)), ("0.00", 0, 0)),
        (plan(3, "101.00", date(2027, 4, 1)), ("0.00", 0, 0)),
        (plan(2, "50.00", date(2027, 4, 1)), ("0.00", 0, 0)),
    ],
)
def test_more_of_a_limit_is_never_worse(better: Any, saves: tuple[str, int, int]) -> None:
    """More needs met may cost more, and less cash may take longer; where neither is so, it is as it was."""
    was = plan(3, "100.00", date(2027, 5, 1))
    found = bindings._binding("limits.cash", "10 EUR", was, better)
    assert (str(found.saves_cash), found.saves_days, found.meets_more) == saves
