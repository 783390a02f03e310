"""Batches of a heap over the seasons: what arrives, when a bay is full, when it is compost."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.catalogue.rates import rates
from barrowful.ground.heap import nitrogen_lost
from barrowful.measures.dates import DAYS_PER_YEAR, date_after
from barrowful.measures.problems import CannotMeet
from barrowful.site.records import Site
from barrowful.site.ways import Ingredient, Make
from barrowful.supplies.heap.recipe import Offer, Recipe, best_recipe, near
from barrowful.supplies.heap.timing import care_of, is_warm, time_to_compost
from barrowful.supplies.supply import Lot, Supply, density_of, wet_of

WEEK = timedelta(weeks=1)
WEEKS_PER_YEAR = DAYS_PER_YEAR / 7
#: More batches of one heap than this are not reckoned through: a limit of the machine, not of the trade.
MOST_BATCHES = 10_000


@dataclass(frozen=True, kw_only=True)
class Batch:
    """One heap: when it is built and is compost (early, likely, late), its recipe and its yield."""

    built: date
    ready: tuple[date, date, date]
    recipe: Recipe
    care: str
    turns: int
    volume: tuple[float, float, float]
    dry: tuple[float, float, float]
    nitrogen: tuple[float, float, float]

    @property
    def hot(self) -> bool:
        """Say whether it is large and looked after enough to be credited with heating."""
        return self.care != "unturned"


class Yard:
    """The weekly run of one heap's bays: stock grows, full bays are built, finished ones emptied."""

    def __init__(
        self, way: Make, site: Site, drawn: Mapping[str, Supply[Any]], figures: Mapping[str, Figure]
    ) -> None:
        self.way, self.site, self.drawn, self.figures = way, site, drawn, figures
        self.stock = [0.0] * len(way.ingredients)
        self.lots = [self._lots(part) for part in way.ingredients]
        self.busy: list[date] = []
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
        day = self.site.start
        while day <= self.site.end:
            self.busy = [free for free in self.busy if free > day]
            self._arrive(day)
            batch: Batch | None = None
            while len(self.busy) < self.way.bays and (batch := self._next(batch, day)) is not None:
                found.append(batch)
                self.busy.append(batch.ready[1])
                self.waited = 0
            if len(found) > MOST_BATCHES:
                raise CannotMeet(_too_many(self.way, self.site))
            self.waited += 1
            day += WEEK
        return found

    def _next(self, before: Batch | None, day: date) -> Batch | None:
        """Return the next batch built on a day: one like that before it while there is enough, or None.

        What was best with more to choose from is best with less, as long as it can still be had.
        """
        if before is not None and self.is_exact and self._can_take(before.recipe):
            self._take(before.recipe)
            return before
        recipe = self._recipe(day)
        if recipe is None:
            return None
        self._take(recipe)
        return make_batch(recipe, day, self.way, self.site.hemisphere, self.figures)

    def _can_take(self, recipe: Recipe) -> bool:
        """Say whether there is enough of everything for a recipe once more; what is bought never runs out."""
        needed = ((offer, recipe.mass_of(offer.number)) for offer in recipe.offers)
        return all(offer.most == math.inf or mass <= self.stock[offer.number] for offer, mass in needed)

    def _arrive(self, day: date) -> None:
        for index, part in enumerate(self.way.ingredients):
            density = density_of(part.material)
            if part.once is not None and day == self.site.start:
                self.stock[index] += part.once.wet(density)
            if part.weekly is not None and day.month in part.months:
                weekly = part.weekly.wet(density)
                self.stock[index] += weekly
                if len(self.busy) >= self.way.bays and part.material.sort.spoils:
                    weeks = self.figures["greens_keep"].likely * WEEKS_PER_YEAR
                    self.stock[index] = min(self.stock[index], max(weekly, weekly * weeks))
            for lot in self.lots[index]:
                if day - WEEK < lot.day <= day:
                    self.stock[index] += lot.loose

    def _offers(self, day: date) -> list[Offer]:
        offers = []
        for index, (part, held) in enumerate(zip(self.way.ingredients, self.stock, strict=True)):
            supply = self.drawn.get(part.way)
            bought = supply is not None and not supply.limited and not part.weekly and not part.once
            if bought and supply is not None:
                ready = supply.lots(day)
                held = float("inf") if ready else 0.0
            offers.append(Offer(part.material, held, _price(part, supply), index))
        return offers

    def _recipe(self, day: date) -> Recipe | None:
        """Return a recipe to build with this week, or None to wait."""
        offers = self._offers(day)
        target, way = self.way.target_cn, self.way
        full, patience, season = judgement("full_bay"), _weeks("waits_for_target"), _weeks("waits_for_full")
        room = sum(offer.loose_of(offer.most) for offer in offers)
        if room < full * way.bay and self.waited < season:
            return None
        exact = best_recipe(offers, way.bay, (target, target), way.target_moisture, cheapest=True)
        self.is_exact = exact is not None and exact.volume >= full * way.bay
        if self.is_exact:
            return exact
        if self.waited < patience:
            return None
        close = best_recipe(offers, way.bay, near(target), way.target_moisture, cheapest=True)
        if close is None:
            return None
        enough = full if self.waited < season else judgement("least_fill")
        return close if close.volume >= enough * way.bay else None

    def _take(self, recipe: Recipe) -> None:
        for index, held in enumerate(self.stock):
            self.stock[index] = max(0.0, held - recipe.mass_of(index))


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


def make_batch(recipe: Recipe, day: date, way: Make, hemisphere: str, figures: Mapping[str, Figure]) -> Batch:
    """Return the batch a recipe becomes when it is built on a day."""
    years = time_to_compost(recipe, way, is_warm(day, hemisphere), figures)
    care = care_of(way, recipe.volume, figures)
    turns = 0
    if care != "unturned" and way.turn_every is not None:
        hot = max(0.0, years[1] - judgement("curing"))
        turns = int(hot / way.turn_every.years)
    volume, dry = (_kept(rate_name) for rate_name in ("heap_volume_lost", "heap_dry_lost"))
    held, lost = recipe.total("nitrogen"), nitrogen_lost(recipe.cn)
    return Batch(
        built=day,
        ready=(date_after(day, years[0]), date_after(day, years[1]), date_after(day, years[2])),
        recipe=recipe,
        care=care,
        turns=turns,
        volume=_scaled(volume, recipe.volume),
        dry=_scaled(dry, recipe.dry),
        nitrogen=(held * (1 - lost[2]), held * (1 - lost[1]), held * (1 - lost[0])),
    )


def _kept(name: str) -> tuple[float, float, float]:
    lost = rates()[name]
    return 1 - lost.high, 1 - lost.likely, 1 - lost.low


def _scaled(shares: tuple[float, float, float], amount: float) -> tuple[float, float, float]:
    return shares[0] * amount, shares[1] * amount, shares[2] * amount
