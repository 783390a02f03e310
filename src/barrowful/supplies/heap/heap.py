"""A heap as a supply: its batches come ready over the seasons, and what they cost."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cached_property
from itertools import chain, cycle

from barrowful.catalogue.figures import computed
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import heap_figures
from barrowful.costs.labour import Hours, wheeling, work
from barrowful.measures.dates import Step
from barrowful.measures.money import rounded
from barrowful.site.records import Site
from barrowful.site.ways import Make
from barrowful.supplies.heap.batches import Batch, Yard
from barrowful.supplies.heap.recipe import Offer
from barrowful.supplies.supply import Cost, Lot, Payment, Supply, repeated


class Heap(Supply):
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
        return Yard(self.way, self.site, self.drawn, self.figures).run()

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
            "density": computed("density", "density", stuff.wet_of(dry) / volume),
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
            volume, first = Offer(part.material, 0).loose_of(mass), min(batch.built for batch in batches)
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
                    batch.built: Offer(part.material, 0).loose_of(batch.recipe.mass_of(index))
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
