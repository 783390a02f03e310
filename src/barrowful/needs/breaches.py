"""Ceilings that typed lines of a plan break: followed as they are written, and said."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from math import inf, isinf
from typing import NamedTuple

from barrowful.catalogue.ceilings import ceilings
from barrowful.catalogue.judgements import judged_time
from barrowful.ground.amount import depth
from barrowful.measures.telling import DEPTH, in_told, measured
from barrowful.measures.text import all_of, in_figures
from barrowful.needs.bounds import Bound, bounds_of, kind_of
from barrowful.needs.ceilings import unsuited, within
from barrowful.needs.cover_depth import deepest_cover, layer_sort
from barrowful.needs.harvests import wait_of_dose, why_barred
from barrowful.needs.layers import Layers
from barrowful.needs.lime_and_manure import too_near
from barrowful.needs.mixes import most_of, part_of, salt_limit, salt_of
from barrowful.site.needs import Cover, Fill
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import FOLLOWED, done


class Breach(NamedTuple):
    """A ceiling broken on one place: which, how many times over, the sentence, and a dose that breaks it."""

    ceiling: str
    place: str
    times: float
    sentence: str
    dose: Application


def breaches(site: Site, doses: Iterable[Application]) -> list[str]:
    """Return a sentence for each ceiling that doses, which the grower wrote, break."""
    return [breach.sentence for breach in worst_breaches(site, doses)]


def worst_breaches(site: Site, doses: Iterable[Application]) -> list[Breach]:
    """Return each ceiling that doses, which the grower wrote, break.

    It is of the place that breaks it most, and says in how many more it is broken.
    """
    places: dict[str, list[Application]] = defaultdict(list)
    for dose in doses:
        places[dose.place.name].append(dose)
    broken: dict[str, list[Breach]] = defaultdict(list)
    for name, written in places.items():
        for breach in _of_place(site, site.place(name), written):
            broken[breach.ceiling].append(breach)
    return [_worst(of_one) for of_one in broken.values()]


def _worst(broken: list[Breach]) -> Breach:
    worst = max(broken, key=lambda breach: breach.times)
    more = len({breach.place for breach in broken}) - 1
    also = "one more place" if more == 1 else f"{more} more places"
    return worst._replace(sentence=f"{worst.sentence}; so it is in {also}") if more else worst


def _of_place(site: Site, place: Place, written: Sequence[Application]) -> Iterator[Breach]:
    for dose in written:
        yield from _of_dose(site, place, dose)
    yield from _of_covers(site, place, written)
    yield from _of_fill(place, written)
    yield from _of_salt(place, written)
    yield from _of_lime_and_manure(site, place, written)
    yield from _of_years(place, [*done(site, place), *written], {dose.number for dose in written})


def _of_dose(site: Site, place: Place, dose: Application) -> Iterator[Breach]:
    """Yield what is wrong with one dose by itself."""
    label, need = f"{place.name}, {dose.kind} by {dose.way}", dose.need
    if need is None:
        return
    because = unsuited(place, need, dose.material)
    if because:
        yield Breach("suits", place.name, 1.0, f"{label}: {because}", dose)
    wait = wait_of_dose(site, dose)
    if wait is not None and (barred := why_barred(wait, dose.day)):
        yield Breach(wait.ceiling, place.name, 1.0, f"{label}: {barred}", dose)


def _of_covers(site: Site, place: Place, written: Sequence[Application]) -> Iterator[Breach]:
    """Yield each sort of cover, of whichever ways, that lies deeper than it may once something is put on."""
    sorts: dict[str, list[Application]] = defaultdict(list)
    for dose in written:
        if dose.kind == "cover" and place.total_area:
            sorts[layer_sort(dose.material)].append(dose)
    for doses in sorts.values():
        most = min(deepest_cover(place, dose.material) for dose in doses)
        lie = [_before(site, place, dose) + _lying(site, doses, dose.day) for dose in doses]
        lies = max(lie)
        if within(lies, most) < lies:
            ways = all_of(list(dict.fromkeys(dose.way for dose in doses)))
            deep = f"{measured(lies, DEPTH, '.1f')} of it, {in_told(most, DEPTH)[0]:.1f} at most"
            told, last = f"{place.name}, cover by {ways}: {deep}", doses[lie.index(lies)]
            yield Breach("cover_depth", place.name, lies / most, told, last)


def _before(site: Site, place: Place, dose: Application) -> float:
    """Return how deep [m] what lay on a place already still lies on the day of a cover, by its need."""
    if dose.material.lacks(*FOLLOWED, "lasts", "in_place"):
        return 0.0
    need = dose.need if isinstance(dose.need, Cover) else None
    return Layers(site, place, (), dose.material, need=need).on(dose.number)


def _lying(site: Site, covers: Sequence[Application], day: date) -> float:
    """Return how deep [settled m] covers lie on a day of those put on by then, their allowance apart."""
    return sum(dose.depth(site, day) / (1 + (dose.need.allowance if dose.need else 0.0)) for dose in covers)


def _of_fill(place: Place, written: Sequence[Application]) -> Iterator[Breach]:
    """Yield each part of a fill that is more than its share of a good mix, or of the one asked for."""
    need, fills = place.need("fill"), [dose for dose in written if dose.kind == "fill"]
    whole = sum(dose.loose for dose in fills)
    if not isinstance(need, Fill) or whole <= 0:
        return
    for word, own in _shared(fills).items():
        share = sum(dose.loose for dose in own) / whole
        most = max(most_of(place, need, dose.material) for dose in own)
        if within(share, most) < share:
            told = (
                f"{place.name}, fill: {share:.0%} of it is {word}, and {most:.0%} is the most of a good mix"
            )
            times = share / most if most else inf
            yield Breach("fill_share", place.name, times, f"{told} (fill_share)", own[-1])


def _shared(fills: Sequence[Application]) -> dict[str, list[Application]]:
    """Return the doses of a fill that share in a mix together: of one part, and all that hold manure."""
    shared: dict[str, list[Application]] = {}
    for dose in fills:
        shared.setdefault(part_of(dose.material), []).append(dose)
    manured = [dose for dose in fills if dose.material.holds_manure]
    return shared if manured in ([], *shared.values()) else {**shared, "stuff with manure": manured}


def _of_salt(place: Place, written: Sequence[Application]) -> Iterator[Breach]:
    """Yield that a pot's mix holds more salt than plants in it stand."""
    fills = [dose for dose in written if dose.kind == "fill"]
    whole = sum(dose.loose for dose in fills)
    most = salt_limit(place)
    if most is None or whole <= 0:
        return
    salt = salt_of((dose.material, dose.loose / whole) for dose in fills)
    if within(salt, most) < salt:
        told = f"the mix holds {salt:.1f} dS/m of salt, and {most:.1f} is the most (mix_salt)"
        yield Breach("mix_salt", place.name, salt / most, f"{place.name}, fill: {told}", fills[-1])


def _of_lime_and_manure(site: Site, place: Place, written: Sequence[Application]) -> Iterator[Breach]:
    """Yield that lime and fresh manure come too near each other: the nearest two of them."""
    pair, wait = too_near(done(site, place), written), judged_time("lime_and_manure")
    if pair is not None:
        first, second = pair
        days = (second.day - first.day).days
        apart = f"{days} {'day' if days == 1 else 'days'} apart"
        names = [f"{dose.way or dose.material.name} on {dose.day}" for dose in pair]
        yield Breach(
            "lime_and_manure",
            place.name,
            wait.days / (days + 1),
            f"{place.name}: {' and '.join(names)} are {apart}, and lime and fresh manure lose nitrogen"
            f" together: keep {wait.days} days between them",
            second if second.decided else first,
        )


def _of_years(place: Place, doses: Sequence[Application], written: set[int]) -> Iterator[Breach]:
    """Yield each ceiling on twelve months that a year with a written dose in it breaks."""
    uses: dict[tuple[str, str], list[tuple[int, float, Application]]] = defaultdict(list)
    bounds: dict[tuple[str, str], Bound] = {}
    for dose in doses:
        for bound in bounds_of(place, kind_of(dose), dose.dug, dose.material):
            spread = depth(dose.loose, place.total_area) if place.total_area else 0.0
            uses[bound.name, bound.shares].append((dose.number, bound.each * spread, dose))
            bounds[bound.name, bound.shares] = bound
    for (name, shares), of_one in uses.items():
        days = {day for day, _, _ in of_one}
        worst, put_on = 0.0, list[tuple[bool, int, Application]]()
        for begin, end, limit in bounds[name, shares].spans(min(days), days):
            within_it = [of for of in of_one if begin <= of[0] < end]
            if any(day in written for day, _, _ in within_it):
                used = sum(use for _, use, _ in within_it)
                times = used / limit if limit > 0 else inf if used > 0 else 0.0
                if times > worst:
                    worst = times
                    put_on = [(use > 0, day, dose) for day, use, dose in within_it if dose.decided]
        if within(worst, 1.0) < worst:
            *_, last = max(put_on, key=lambda of: of[:2])
            told = f"{place.name}: {_how_far(worst, ceilings()[name].words)} ({name})"
            yield Breach(name, place.name, worst, told, last)


def _how_far(times: float, most: str) -> str:
    """Return how far a plan goes beyond a most, so many times it; where it is nothing, that none may go on.

    >>> _how_far(1.5, "the most compost in a year")
    'your plan puts on 1.5 times the most compost in a year'
    >>> _how_far(1.01, "the most compost in a year")
    'your plan puts on 1.01 times the most compost in a year'
    """
    if isinf(times):
        return f"your plan puts some on, and {most} is nothing: none may go on"
    return f"your plan puts on {in_figures(times)} times {most}"
