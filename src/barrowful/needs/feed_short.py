"""Who is fed of what where several ways together run short: those that can be met come first."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from barrowful.needs.decision import Decision, Serving, in_turn, of_servings
from barrowful.needs.doses import SLACK_SHARE
from barrowful.needs.kind import NeedKind
from barrowful.needs.settled import Settled, Sort
from barrowful.needs.turns import served_in_turn
from barrowful.site.records import Place, Site
from barrowful.supplies.joint import Source

#: Kinds of ground up to which it is looked for who is to get what, and times a stock that are enough for all:
#: settings of the search.
MOST_KINDS, PLENTY = 100, 1e6


class Short:
    """Places that ways feed together, beside what is settled, where there is not enough for all in turn."""

    def __init__(
        self, kind: NeedKind[Any], site: Site, places: Sequence[Place], source: Source, settled: Settled
    ) -> None:
        self.kind, self.site, self.places, self.source = kind, site, places, source
        self.settled = settled
        self.sorts = {place.name: settled.sort(place, kind.bears) for place in places}

    def best(self, as_they_come: Decision) -> Decision:
        """Return the best of three: each in turn what costs it least, a share, or little of what is short.

        The first in turn leave the next without what these cannot do without. Of very many kinds of ground it
        is what they get in turn.
        """
        if len(set(self.sorts.values())) > MOST_KINDS:
            return as_they_come
        plenty = self.settled.sharing(self.source, PLENTY).sparing()
        enough = self._each_square_metre(lambda _: plenty.branch())
        if not any(enough[of.place.name].met for of in as_they_come.short_of):
            return as_they_come
        whole = sum(place.total_area for place in self.places)
        shares = self._each_square_metre(
            lambda place: self.settled.sharing(self.source, place.total_area / whole)
        )
        shared = self._decision(shares)
        if shared.feasible:
            return shared
        return max((as_they_come, shared, self._spared(enough)), key=_how_far_met)

    def _each_square_metre(self, beside: Callable[[Place], Settled]) -> dict[str, Serving]:
        """Return what each place gets by itself beside what is settled for it: equal ground the same."""
        known, by_name = dict[Sort, Serving](), dict[str, Serving]()
        for place in in_turn(self.places):
            sort = self.sorts[place.name]
            if sort not in known:
                known[sort] = self.kind.suited(self.site, place, self.source, beside(place))
            by_name[place.name] = self.kind.of_size(self.site, known[sort], place, self.source)
        return by_name

    def _spared(self, enough: Mapping[str, Serving]) -> Decision:
        """Return what each gets in its turn of what is spared; those that not even enough meets come last."""
        beside = self.settled.sparing()

        def serve(place: Place) -> Serving:
            if enough[place.name].met and self._is_there(enough[place.name], beside):
                return enough[place.name]
            return self.kind.suited(self.site, place, self.source, beside)

        by_name: dict[str, Serving] = {}
        for can_be_met in (True, False):
            those = [place for place in self.places if enough[place.name].met == can_be_met]
            by_name |= served_in_turn(those, self.source, beside, serve)
        return self._decision(by_name)

    def _is_there(self, serving: Serving, beside: Settled) -> bool:
        """Take what a serving wants of what has an end, and say whether it is all there."""
        stocks = {part.name: beside.stock(part) for part in self.source.parts if part.limited}
        before = {name: stock.state for name, stock in stocks.items()}
        for dose in serving.every_dose:
            stock = stocks.get(dose.way)
            if stock and stock.take(dose.number, dose.loose) < dose.loose * (1 - SLACK_SHARE):
                for name, state in before.items():
                    stocks[name].put_back(state)
                return False
        return True

    def _decision(self, by_name: Mapping[str, Serving]) -> Decision:
        return of_servings([by_name[place.name] for place in self.places], self.site.start)


def _how_far_met(decision: Decision) -> tuple[list[int], float]:
    """Return in how many places it is met, those of the first priority first, then the share that is met."""
    priorities = sorted({of.place.priority for of in decision.servings})
    met = [sum(of.met for of in decision.servings if of.place.priority == each) for each in priorities]
    return met, round(decision.met_share, 9)
