"""A search that the grower stops: the best so far is kept, sound and told as not proven."""

from __future__ import annotations

from itertools import count

import pytest
from plan_lines import DEMO

from barrowful.answers.options import options
from barrowful.planning.plan import plan_of
from barrowful.planning.programme import Limited
from barrowful.site.load import load

highspy = pytest.importorskip("highspy")
YARD = DEMO / "odd-bucket-yard.yaml"


@pytest.mark.parametrize("stopped_run", [1, 2, 3])
def test_the_best_so_far_is_kept(monkeypatch: pytest.MonkeyPatch, stopped_run: int) -> None:
    """Whichever search it is stopped in there is a plan that keeps to everything, with how far it may be from the least."""
    runs, start, wait = count(1), highspy.Highs.startSolve, highspy.Highs.wait
    number = 0

    def started(solver: object) -> object:
        nonlocal number
        number = next(runs)
        return start(solver)

    def stopped(solver: object, timeout: float) -> object:
        if number == stopped_run:
            raise KeyboardInterrupt
        return wait(solver, timeout)

    monkeypatch.setattr(highspy.Highs, "startSolve", started)
    monkeypatch.setattr(highspy.Highs, "wait", stopped)
    answer = options(load(YARD.read_bytes(), YARD.name).site)
    plan = plan_of(answer, Limited.of(answer))
    assert plan is not None
    assert plan.interrupted
    assert not plan.proven
    assert plan.proved.faults == []
    assert 0 <= plan.gap <= 1
