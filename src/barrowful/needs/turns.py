"""Who gets of what has an end: places by priority, and nothing thinner than is worth spreading."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from barrowful.catalogue.judgements import judgement
from barrowful.ground.amount import depth
from barrowful.measures.telling import THIN, measured
from barrowful.needs.decision import Serving, in_turn
from barrowful.needs.settled import Settled
from barrowful.site.records import Place
from barrowful.soil.application import Application
from barrowful.supplies.joint import Source


def served_in_turn(
    places: Iterable[Place], source: Source, beside: Settled, serve: Callable[[Place], Serving]
) -> dict[str, Serving]:
    """Return what each place gets by its name, those of the first priority first, taken from the stocks.

    Where places get nothing that does not meet their need, those that there is too little for stand back for
    the next priority, and share what is left after it. Where they get a part all the same, the first keep
    theirs, but for a layer that is too thin to be worth spreading.
    """
    by_place: dict[str, Serving] = {}
    groups = [list(group) for _, group in groupby(in_turn(places), key=lambda place: place.priority)]
    stand_back, stood_back = len(groups) > 1 and beside.if_late != "part", list[Place]()
    for group in groups:
        by_place |= {place.name: _worth_it(serve(place), source, beside) for place in group}
        for place in group:
            serving = by_place[place.name]
            if stand_back and not serving.met and _given_back(serving.every_dose, source, beside):
                stood_back.append(place)
            else:
                beside.put_on(serving.every_dose)
    for place in stood_back:
        by_place[place.name] = serve(place)
        beside.put_on(by_place[place.name].every_dose)
    return by_place


def _worth_it(serving: Serving, source: Source, beside: Settled) -> Serving:
    """Return a serving, or nothing in its stead where all there is for it would lie too thin."""
    if beside.if_late != "part" or serving.met or not _too_thin(serving, source):
        return serving
    least = useful_depth(serving.place)
    if not _given_back(serving.every_dose, source, beside):
        return serving
    thin = f"what is left would lie thinner than {measured(least, THIN)}"
    return replace(serving, doses=(), later=(), share=0.0, why_not=f"{serving.why_not}; {thin}")


def useful_depth(place: Place) -> float:
    """Return the thinnest layer [m, as spread] worth spreading on a place where there is too little."""
    own = place.limits.useful_depth
    return judgement("least_useful_depth") if own is None else own


def _too_thin(serving: Serving, source: Source) -> bool:
    """Say whether the deepest dose of stuff spread in layers, over all of its place, is too thin.

    That is so where there is too little; of what there is enough a thin layer may be all that is wanted.
    """
    area = serving.place.total_area
    layers = [depth(dose.loose, area) for dose in serving.every_dose if not dose.material.sort.as_sold]
    whole = len(layers) == len(serving.every_dose) and bool(layers) and area > 0
    too_little = source.limited and serving.short > 0
    return whole and too_little and max(layers) < useful_depth(serving.place)


def _given_back(doses: Sequence[Application], source: Source, beside: Settled) -> bool:
    """Give what doses took of what has an end back to its stock, and say whether there was any."""
    supplies = {part.name: part for part in source.parts if part.limited}
    taken = [dose for dose in doses if dose.way in supplies]
    for dose in taken:
        beside.stock(supplies[dose.way]).give_back(dose.number, dose.loose)
    return bool(taken)
