"""Plans carried out one after another: what is known of one plan's doses is never taken for another's."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest
from plan_lines import DEMO

from barrowful.answers.options import options
from barrowful.ground.sizes import Size
from barrowful.planning.proof import proved
from barrowful.site.load import load
from barrowful.site.records import PlanLine

YARD = DEMO / "odd-bucket-yard.yaml"


@pytest.fixture
def little_to_collect() -> Iterator[None]:
    """Let the collector look only at what comes from now on, not at all that other tests have left."""
    gc.freeze()
    yield
    gc.unfreeze()


@pytest.mark.usefixtures("little_to_collect")
def test_a_plan_costs_the_same_whatever_was_carried_out_before() -> None:
    """Doses of plans that are gone leave their place in memory to others, and nothing of what they cost."""
    answer = options(load(YARD.read_bytes(), YARD.name).site)
    [place] = answer.site.places_with("cover")

    def cash(loose: float) -> object:
        line = PlanLine(
            place=place.name,
            need="cover",
            way="depot compost",
            amount=Size(loose, None),
            day=answer.site.end,
        )
        bill = proved(answer, [line]).whole.bill
        return bill.cash, bill.hours.likely, bill.orders[0].order.quantity

    once = {size: cash(size / 10) for size in range(1, 16)}
    for size in range(15, 0, -1):
        gc.collect()
        assert cash(size / 10) == once[size]
    assert len({told for told, *_ in once.values()}) > 5  # type: ignore[misc]
