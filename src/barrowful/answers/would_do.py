"""What would meet a need that is left out, but for a limit of the grower's or for what else goes on."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from barrowful.answers.costs import Bill
from barrowful.answers.further import MOST_SETTLED, with_further
from barrowful.answers.option import Option, total_cost
from barrowful.answers.together import Together
from barrowful.catalogue.judgements import judged_time
from barrowful.needs.lime_and_manure import too_near


class Beyond(NamedTuple):
    """A row beside all that is carried out, in so many places left out: the limits it is over, its cost."""

    row: Option
    places: int
    over: str
    cost: Decimal


def would_do(together: Together, bill: Bill, rows: Iterable[Option]) -> str:
    """Return which of rows that would meet a need of places left out would do, and what keeps it from it.

    Of those over a limit it is what meets most of them, beside all that is carried out, at least cost.
    """
    ranked = sorted(rows, key=lambda row: (row.over != "", row.cash))
    few = ranked[: max(1, MOST_SETTLED // len(together.answer.site.places))]
    rest = bill.cash > 0 or bill.hours.compared > 0
    beyond = [of for row in few if (of := _beyond(together, row)) is not None]
    if beyond:
        least = min(beyond, key=lambda of: (-of.places, of.cost))
        every = f" for all {least.places} places" if least.places > 1 else ""
        beside = " beside the rest" if rest else ""
        return f"{least.row.name} would do, but {least.over}{every}{beside}{_kept_apart(together, least.row)}"
    return _by_itself(together, ranked[0], rest)


def _beyond(together: Together, row: Option) -> Beyond | None:
    """Return a row in all places left out that it would do for; None where it does not, or within limits."""
    parts = [part for part in together.parts if part.need == row.need]
    met = {of.place.name for part in parts for of in part.decision.servings if of.met}
    names = {of.place.name for of in row.decision.servings if of.met} - met
    reached = with_further(together, row, names)
    over = reached.together.over_limits(reached.bill) if reached is not None else ""
    if reached is None or not over:
        return None
    hourly = together.answer.site.labour.hourly_value
    return Beyond(row, len(names), over, total_cost(reached.bill.cash, reached.bill.hours, hourly))


def _by_itself(together: Together, row: Option, rest: bool) -> str:
    """Return that a row would do, and what keeps it from it: a limit by itself already, or the rest."""
    over = row.over
    if over and len(row.places) > 1:
        over = f"{over} for all {len(row.places)} places"
    if over and rest:
        over = f"{over} by itself"
    return f"{row.name} would do, but {over or _beside_the_rest(together, row)}"


def _beside_the_rest(together: Together, row: Option) -> str:
    """Return why what would do alone is not there with the rest: others may have what has an end."""
    limits = together.answer.site.limits
    limited = limits.cash is not None or limits.hours is not None or limits.by is not None
    limited = limited and not row.supply.limited
    why = "not beside the rest within your limits" if limited else "not beside the rest"
    return f"{why}{_kept_apart(together, row)}"


def _kept_apart(together: Together, row: Option) -> str:
    """Return that lime and fresh manure are kept apart, where a row has one and the rest the other."""
    for serving in row.decision.servings:
        if too_near(together.doses_on(serving.place.name), serving.every_dose):
            days = judged_time("lime_and_manure").days
            return f": {days} days are kept between lime and fresh manure"
    return ""
