"""Batches of a heap over the seasons: what arrives, when a bay is full, when it is compost."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.measures.problems import CannotMeet
from barrowful.site.records import Site
from barrowful.site.ways import Ingredient, Make
from barrowful.supplies.heap.batch import Batch, make_batch
from barrowful.supplies.heap.recipe import Aim, Offer, Recipe, best_recipe, near, workable
from barrowful.supplies.lot import Lot
from barrowful.supplies.supply import Supply, density_of, wet_of

WEEK = timedelta(weeks=1)
WEEKS_PER_YEAR = DAYS_PER_YEAR / 7
#: More batches of one heap than this are not reckoned through: a limit of the machine, not of the trade.
MOST_BATCHES = 10_000


class Yard:
    """The weekly run of one heap's bays: stock grows, full bays are built, finished ones emptied."""

    def __init__(
        self, way: Make, site: Site, drawn: Mapping[str, Supply[Any]], figures: Mapping[str, Figure]
    ) -> None:
        self.way, self.site, self.drawn, self.figures = way, site, drawn, figures
        self.stock = [0.0] * len(way.ingredients)
        self.overs = [0.0] * len(way.ingredients)
        self.arrived: set[int] = set()  #: what comes once, and is there
        self.since = [0] * len(way.ingredients)  #: weeks since anything of it came
        self.lots = [self._lots(part) for part in way.ingredients]
        self.busy: list[Batch] = []
        self.recorded = self._recorded()
        self.waited = 0
        #: Is the recipe found last of the C:N aimed for?
        self.is_exact = False

    def _lots(self, part: Ingredient) -> list[Lot]:
        """Return the lots [kg] of an ingredient drawn from stock or growth."""
        supply = self.drawn.get(part.way)
        if supply is None or not supply.limited or part.weekly or part.once:
            return []
        return [Lot(lot.day, wet_of(part.material, lot.loose)) for lot in supply.lots(self.site.end)]

    def run(self) -> list[Batch]:
        """Return the batches built from the start to the end of the horizon.

        Raises :class:`CannotMeet` where there are more of them than anybody could look after.
        """
        found: list[Batch] = []
        day, waiting = self.site.start, list(self.recorded)
        while day <= self.site.end:
            self._empty(day)
            self._arrive(day)
            while waiting and waiting[0].built <= day:
                self._stand(waiting.pop(0), day)
            batch: Batch | None = None
            room = 0 if waiting else self.way.bays
            while len(self.busy) < room and (batch := self._next(batch, day)) is not None:
                found.append(batch)
                self.busy.append(batch)
                self.waited = 0
            if len(found) > MOST_BATCHES:
                raise CannotMeet(_too_many(self.way, self.site))
            self.waited += 1
            day += WEEK
        return found

    def _recorded(self) -> list[Batch]:
        """Return the batches that the history says were built, in the order they were."""
        entries = [entry for entry in self.site.done_by(self.way.name) if entry.built]
        return [self.built(entry.day, entry.loose or self.way.bay) for entry in entries]

    def built(self, day: date, volume: float) -> Batch:
        """Return the batch that was built on a day to a volume [m3].

        What went in is not known: it is taken to be as near to the C:N aimed for as the ingredients allow.
        """
        offers = self.endless_offers
        target = self.way.target_cn
        works = workable(target, offers)
        aims = (self.aim(bounds)._replace(room=volume) for bounds in ((target, target), near(target), works))
        recipes = (best_recipe(offers, aim) for aim in aims)
        recipe = next((recipe for recipe in recipes if recipe is not None), None)
        recipe = recipe or equal_parts(offers, volume)
        return make_batch(recipe, day, self.way, self.site.hemisphere, self.figures)

    @property
    def endless_offers(self) -> list[Offer]:
        """Return an offer without end of each ingredient."""
        return [Offer(part.material, math.inf, 0.0, index) for index, part in enumerate(self.way.ingredients)]

    def _stand(self, batch: Batch, day: date) -> None:
        """Let a batch that was built stand in a bay until it is compost, and take what went in.

        What it was built of before the start is not among what came since.
        """
        if batch.ready[1] > day:
            self.busy.append(batch)
        if batch.built >= self.site.start:
            self._take(batch.recipe)

    def _next(self, before: Batch | None, day: date) -> Batch | None:
        """Return the next batch built on a day: one like that before it while there is enough, or None.

        What was best with more to choose from is best with less, as long as it can still be had.
        """
        again = before is not None and self.is_exact and self._can_take(before.recipe)
        recipe = before.recipe if before is not None and again else self._recipe(day)
        if recipe is None:
            return None
        put_back = self._take(recipe)
        if before is not None and before.recipe is recipe and before.put_back == put_back:
            return before
        return make_batch(recipe, day, self.way, self.site.hemisphere, self.figures, put_back)

    def _empty(self, day: date) -> None:
        """Empty the bays of what is compost by a day; what is screened out waits for the next batch."""
        for batch in self.busy:
            if batch.ready[1] <= day:
                self.overs = [held + more for held, more in zip(self.overs, batch.overs, strict=True)]
        self.busy = [batch for batch in self.busy if batch.ready[1] > day]

    def _can_take(self, recipe: Recipe) -> bool:
        """Say whether there is enough of everything for a recipe once more; what is bought never runs out."""
        needed = ((offer, recipe.mass_of(offer.number)) for offer in recipe.offers)
        return all(offer.most == math.inf or mass <= self._held(offer.number) for offer, mass in needed)

    def _held(self, number: int) -> float:
        """Return what there is of an ingredient [kg], with what was screened out."""
        return self.stock[number] + self.overs[number]

    def _arrive(self, day: date) -> None:
        for index, part in enumerate(self.way.ingredients):
            density, came = density_of(part.material), 0.0
            if part.once is not None and day.month in part.months and index not in self.arrived:
                self.arrived.add(index)
                came += part.once.wet(density)
            if part.weekly is not None and day.month in part.months:
                came += part.weekly.wet(density)
            came += sum(lot.loose for lot in self.lots[index] if day - WEEK < lot.day <= day)
            self.stock[index] += came
            self.since[index] = 0 if came else self.since[index] + 1
            if part.material.sort.spoils and len(self.busy) >= self.way.bays:
                self.stock[index] = min(self.stock[index], self._keeps(index, part, density))

    def _keeps(self, index: int, part: Ingredient, density: float) -> float:
        """Return how much of what spoils [kg] is still good while it waits: what came within some weeks."""
        weeks = self.figures["greens_keep"].likely * WEEKS_PER_YEAR - self.since[index]
        if part.weekly is not None:
            return part.weekly.wet(density) * max(weeks, 0.0 if self.since[index] else 1.0)
        return math.inf if weeks > 0 else 0.0

    def offers(self, day: date) -> list[Offer]:
        """Return what there is for a batch on a day, an offer for each ingredient."""
        offers = []
        for index, part in enumerate(self.way.ingredients):
            supply, held = self.drawn.get(part.way), self._held(index)
            bought = supply is not None and not supply.limited and not part.weekly and not part.once
            if bought and supply is not None:
                ready = supply.lots(day)
                held = float("inf") if ready else held
            offers.append(Offer(part.material, held, _price(part, supply), index))
        return offers

    def _recipe(self, day: date) -> Recipe | None:
        """Return a recipe to build with this week, or None to wait."""
        offers = tuple(self.offers(day))
        target, way = self.way.target_cn, self.way
        full, patience, season = judgement("full_bay"), _weeks("waits_for_target"), _weeks("waits_for_full")
        room = sum(offer.loose_of(offer.most) for offer in offers)
        if room < full * way.bay and self.waited < season:
            return None
        exact = _fills_most(offers, self.aim((target, target)))
        self.is_exact = exact is not None and exact.volume >= full * way.bay
        if self.is_exact:
            return exact
        if self.waited < patience:
            return None
        close = _fills_most(offers, self.aim(near(target)))
        if close is None:
            close = _fills_most(offers, self.aim(workable(target, offers)))
        if close is None:
            # a heap cannot be built at all yet, so the wait for a full bay has not begun
            self.waited = min(self.waited, patience) if room >= full * way.bay else self.waited
            return None
        enough = full if self.waited < season else judgement("least_fill")
        return close if close.volume >= enough * way.bay else None

    def aim(self, cn: tuple[float, float]) -> Aim:
        """Return what a recipe of this heap keeps to, within bounds of its C:N."""
        way, lifted = self.way, self.site.limits.lift
        return Aim(room=way.bay, cn=cn, moisture=way.target_moisture, lifted=lifted)

    def _take(self, recipe: Recipe) -> tuple[float, ...]:
        """Take the stuff of a recipe, first what was screened out before; return how much was that [kg]."""
        wanted = [recipe.mass_of(index) for index in range(len(self.stock))]
        back = tuple(min(mass, held) for mass, held in zip(wanted, self.overs, strict=True))
        self.overs = [held - mass for held, mass in zip(self.overs, back, strict=True)]
        self.stock = [
            max(0.0, held - mass + again) for held, mass, again in zip(self.stock, wanted, back, strict=True)
        ]
        return back


def equal_parts(offers: Sequence[Offer], volume: float) -> Recipe:
    """Return a mix of offers, of each as much by volume, of a volume [m3] in all."""
    return Recipe(tuple(offers), tuple(offer.wet_mass(volume / len(offers)) for offer in offers), 0.0)


@lru_cache(maxsize=256)
def _fills_most(offers: tuple[Offer, ...], aim: Aim) -> Recipe | None:
    """Return the cheapest recipe that fills most; a heap that waits has the same to offer for weeks."""
    return best_recipe(offers, aim, cheapest=True)


def _too_many(way: Make, site: Site) -> str:
    bays = f"{way.bays} bays" if way.bays > 1 else "a bay"
    return (
        f"{way.name}: {bays} of {1000 * way.bay:,.3g} L make more than {MOST_BATCHES:,} batches by {site.end}"
        "; give fewer or larger bays, or a shorter horizon"
    )


def _weeks(name: str) -> int:
    weeks: int = judged_time(name) // WEEK
    return weeks


def _price(part: Ingredient, supply: Supply[Any] | None) -> float:
    """Return the price of each kg, for choosing between recipes."""
    if supply is not None and not supply.limited:
        return supply.price_by_mass
    if part.selling is not None:
        volume = part.selling.volume or 1.0
        return float(part.price) / (part.selling.mass or wet_of(part.material, volume))
    return 0.0
