"""What goes on in each draw: doses sized anew, on the same days, within the same ceilings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from barrowful.catalogue.figures import computed
from barrowful.measures.elementwise import at_least, at_most, likely, round_up, where
from barrowful.needs.anew import Anew
from barrowful.needs.ceilings import room
from barrowful.needs.decision import Decision, Serving
from barrowful.needs.registry import NEEDS
from barrowful.needs.settled import all_lots, sort_with
from barrowful.planning.ranges.figures import Draws
from barrowful.planning.ranges.limits import at_once, of_ceilings, of_stocks
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.supplies.joint import Source
from barrowful.supplies.stock import Stock
from barrowful.supplies.supply import Supply

#: So much is no amount [m3]: rounding.
DUST = 1e-12
#: What rounding may leave between a share and what it likely is.
NEAR = 1e-6
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
                new = self._of_serving(ready, own, stocks)
                drawn |= {id(dose): each for dose, each in zip(own, new, strict=True)}
                there += own
        return drawn

    def of_need(self, kind: str, doses: Sequence[Application]) -> Any:
        """Return what meets a need of a place [m3], by the doses that tell it, as if there were no end."""
        ask = self._ask(doses[0].place, [self.draws.dose(dose) for dose in doses], ())
        amounts = NEEDS[kind].anew(ask._replace(ready_on=self.site.start)).amounts
        return sum(_about(dose.loose, loose) for dose, loose in zip(doses, amounts, strict=True))

    def _of_serving(
        self, ready: _Ready, doses: Sequence[Application], stocks: Mapping[str, Stock]
    ) -> list[Application]:
        """Return the doses of a serving, in the order of their days; on equal ground in proportion."""
        place, drawn = ready.serving.place, [self.draws.dose(dose) for dose in doses]
        if not doses or not place.total_area or any(dose.typed for dose in doses):
            return drawn
        sorts = sort_with(self.site.sorts, place, doses), sort_with(self.site.sorts, place, ready.there)
        key = ready.kind, ready.source.key, ready.serving.met, *sorts
        if ready.source.limited or key not in self._alike:
            self._alike[key] = self._sized(ready, doses, drawn, stocks)
        depths, self.met[id(ready.serving)] = self._alike[key]
        sized = zip(drawn, depths, strict=True)
        return self._on_their_ground(
            ready, doses, [replace(dose, loose=depth * place.total_area) for dose, depth in sized]
        )

    def _sized(
        self,
        ready: _Ready,
        doses: Sequence[Application],
        drawn: Sequence[Application],
        stocks: Mapping[str, Stock],
    ) -> tuple[list[Any], Any]:
        """Return how deep each dose goes [loose m], and the share of its need that they meet."""
        place, kind, serving = ready.serving.place, NEEDS[ready.kind], ready.serving
        there = [*done(self.site, place), *ready.there]
        limits = [
            *of_ceilings(self.draws, place, doses, there, serving.ceiling),
            *of_stocks(doses, self.supplies, stocks, self.share_of),
            *at_once(doses, kind.at_once(place)),
        ]
        ask = self._ask(place, drawn, ready.beside)._replace(limits=limits, ready_on=serving.ready_on)
        amounts, met = kind.anew(ask)
        depths = [_about(dose.loose, of) / place.total_area for dose, of in zip(doses, amounts, strict=True)]
        return depths, met

    def _on_their_ground(
        self, ready: _Ready, doses: Sequence[Application], sized: Sequence[Application]
    ) -> list[Application]:
        """Return doses with the share of the ground that each is dug into, each as deep as one may be."""
        if len(doses) == 1 or not doses[0].dug:
            return [*sized]
        place, given = ready.serving.place, sum(dose.loose for dose in sized)
        there = [*done(self.site, place), *ready.there]
        rooms = [room(place, dose.need, dose.material, there).most * place.total_area for dose in doses]
        deepest = min(NEEDS[ready.kind].at_once(place), *rooms)
        one = at_least(at_most(given, deepest), DUST)
        whole = round_up(given / one) >= len(doses)
        shares = [where(whole, 1.0, at_most(dose.loose / one, 1.0)) for dose in sized]
        return [
            replace(dose, share=share) if abs(likely(share) - dose.share) < NEAR else dose
            for dose, share in zip(sized, shares, strict=True)
        ]

    def _ask(self, place: Place, doses: Sequence[Application], beside: Sequence[Application]) -> Anew:
        if place.name not in self._past:
            self._past[place.name] = [self.draws.dose(dose) for dose in done(self.site, place)]
        past = self._past[place.name]
        return Anew(site=self.site, place=place, doses=doses, beside=beside, past=past)

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
