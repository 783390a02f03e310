"""A branch of the search for the cheapest ways: those for the first kinds of need, and how far they reach."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple

from barrowful.answers.bills import bill_of
from barrowful.answers.costs import Bill
from barrowful.answers.known import Assigned, Reach
from barrowful.answers.option import total_cost
from barrowful.answers.options import Answer
from barrowful.answers.together import Together, over_together
from barrowful.needs.registry import NEEDS


class Rank(NamedTuple):
    """What assignments are compared on: needs not met, cost with hours at their value, hours, day, order."""

    unmet: int
    cost: Decimal
    hours: float
    ready: date
    order: tuple[int, ...]


class Branch:
    """Ways for the first kinds of need; what they put on is worked out once it is asked for."""

    def __init__(self, answer: Answer, assigned: Assigned = (), before: Branch | None = None) -> None:
        self.answer, self.assigned, self.before = answer, assigned, before
        self.worked_out = 0  #: servings that had to be worked out for its last kind of need

    @cached_property
    def together(self) -> Together:
        """Return what it puts on."""
        if self.before is None:
            return Together(self.answer)
        together = self.before.together.copy()
        self.worked_out = together.serve(*self.assigned[-1])
        return together

    def further(self, kind: str, ways: tuple[str, ...]) -> Branch:
        """Return it with ways for one more kind of need."""
        return Branch(self.answer, (*self.assigned, (kind, ways)), self)

    @cached_property
    def reach(self) -> Reach:
        """Return how far it reaches; what the answer knows of that is not worked out."""
        known = self.answer.reached
        if self.assigned not in known:
            together = self.together
            known[self.assigned] = Reach(
                met=together.met,
                ready=together.ready_on,
                late=together.late,
                uses=together.uses(),
                unmet=self._may_be_met_yet(together),
            )
        return known[self.assigned]

    def _may_be_met_yet(self, together: Together) -> frozenset[tuple[str, str]]:
        """Return its needs that are not met and that what goes on for later ones may meet."""
        kinds = [kind for kind, _ in self.assigned if NEEDS[kind].counts_later]
        met = {
            (part.need, of.place.name) for part in together.parts for of in part.decision.servings if of.met
        }
        places = self.answer.site.places_with
        return frozenset((kind, place.name) for kind in kinds for place in places(kind)) - met

    @cached_property
    def bill(self) -> Bill:
        """Return what it costs."""
        return bill_of(self.answer, self.reach.uses)

    @property
    def over(self) -> bool:
        """Say whether it is over a limit of the grower's."""
        return over_together(self.answer.site, self.reach.late, self.reach.ready, self.bill) != ""

    @cached_property
    def cost(self) -> Decimal:
        """Return cash, with hours at their value."""
        return total_cost(self.bill.cash, self.bill.hours, self.answer.site.labour.hourly_value)

    def rank(self, needs: int, order: tuple[int, ...]) -> Rank:
        """Return what it is compared on, where there are so many needs of places."""
        return Rank(
            unmet=needs - self.reach.met,
            cost=self.cost,
            hours=self.bill.hours.compared,
            ready=self.reach.ready or date.max,
            order=order,
        )
