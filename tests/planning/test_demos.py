"""The plans of the demos: met, sound, the same when they are written and read, never dearer than a row."""

from __future__ import annotations

from functools import lru_cache

import pytest
from plan_lines import DEMO, check_carried_out, check_never_dearer, planned

from barrowful.answers.options import Answer, options
from barrowful.planning.plan import Plan
from barrowful.site.load import load

DEMOS = sorted(path.name for path in DEMO.glob("*.yaml"))


@lru_cache(maxsize=8)
def solved(name: str) -> tuple[bytes, Answer, Plan]:
    """Return the bytes of a demo, its answer and its plan."""
    data = (DEMO / name).read_bytes()
    answer = options(load(data, name).site)
    plan = planned(answer)
    assert plan is not None
    return data, answer, plan


@pytest.mark.parametrize("name", DEMOS)
def test_a_plan_is_carried_out_as_it_says(name: str) -> None:
    """Its lines, written as a grower would write them, meet the same for the same money, ready as soon.

    No ceiling is broken, no stock overdrawn and no limit passed.
    """
    data, _, plan = solved(name)
    check_carried_out(data, plan)


@pytest.mark.parametrize("name", DEMOS)
def test_a_plan_is_never_dearer_than_a_row(name: str) -> None:
    """No row of options within the limits meets more, nor as much for less."""
    _, answer, plan = solved(name)
    check_never_dearer(answer, plan)
