"""What goes on in each draw: doses sized anew, on the same days, within the same ceilings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from math import inf
from typing import Any, NamedTuple

from barrowful.catalogue.figures import computed
from barrowful.measures.elementwise import at_least, at_most, likely
from barrowful.needs.anew import Anew
from barrowful.needs.ceilings import Room, bounds_of, room
from barrowful.needs.decision import Decision, Serving
from barrowful.needs.registry import NEEDS
from barrowful.needs.settled import all_lots, sort_with
from barrowful.planning.ranges.figures import Draws
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.supplies.joint import Source
from barrowful.supplies.stock import Stock
from barrowful.supplies.supply import Supply

#: So much is no amount [m3]: rounding.
DUST = 1e-12
#: Ceilings that are a part of what a need wants, whatever else goes on.
OF_THE_NEED = ("cover_depth", "fill_share")
#: Doses with the amounts of all draws, by the doses that they are of.
Drawn = dict[int, Application]


class _Ready(NamedTuple):
    """A serving to be sized anew: what is there beside it, as it likely is and draw by draw."""

    kind: str
    source: Source
    serving: Serving
    there: tuple[Application, ...]
    beside: tuple[Application, ...]


class Amounts:
    """The doses of what is decided for a site, each with the amounts of all draws.

    Kinds of need are sized in their order, each beside those before it. A dose that stopped at a ceiling, or
    at what there was, is no larger in any draw; others may grow as far as ceilings and stocks have room.
    """

    def __init__(self, site: Site, draws: Draws, supplies: Mapping[str, Supply[Any]]) -> None:
        self.site, self.draws, self.supplies = site, draws, supplies
        self._past: dict[str, list[Application]] = {}
        self._alike: dict[tuple[object, ...], tuple[list[Any], Any]] = {}
        self.met: dict[int, Any] = {}  #: share of its need that a serving which likely meets it meets
        self._shares: dict[str, Any] = {}

    def of(self, parts: Iterable[tuple[str, Source, Decision]]) -> Drawn:
        """Return the doses of some decisions carried out together, by those that they are of."""
        every = sorted(parts, key=lambda part: [*NEEDS].index(part[0]))
        stocks = self._stocks_after(dose for _, _, decision in every for dose in decision.every_dose)
        drawn: Drawn = {}
        beside: dict[str, list[Application]] = {}
        for kind, source, decision in every:
            for serving in decision.servings:
                there = beside.setdefault(serving.place.name, [])
                ready = _Ready(kind, source, serving, tuple(there), tuple(drawn[id(dose)] for dose in there))
                own = sorted(serving.every_dose, key=lambda dose: dose.number)
                new = self._of_serving(ready, own, decision.as_written, stocks)
                drawn |= {id(dose): each for dose, each in zip(own, new, strict=True)}
                there += own
        return drawn

    def of_need(self, kind: str, doses: Sequence[Application]) -> Any:
        """Return what meets a need of a place [m3], by the doses that tell it, as if there were no end."""
        ask = self._ask(doses[0].place, [self._drawn(dose) for dose in doses], [], [inf] * len(doses))
        amounts = NEEDS[kind].anew(ask._replace(ready_on=self.site.start))
        return sum(_about(dose.loose, loose) for dose, loose in zip(doses, amounts, strict=True))

    def _of_serving(
        self, ready: _Ready, doses: Sequence[Application], as_written: bool, stocks: Mapping[str, Stock]
    ) -> list[Application]:
        """Return the doses of a serving, in the order of their days; on equal ground in proportion."""
        place, drawn = ready.serving.place, [self._drawn(dose) for dose in doses]
        if not doses or as_written or not place.total_area:
            return drawn
        sorts = sort_with(self.site, place, doses), sort_with(self.site, place, ready.there)
        key = ready.kind, ready.source.name, ready.serving.met, *sorts
        if ready.source.limited or key not in self._alike:
            most = [self._most(ready, dose, stocks) for dose in doses]
            ask = self._ask(place, drawn, ready.beside, most)._replace(ready_on=ready.serving.ready_on)
            self._alike[key] = self._sized(ready, ask, doses)
        depths, self.met[id(ready.serving)] = self._alike[key]
        return [
            replace(dose, loose=depth * place.total_area) for dose, depth in zip(drawn, depths, strict=True)
        ]

    def _sized(self, ready: _Ready, ask: Anew, doses: Sequence[Application]) -> tuple[list[Any], Any]:
        """Return how deep each dose goes [loose m], and the share of a need that is met which they meet."""
        kind, area = NEEDS[ready.kind], ask.place.total_area
        amounts = kind.anew(ask)
        depths = [_about(dose.loose, loose) / area for dose, loose in zip(doses, amounts, strict=True)]
        if not ready.serving.met or all(limit is inf for limit in ask.most):
            return depths, 1.0
        free = sum(kind.anew(ask._replace(most=[inf] * len(doses))))
        share = sum(amounts) / at_least(free, DUST)
        return depths, at_most(share / likely(share), 1.0)  # likely in parts, and met all the same

    def _ask(
        self, place: Place, doses: Sequence[Application], beside: Sequence[Application], most: Sequence[Any]
    ) -> Anew:
        if place.name not in self._past:
            self._past[place.name] = [self._drawn(dose) for dose in done(self.site, place)]
        past = self._past[place.name]
        return Anew(site=self.site, place=place, doses=doses, beside=beside, past=past, most=most)

    def _drawn(self, dose: Application) -> Application:
        """Return a dose as it is, of stuff whose figures are drawn."""
        return replace(dose, material=self.draws.material(dose.material))

    def _most(self, ready: _Ready, dose: Application, stocks: Mapping[str, Stock]) -> Any:
        """Return what may go on of a dose [m3], by the ceilings and by what there is of it."""
        most, supply, stock = self._let_on(ready, dose), self.supplies.get(dose.way), stocks.get(dose.way)
        if supply is None or stock is None:
            return most
        left = stock.left_by(dose.number) if supply.keeps else stock.left_on(dose.number)
        return at_most(most, (dose.loose + left) * self.share_of(supply))

    def _let_on(self, ready: _Ready, dose: Application) -> Any:
        """Return what the ceilings let on of a dose [m3], by how much its stuff uses of each."""
        place, need, serving = ready.serving.place, dose.need, ready.serving
        assert need is not None, f"{place.name} is put on for no need"
        beside = [of for of in serving.every_dose if of.way != dose.way]
        own = [
            (of.number, of.loose / place.total_area)
            for of in serving.every_dose
            if of.way == dose.way and of is not dose
        ]
        bounds = room(place, need, dose.material, [*done(self.site, place), *ready.there, *beside]).bounds
        drawn = bounds_of(place, need.kind, need.dug, self.draws.material(dose.material))
        if serving.ceiling and serving.ceiling not in {*OF_THE_NEED, *(bound.name for bound in bounds)}:
            return dose.loose
        most: Any = inf
        for bound, other in zip(bounds, drawn, strict=True):
            left = Room((bound,)).left(dose.number, own) * place.total_area
            most = at_most(left * (bound.each / other.each), most)
        return most

    def share_of(self, supply: Supply[Any]) -> Any:
        """Return what a supply brings in each draw, as a share of what it likely brings."""
        if supply.name not in self._shares:
            known, share = supply.lots_range, self._loose_of_each(supply)
            if known is not None:
                figure = computed(known.name, "share", 1.0)._replace(low=known.low, high=known.high)
                share = share * self.draws.figure(known.of, known.name, figure).likely
            self._shares[supply.name] = share
        return self._shares[supply.name]

    def _loose_of_each(self, supply: Supply[Any]) -> Any:
        """Return the volume of what the lots of a supply are told by, as a share of what it likely is."""
        if supply.lots_by == "volume":
            return 1.0
        stuff = self.draws.material(supply.material)
        loose = stuff.loose_of(stuff.wet_of(1.0) if supply.lots_by == "dry mass" else 1.0)
        return loose / likely(loose)

    def _stocks_after(self, doses: Iterable[Application]) -> dict[str, Stock]:
        """Return what is left of every stock that has an end once some doses are taken of it."""
        stocks: dict[str, Stock] = {}
        for dose in sorted(doses, key=lambda dose: dose.number):
            supply = self.supplies.get(dose.way)
            if supply is None or not supply.limited:
                continue
            if dose.way not in stocks:
                stocks[dose.way] = Stock(all_lots(supply))
            stocks[dose.way].take(dose.number, dose.loose)
        return stocks


def _about(loose: float, drawn: Any) -> Any:
    """Return draws in proportion about a volume [m3]; where they likely come to nothing, the volume."""
    middle = likely(drawn)
    return drawn * (loose / middle) if middle > 0 else loose
