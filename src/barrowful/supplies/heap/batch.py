"""One batch of a heap: its recipe, when it is compost, what it yields, and what is screened out of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.rates import rate, rates
from barrowful.ground.heap import nitrogen_lost
from barrowful.measures.dates import date_after
from barrowful.site.ways import Make
from barrowful.supplies.heap.recipe import Recipe
from barrowful.supplies.heap.timing import SLACK_CN, UNTURNED, care_of, is_warm, time_to_compost
from barrowful.supplies.lot import LotsRange

#: Low, likely and high.
Three = tuple[float, float, float]


class Batch(NamedTuple):
    """One heap: when it is built and is compost (early, likely, late), its recipe and its yield.

    ``put_back`` is what the recipe takes of stuff screened out before, ``overs`` what is screened out of
    this one and goes into the next: wet masses [kg] by ingredient, of the material as it went in.
    ``carbon`` and ``matter`` are of a pile that was left to rot, whose balance is known.
    """

    built: date
    ready: tuple[date, date, date]
    recipe: Recipe
    aim: float | None
    care: str
    turns: int
    volume: Three
    dry: Three
    nitrogen: Three
    put_back: tuple[float, ...]
    overs: tuple[float, ...]
    carbon: float | None = None
    matter: float | None = None

    @property
    def hot(self) -> bool:
        """Say whether it is large and looked after enough to be credited with heating."""
        return self.aim is not None and self.care != UNTURNED

    @property
    def gives_way(self) -> bool:
        """Say whether it was not built at the C:N aimed for, so that the bay was fuller."""
        return self.aim is not None and abs(self.recipe.cn - self.aim) > SLACK_CN

    def fresh_of(self, number: int) -> float:
        """Return the wet mass [kg] of an ingredient in it that was not screened out before."""
        return self.recipe.mass_of(number) - self.put_back[number]

    @property
    def overs_volume(self) -> float:
        """Return the loose volume [m3] that is screened out."""
        return self.recipe.volume_of(self.overs)

    def screened(self, nutrient: str) -> float:
        """Return the mass [kg] of a nutrient, or of carbon, in what is screened out."""
        return self.recipe.held_in(self.overs, nutrient)


def overs_of(recipe: Recipe, count: int, share: float) -> tuple[float, ...]:
    """Return what is screened out of a recipe by ingredient [kg wet]: a share of what is screened."""
    screened = [0.0] * count
    for offer, mass in zip(recipe.offers, recipe.masses, strict=True):
        if offer.material.sort.screened:
            screened[offer.number] += mass * share
    return tuple(screened)


def make_batch(
    recipe: Recipe,
    day: date,
    way: Make,
    hemisphere: str,
    figures: Mapping[str, Figure],
    put_back: tuple[float, ...] = (),
) -> Batch:
    """Return the batch a recipe becomes when it is built on a day.

    What is screened out is neither lost nor compost: shrinkage and losses are of the rest.
    """
    years = time_to_compost(recipe, way, is_warm(day, hemisphere), figures)
    care = care_of(way, recipe.volume, figures)
    turns = 0
    if care != UNTURNED and way.turn_every is not None:
        hot = max(0.0, years[1] - judgement("curing"))
        turns = int(hot / way.turn_every.years)
    count = len(way.ingredients)
    overs = overs_of(recipe, count, rate("heap_woody_left"))
    volume, dry = (_kept(rate_name) for rate_name in ("heap_volume_lost", "heap_dry_lost"))
    lost = nitrogen_lost(recipe.cn)
    held = recipe.total("nitrogen") - recipe.held_in(overs, "nitrogen")
    return Batch(
        built=day,
        ready=days_after(day, years),
        recipe=recipe,
        aim=way.target_cn,
        care=care,
        turns=turns,
        volume=_scaled(volume, recipe.volume - recipe.volume_of(overs)),
        dry=_scaled(dry, recipe.dry - recipe.dry_in(overs)),
        nitrogen=(held * (1 - lost[2]), held * (1 - lost[1]), held * (1 - lost[0])),
        put_back=put_back or (0.0,) * count,
        overs=overs,
    )


def shrinks(of: str, name: str, batches: Sequence[Batch]) -> LotsRange | None:
    """Return between what batches may shrink to, by a figure of something; None where there are none."""
    low, likely, high = (sum(batch.volume[end] for batch in batches) for end in (0, 1, 2))
    return LotsRange(of, name, low / likely, high / likely) if likely > 0 else None


def days_after(day: date, years: Three) -> tuple[date, date, date]:
    """Return the days so many years after another."""
    return date_after(day, years[0]), date_after(day, years[1]), date_after(day, years[2])


def _kept(name: str) -> Three:
    lost = rates()[name]
    return 1 - lost.high, 1 - lost.likely, 1 - lost.low


def _scaled(shares: Three, amount: float) -> Three:
    return shares[0] * amount, shares[1] * amount, shares[2] * amount
