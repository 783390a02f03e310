"""Why nothing that comes in makes a heap, and the least of what would mend it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from itertools import combinations

from barrowful.catalogue.figures import load
from barrowful.catalogue.judgements import judged_text, judgement
from barrowful.catalogue.materials import Material, material
from barrowful.ground.linear import NoAnswer, maximise
from barrowful.supplies.heap.batches import Yard
from barrowful.supplies.heap.recipe import (
    SHARES,
    TOO_MUCH_CARBON,
    TOO_MUCH_NITROGEN,
    TOO_WET,
    Aim,
    Offer,
    Recipe,
    Rule,
    rules,
    workable,
)

#: What may be in the way of a heap that there is enough for; of several that would do, the first is told.
#: What must be known of a stuff that is to mend a heap.
NEEDED = ("moisture", "carbon", "nitrogen", "density")
CAUSES = (TOO_WET, TOO_MUCH_CARBON, TOO_MUCH_NITROGEN, SHARES)


def why_no_heap(yard: Yard) -> str:
    """Return why a heap's yard never built one, after its run: what is missing, and what would mend it."""
    least = judgement("least_fill") * yard.way.bay
    offers = [offer for offer in yard.offers(yard.site.end) if offer.most > 0]
    room = sum(offer.loose_of(offer.most) for offer in offers)
    if room < least:
        return _too_little(room, least, yard)
    aim = yard.aim(workable(yard.way.target_cn, offers))
    causes = _causes(offers, aim, least)
    if not causes:
        return _too_short(yard)
    told = "; ".join(_told(cause, causes, offers, aim) for cause in causes)
    return f"{told}; {_mend(offers, aim, yard, dry=TOO_WET in causes)}"


def why_no_pile(yard: Yard) -> str:
    """Return why a pile left to rot was never begun."""
    least = judgement("least_fill") * yard.way.bay
    room = sum(offer.loose_of(offer.most) for offer in yard.offers(yard.site.end))
    return _too_little(room, least, yard) if room < least else _too_short(yard)


def _too_little(room: float, least: float, yard: Yard) -> str:
    share, what = judged_text("least_fill"), "pile" if yard.way.left else "heap"
    return (
        f"too little comes in by {yard.site.end} for the least {what}: {1000 * room:,.0f} L, and"
        f" {1000 * least:,.0f} L ({share} of a bay) are needed; bring {_up(1000 * (least - room))} L more,"
        " or have a smaller bay"
    )


def _too_short(yard: Yard) -> str:
    """Return what is said where there is enough at last, and it has not waited for more as long as it may."""
    return (
        f"the horizon ends on {yard.site.end}, before a bay is full; one that is not full is built"
        f" after {judged_text('waits_for_full')}s: look further ahead"
    )


#: The largest number of two digits, and the next order of size.
TWO_DIGITS, BASE = 99, 10


def _up(amount: float) -> str:
    """Return an amount that is not less, in two digits.

    >>> _up(123.0), _up(0.4)
    ('130', '1')
    """
    step = 1
    while amount > TWO_DIGITS * step:
        step *= BASE
    return f"{math.ceil(amount / step) * step:,}"


def fullest(
    offers: Sequence[Offer], aim: Aim, without: Iterable[str] = ()
) -> tuple[float, tuple[float, ...]]:
    """Return the greatest volume [m3] of a mix and its masses [kg], with rules about some things left out."""
    left_out = set(without)
    kept = [rule for rule in rules(offers, aim) if rule.about not in left_out]
    volumes = [offer.loose_of(1.0) for offer in offers]
    try:
        masses = maximise(volumes, [rule.row for rule in kept], [rule.limit for rule in kept])
    except NoAnswer:
        return 0.0, (0.0,) * len(offers)
    return sum(mass * volume for mass, volume in zip(masses, volumes, strict=True)), tuple(masses)


def _causes(offers: Sequence[Offer], aim: Aim, least: float) -> tuple[str, ...]:
    """Return the fewest things that are in the way of the least heap, none where nothing is."""
    for count in range(len(CAUSES) + 1):
        for causes in combinations(CAUSES, count):
            if fullest(offers, aim, causes)[0] >= least:
                return causes
    return CAUSES


#: What may keep a mix from the C:N aimed for, and what rounding may take off its volume, as a share.
BARS, NEAR = ((TOO_WET,), (SHARES,), (TOO_WET, SHARES)), 1e-6


def why_off(target: float, recipe: Recipe, aim: Aim) -> str:
    """Return what bars a mix as large as a recipe at the C:N aimed for; nothing where too little comes in."""
    at, offers = aim._replace(cn=(target, target)), recipe.offers
    for causes in BARS:
        if fullest(offers, at, causes)[0] >= recipe.volume * (1 - NEAR):
            told = [_told(cause, causes, offers, at) for cause in causes]
            return f"{'it would be ' if causes[0] == TOO_WET else ''}{'; '.join(told)}"
    return ""


def _told(cause: str, causes: Sequence[str], offers: Sequence[Offer], aim: Aim) -> str:
    tell: dict[str, Callable[[Sequence[Offer], Recipe, Aim], str]] = {
        TOO_WET: _too_wet,
        TOO_MUCH_CARBON: _too_much_carbon,
        TOO_MUCH_NITROGEN: _too_much_nitrogen,
        SHARES: _too_large_shares,
    }
    return tell[cause](offers, Recipe(tuple(offers), fullest(offers, aim, causes)[1], 0.0), aim)


def _too_wet(offers: Sequence[Offer], mix: Recipe, aim: Aim) -> str:
    return f"too wet: {mix.moisture:.1%} water in the fullest mix, and {aim.wettest:.1%} is the most"


def _too_much_carbon(offers: Sequence[Offer], mix: Recipe, aim: Aim) -> str:
    return (
        f"too little nitrogen: {_reaches(mix)} in the fullest mix, and {aim.cn[1]:.0f} is the most that heats"
    )


def _too_much_nitrogen(offers: Sequence[Offer], mix: Recipe, aim: Aim) -> str:
    return (
        f"too little carbon: {_reaches(mix)} in the fullest mix, and {aim.cn[0]:.0f} is the least that heats"
    )


def _reaches(mix: Recipe) -> str:
    """Return the C:N of a mix in words."""
    return f"a C:N of {mix.cn:.0f}" if mix.total("nitrogen") > 0 else "no nitrogen at all"


def _too_large_shares(offers: Sequence[Offer], mix: Recipe, aim: Aim) -> str:
    over = [share for share in mix.shares(aim.lifted) if mix.share_of(share) > share.most]
    told = [
        f"{_names(offer.material for offer in offers if share.holds(offer.material))} may be no more than"
        f" {share.told} ({share.ceiling})"
        for share in over
    ]
    return f"{' and '.join(told)}, and too little else comes in"


def _names(stuffs: Iterable[Material]) -> str:
    return " and ".join(dict.fromkeys(stuff.name for stuff in stuffs))


@cache
def common_stuffs() -> tuple[Material, ...]:
    """Return common materials of which a little mends a heap."""
    named = [material(name) for name in load("mends.toml")["materials"]]
    return tuple(stuff for stuff in named if stuff is not None)


def _mend(offers: Sequence[Offer], aim: Aim, yard: Yard, dry: bool) -> str:
    """Return the least of a stuff that makes a bay full, else the least heap: the site's own come first.

    What is too wet is mended by something dry.
    """
    own = [supply.material for supply in yard.drawn.values()]
    for fill in (judgement("full_bay"), judgement("least_fill")):
        for known in (own, common_stuffs()):
            stuffs = [stuff for stuff in known if not dry or (stuff.get("moisture") or 0.0) < aim.wettest]
            found = sorted(_mends(offers, stuffs, aim, fill * aim.room), key=lambda pair: pair[0])
            if found:
                loose, stuff = found[0]
                heap = "bay" if fill == judgement("full_bay") else f"heap of {1000 * fill * aim.room:,.0f} L"
                return f"{_up(1000 * loose)} L of {stuff.name} for each {heap} would mend it"
    return "nothing common mends it: bring other stuff, or aim for another C:N"


def _mends(
    offers: Sequence[Offer], stuffs: Iterable[Material], aim: Aim, fill: float
) -> Iterator[tuple[float, Material]]:
    there = {offer.material.name for offer in offers}
    for stuff in stuffs:
        if stuff.name in there or not stuff.sort.heap_stuff or stuff.lacks(*NEEDED):
            continue
        least = least_of(offers, stuff, aim, fill)
        if least is not None:
            yield stuff.loose_of(least), stuff


def least_of(offers: Sequence[Offer], stuff: Material, aim: Aim, fill: float) -> float | None:
    """Return the least wet mass [kg] of a stuff beside what there is for a mix of a volume [m3], or None."""
    added = Offer(stuff, float("inf"))
    more = [offer._replace(number=number + 1) for number, offer in enumerate(offers)]
    all_offers = [added, *more]
    kept = rules(all_offers, aim)
    filled = Rule("full", [-offer.loose_of(1.0) for offer in all_offers], -fill)
    gain = [-1.0] + [0.0] * len(offers)
    try:
        masses = maximise(gain, *zip(*((rule.row, rule.limit) for rule in [*kept, filled]), strict=True))
    except NoAnswer:
        return None
    return masses[0]
