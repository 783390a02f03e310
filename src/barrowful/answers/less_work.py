"""What less work would cost: the need for which another way takes fewer hours, and more cash."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from barrowful.answers.carrying_out import carried_out
from barrowful.answers.choices import CHEAPEST, WholeSite, covers_all
from barrowful.answers.search import best_of, rows_of
from barrowful.answers.together import Together
from barrowful.catalogue.judgements import judgement
from barrowful.measures.fixed import fixed
from barrowful.measures.money import rounded


@fixed(eq=True)
class LessWork:
    """One way for a need in place of what is picked: the cash it costs more, and the hours it saves."""

    need: str
    way: str
    cash: Decimal
    hours: float
    ready: date | None  #: day the need is ready on so
    sooner: date | None  #: day it is ready on as picked, where that is sooner

    @property
    def price(self) -> float:
        """Return the money for each hour saved."""
        return float(self.cash) / self.hours


def less_work(whole: WholeSite) -> LessWork | None:
    """Return where an hour is saved for least, all else as it is; None where none of note can be.

    Nothing is told where the grower has said what an hour is worth: then hours are weighed already.
    """
    if whole.title != CHEAPEST or whole.together.answer.site.labour.hourly_value:
        return None
    least = max(judgement("less_work_told") * whole.bill.hours.likely, judgement("hours_worth_telling"))
    return min(_instead(whole, least), key=lambda of: (of.price, of.need, of.way), default=None)


def _instead(whole: WholeSite, least: float) -> Iterator[LessWork]:
    """Yield each way that would meet one need alone, with the rest as it is, for more cash and less work."""
    answer, picks = whole.together.answer, best_of(whole.together.answer).picks
    for kind, picked in picks.items():
        for row in rows_of(answer, kind):
            if (row.key,) == picked or not row.feasible or not covers_all(answer.site, row):
                continue
            together = carried_out(answer, {**picks, kind: (row.key,)})
            bill = together.bill()
            cash = bill.cash - whole.bill.cash
            hours = whole.bill.hours.likely - bill.hours.likely
            meets = together.met == whole.together.met and not together.over_limits(bill)
            if meets and cash > 0 and hours >= least:
                ready, before = _ready(together, kind), _ready(whole.together, kind)
                yield LessWork(
                    need=kind,
                    way=row.name,
                    cash=cash,
                    hours=hours,
                    ready=ready,
                    sooner=before if ready and before and before < ready else None,
                )


def _ready(together: Together, kind: str) -> date | None:
    """Return the day a kind of need is ready on in all places."""
    days = [row.ready_on for row in together.options() if row.need == kind]
    return max((day for day in days if day is not None), default=None)


def less_work_told(whole: WholeSite) -> list[str]:
    """Return where an hour is saved for least, in a sentence."""
    found, currency = less_work(whole), whole.together.answer.site.currency
    if found is None:
        return []
    later = f", but ready {found.ready} and not {found.sooner}" if found.sooner else ""
    return [
        f"Less work: {found.need} by {found.way}, {found.hours:,.0f} h less for"
        f" {rounded(found.cash, currency):,} {currency} more{later}; labour.hourly_value weighs hours."
    ]
