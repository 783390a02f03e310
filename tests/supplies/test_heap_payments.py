"""What goes into a heap at a price is paid when its batch is built."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from barrowful.answers.options import options
from barrowful.measures.dates import Step
from barrowful.site.records import Site
from barrowful.soil.application import draws_of
from barrowful.supplies.heap.heap import Heap

SiteOf = Callable[..., Site]


def test_each_batch_is_paid_when_it_is_built(site_of: SiteOf, bed: Callable[..., dict[str, Any]]) -> None:
    """Straw at half a coin a kilogram for batches a year apart is not all due at first; the sum is the same."""
    parts = [
        {"material": "grass clippings", "weekly": "60 kg"},
        {"material": "straw", "weekly": "20 kg", "price": "0.5 EUR/kg"},
    ]
    site = site_of(
        [bed({"cover": {"depth": "2 cm"}}, shape={"area": "20 m2"})],
        [{"name": "heap", "make": {"bay": "1 m3", "from": parts}}],
        horizon="5 years",
    )
    answer = options(site)
    [row], heap = answer.options, answer.supplies["heap"]
    assert isinstance(heap, Heap)
    draws = draws_of(row.decision.every_dose)
    batches, paid = heap.used(draws), heap.cost(draws).paid
    assert len(batches) > 1
    assert [payment.day for payment in paid] == [batch.built for batch, _ in batches]
    straw = sum(count * batch.fresh_of(1) for batch, count in batches)
    assert sum(payment.cash for payment in paid) == (Decimal(str(straw)) / 2).quantize(Decimal("0.01"))
    later = Step(months=12).after(site.start)
    assert row.cash_first_year == sum(payment.cash for payment in paid if payment.day < later) < row.cash
