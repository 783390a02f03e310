"""Batches of a heap over the seasons: what arrives, when a bay is full, when it is compost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property
from itertools import chain, cycle

from barrowful.catalogue.figures import Figure, computed
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate, rates
from barrowful.effort.labour import Hours, wheeling, work
from barrowful.ground.heap import nitrogen_lost
from barrowful.measures.dates import DAYS_PER_YEAR, Step, date_after
from barrowful.measures.money import rounded
from barrowful.plans.care import FULL, care_of, heap_figures, is_warm, time_to_compost
from barrowful.plans.recipes import BAND, Offer, Recipe, best_recipe
from barrowful.plans.supply import Cost, Lot, Payment, Supply, repeated
from barrowful.site.records import Site
from barrowful.site.terms import Buy, Ingredient, Make

WEEK = timedelta(weeks=1)
WEEKS_PER_YEAR = DAYS_PER_YEAR / 7
#: Weeks after which a recipe anywhere in the C:N band is taken, and a bay that is not full.
PATIENCE, SEASON = 4, 13
#: A bay filled less than this after a season is left to fill on.
LEAST_FILL = 0.25


@dataclass(frozen=True)
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


class Made(Supply):
    """A heap as a supply: each batch is a lot of compost on the day it is ready."""

    def __init__(self, way: Make, site: Site, drawn: Mapping[str, Supply]) -> None:
        self.way, self.site, self.drawn = way, site, drawn
        self.figures = heap_figures()
        if not self.batches:
            self.note = "nothing that arrives makes a heap of the C:N aimed for"

    @cached_property
    def batches(self) -> list[Batch]:
        """Return every batch built within the horizon, by weeks."""
        assert isinstance(self.way, Make)
        return _Yard(self.way, self.site, self.drawn, self.figures).run()

    @cached_property
    def material(self) -> Material:  # type: ignore[override]
        """Return the compost with the nutrients its ingredients bring, or the catalogue's."""
        assert isinstance(self.way, Make)
        stuff = self.way.material
        if not self.batches:
            return stuff
        dry = sum(batch.dry[1] for batch in self.batches)
        volume = sum(batch.volume[1] for batch in self.batches)
        nitrogen = sum(batch.nitrogen[1] for batch in self.batches)
        figures = {
            "nitrogen": computed("nitrogen", "share", nitrogen / dry),
            "density": computed("density", "density", dry / stuff.dry_share / volume),
        }
        for nutrient in ("phosphorus", "potassium"):
            held = sum(batch.recipe.total(nutrient) for batch in self.batches)
            figures[nutrient] = computed(nutrient, "share", held / dry)
        return stuff.with_figures(figures)

    def lots(self, until: date) -> list[Lot]:
        made = [Lot(batch.ready[1], batch.volume[1]) for batch in self.batches_sorted]
        return repeated(made, self.site.end, until)

    @property
    def batches_sorted(self) -> list[Batch]:
        """Return the batches in the order they become ready."""
        return sorted(self.batches, key=lambda batch: batch.ready[1])

    def used(self, draws: Mapping[date, float]) -> list[Batch]:
        """Return the batches that must be built to draw so much, the earliest ready first.

        Beyond the horizon the batches of its last year come again.
        """
        wanted, found = sum(draws.values()), []
        again = [one for one in self.batches_sorted if one.built > Step(months=-12).after(self.site.end)]
        coming = chain(self.batches_sorted, cycle(again or self.batches_sorted))
        while wanted > 1e-9 and self.batches:
            batch = next(coming)
            found.append(batch)
            wanted -= batch.volume[1]
        return found

    def cost(self, draws: Mapping[date, float]) -> Cost:
        batches = self.used(draws)
        cost = Cost(hours=sum((self.batch_hours(batch) for batch in batches), Hours()))
        assert isinstance(self.way, Make)
        for index, part in enumerate(self.way.ingredients):
            mass = sum(batch.recipe.mass_of(index) for batch in batches)
            if mass <= 0:
                continue
            drawn = self.drawn.get(part.way)
            volume, first = mass / Offer(part.material, 0).density, min(batch.built for batch in batches)
            if drawn is not None:
                cost += drawn.cost({first: volume})
            elif part.selling is not None:
                units = mass / part.selling.mass if part.selling.mass else volume / (part.selling.volume or 1)
                cash = rounded(part.price * Decimal(str(units)), self.site.currency)
                cost += Cost(paid=(Payment(first, self.way.name, part.material.name, mass, cash),))
        return cost

    def passed_on(self, draws: Mapping[date, float]) -> list[tuple[str, dict[date, float]]]:
        assert isinstance(self.way, Make)
        batches = self.used(draws)
        return [
            (
                part.way,
                {
                    batch.built: batch.recipe.mass_of(index) / Offer(part.material, 0).density
                    for batch in batches
                },
            )
            for index, part in enumerate(self.way.ingredients)
            if part.way in self.drawn and not part.weekly and not part.once and batches
        ]

    def batch_hours(self, batch: Batch) -> Hours:
        """Return the hours to gather, build and turn a batch; each turn is of what is left by then."""
        raw, done, labour = batch.recipe.volume, batch.volume[1], self.site.labour
        turned = sum(raw + (done - raw) * (turn / (batch.turns + 1)) for turn in range(1, batch.turns + 1))
        gathering = wheeling(raw, labour.push, labour.barrow)
        return gathering + work("heap_build", raw) + work("heap_turn", turned)


class _Yard:
    """The weekly run of one heap's bays: stock grows, full bays are built, finished ones emptied."""

    def __init__(
        self, way: Make, site: Site, drawn: Mapping[str, Supply], figures: Mapping[str, Figure]
    ) -> None:
        self.way, self.site, self.drawn, self.figures = way, site, drawn, figures
        self.stock = [0.0] * len(way.ingredients)
        self.lots = [self._lots(part) for part in way.ingredients]
        self.busy: list[date] = []
        self.waited = 0

    def _lots(self, part: Ingredient) -> list[Lot]:
        """Return the lots [kg] of an ingredient drawn from stock or growth."""
        supply = self.drawn.get(part.way)
        if supply is None or isinstance(supply.way, Buy) or part.weekly or part.once:
            return []
        density = part.material.get("density") or rate("unknown_density")
        return [Lot(lot.day, lot.loose * density) for lot in supply.lots(self.site.end)]

    def run(self) -> list[Batch]:
        """Return the batches built from the start to the end of the horizon."""
        found: list[Batch] = []
        day = self.site.start
        while day <= self.site.end:
            self.busy = [free for free in self.busy if free > day]
            self._arrive(day)
            while len(self.busy) < self.way.bays and (recipe := self._recipe(day)) is not None:
                batch = self._build(recipe, day)
                found.append(batch)
                self.busy.append(batch.ready[1])
                self.waited = 0
            self.waited += 1
            day += WEEK
        return found

    def _arrive(self, day: date) -> None:
        for index, part in enumerate(self.way.ingredients):
            density = Offer(part.material, 0).density
            if part.once is not None and day == self.site.start:
                self.stock[index] += part.once.wet(density)
            if part.weekly is not None and day.month in part.months:
                weekly = part.weekly.wet(density)
                self.stock[index] += weekly
                if len(self.busy) >= self.way.bays and part.material.class_ in {"green", "kitchen"}:
                    weeks = self.figures["greens_keep"].likely * WEEKS_PER_YEAR
                    self.stock[index] = min(self.stock[index], max(weekly, weekly * weeks))
            for lot in self.lots[index]:
                if day - WEEK < lot.day <= day:
                    self.stock[index] += lot.loose

    def _offers(self, day: date) -> list[Offer]:
        offers = []
        for index, (part, held) in enumerate(zip(self.way.ingredients, self.stock, strict=True)):
            supply = self.drawn.get(part.way)
            bought = supply is not None and isinstance(supply.way, Buy) and not part.weekly and not part.once
            if bought and supply is not None:
                ready = supply.lots(day)
                held = float("inf") if ready else 0.0
            offers.append(Offer(part.material, held, _price(part, supply), index))
        return offers

    def _recipe(self, day: date) -> Recipe | None:
        """Return a recipe to build with this week, or None to wait."""
        offers = self._offers(day)
        target, way = self.way.target_cn, self.way
        room = sum(offer.most / offer.density for offer in offers)
        if room < FULL * way.bay and self.waited < SEASON:
            return None
        exact = best_recipe(offers, way.bay, (target, target), way.target_moisture, cheapest=True)
        if exact is not None and exact.volume >= FULL * way.bay:
            return exact
        if self.waited < PATIENCE:
            return None
        band = (target * BAND[0], target * BAND[1])
        near = best_recipe(offers, way.bay, band, way.target_moisture, cheapest=True)
        if near is None:
            return None
        enough = FULL if self.waited < SEASON else LEAST_FILL
        return near if near.volume >= enough * way.bay else None

    def _build(self, recipe: Recipe, day: date) -> Batch:
        for index, held in enumerate(self.stock):
            self.stock[index] = max(0.0, held - recipe.mass_of(index))
        return make_batch(recipe, day, self.way, self.site.hemisphere, self.figures)


def _price(part: Ingredient, supply: Supply | None) -> float:
    """Return the price of each kg, for choosing between recipes."""
    density = Offer(part.material, 0).density
    if supply is not None and isinstance(supply.way, Buy):
        sold = supply.way.selling
        return float(supply.way.price) / (sold.mass or (sold.volume or 1.0) * density)
    if part.selling is not None:
        return float(part.price) / (part.selling.mass or (part.selling.volume or 1.0) * density)
    return 0.0


def make_batch(recipe: Recipe, day: date, way: Make, hemisphere: str, figures: Mapping[str, Figure]) -> Batch:
    """Return the batch a recipe becomes when it is built on a day."""
    years = time_to_compost(recipe, way, is_warm(day, hemisphere), figures)
    care = care_of(way, recipe.volume, figures)
    turns = 0
    if care != "unturned" and way.turn_every is not None:
        hot = max(0.0, years[1] - Step(months=1).years)
        turns = int(hot / way.turn_every.years)
    volume, dry = (_kept(rate_name) for rate_name in ("heap_volume_lost", "heap_dry_lost"))
    held, lost = recipe.total("nitrogen"), nitrogen_lost(recipe.cn)
    return Batch(
        day, (date_after(day, years[0]), date_after(day, years[1]), date_after(day, years[2])), recipe, care,
        turns, _scaled(volume, recipe.volume), _scaled(dry, recipe.dry),
        (held * (1 - lost[2]), held * (1 - lost[1]), held * (1 - lost[0])),
    )  # fmt: skip


def _kept(name: str) -> tuple[float, float, float]:
    lost = rates()[name]
    return 1 - lost.high, 1 - lost.likely, 1 - lost.low


def _scaled(shares: tuple[float, float, float], amount: float) -> tuple[float, float, float]:
    return shares[0] * amount, shares[1] * amount, shares[2] * amount
