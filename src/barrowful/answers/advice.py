"""The answer first: what to do, of whom, when, for how much, and what nothing meets, in a few lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from barrowful.answers.choices import CHEAPEST, PLAN, WholeSite, cheapest
from barrowful.answers.fills_told import fills_told
from barrowful.answers.instead import lacking_of_feed, left_by_ours, others_get_some, would_serve
from barrowful.answers.less_work import less_work_told
from barrowful.answers.met_by_others import met_by_others
from barrowful.answers.orders_told import too_old_told
from barrowful.answers.search import best_of
from barrowful.answers.together import Part, Together
from barrowful.answers.ways_told import begins, for_what, way_in_short, way_told
from barrowful.measures.elementwise import round_up
from barrowful.measures.money import rounded
from barrowful.measures.telling import hours_told
from barrowful.measures.text import all_of
from barrowful.needs.cover import Covering
from barrowful.needs.dress import Dressing
from barrowful.needs.feed import Feeding
from barrowful.needs.feed_balance import shares_met

#: Lines of an answer, and letters of one: what a screen shows at once.
MOST_LINES, LETTERS = 8, 96
#: Kinds of need of which a part is worth telling: the rest may come later, or be done without.
PART_OF_THE_WAY = (Feeding.kind, Dressing.kind)
#: What is told where phosphorus stops all there is.
LOW_IN_PHOSPHORUS = (
    "Little of it comes with a mulch of chip, straw or leaves, or with clover or vetch grown there"
)
#: The same where a mulch does nothing for the need: what lies on top raises and feeds no bed.
NONE_BUT_THE_GROUNDS = (
    'Clover or vetch grown there, cut and left ("in_place: true"), brings none that the ground had not'
)


class Advice(NamedTuple):
    """What a screen says first, and what there was no room for in it."""

    lines: tuple[str, ...]
    more: tuple[str, ...]


def advice(whole: WholeSite, later: Sequence[str] = ()) -> tuple[str, ...]:
    """Return what a screen says first of what is followed."""
    return all_advice(whole, later).lines


def all_advice(whole: WholeSite, later: Sequence[str] = ()) -> Advice:
    """Return what to do, by way, what is not met with what would serve, and what less work would cost.

    What its season has ``later`` follows what to do. It has eight lines at most. Where no way has room beside
    the rest, that is told in fewer words; what is only worth knowing beside it stands where room is left.
    """
    unmet, part_way = {kind: _unmet(whole, kind) for kind in whole.unmet}, _part_way(whole)
    not_met, beside = _not_met(whole, unmet), _beside(whole)
    by_name = [*([f"Not met: {'; '.join(unmet.values())}."] if unmet else []), *part_way]
    reasons = [*later, *_already_met(whole), *not_met.values(), *part_way]
    for last in (reasons, [*later, *by_name], by_name):
        lines, told = _with_ways(whole, last, bool(part_way))
        if told or not whole.together.parts:
            break
    first = _fitting([*lines, *beside], not_met if last is reasons else {})
    return Advice(first, tuple(line for line in (*reasons, *beside) if line not in first))


def _beside(whole: WholeSite) -> list[str]:
    """Return what fills are mixed to, what lies too long to count, and what less work would cost.

    That not all was looked at comes last.
    """
    lines = [*fills_told(whole), *too_old_told(whole.bill.orders), *less_work_told(whole)]
    if not whole.together.answer.site.plan and not best_of(whole.together.answer).whole:
        lines.append("Not every combination of ways was looked at; one may meet more or be cheaper.")
    return lines


def _with_ways(whole: WholeSite, last: Sequence[str], part_way: bool) -> tuple[list[str], int]:
    """Return lines with as many ways as there is room for above some last ones, and how many that are.

    What is ordered first stands first. Of ways with no room for a line, one has how much of each is ordered.
    """
    names = dict.fromkeys(way.name for part in whole.together.parts for way in part.source.parts)
    in_turn = sorted(names, key=lambda way: begins(whole, way))
    ways = {way: line for way in in_turn if (line := way_told(whole, way))}
    for named in range(len(ways), -1, -1):
        left = [way_in_short(whole, way) for way in list(ways)[named:]]
        rest = [f"- {'and ' if named else ''}{', '.join(left)}: see the orders."] if left else []
        lines = [_head(whole, part_way), *list(ways.values())[:named], *rest, *last]
        if _height(lines) <= MOST_LINES:
            break
    return lines, named


def _height(lines: Iterable[str]) -> int:
    """Return how many lines of a screen some lines take, each counted as often as it is broken."""
    return sum(round_up(len(line) / LETTERS) for line in lines)


def _fitting(lines: Sequence[str], not_met: Mapping[str, str]) -> tuple[str, ...]:
    """Return the first lines that fit a screen's height, and the needs not met that none of these tells."""
    kept = list(lines)
    while True:
        left = [kind for kind, line in not_met.items() if line not in kept]
        told = [*kept, *([f"Not met either: {', '.join(left)}."] if left else [])]
        if len(kept) == 1 or _height(told) <= MOST_LINES:
            return tuple(told)
        kept.pop()


def _head(whole: WholeSite, part_way: bool) -> str:
    """Return what all comes to; where it is nothing, whether something goes ``part_way``."""
    site, bill = whole.together.answer.site, whole.bill
    if not whole.together.parts:
        return _nothing(whole, part_way)
    ready = f"ready {whole.ready_on}" if whole.ready_on else "with no day it is ready"
    cash = f"{rounded(bill.cash, site.currency):,} {site.currency}"
    first = f"{rounded(bill.cash_first_year, site.currency):,} of it in the first year"
    what = "Your plan" if whole.title == PLAN else "Do this"
    return f"{what}: {cash} by {site.end}, {first}; {hours_told(bill.hours.likely)}; {ready}."


def _nothing(whole: WholeSite, part_way: bool) -> str:
    """Return why nothing is to be done."""
    if part_way:
        return "No way meets a need whole; what goes part of the way is told below."
    if whole.unmet:
        return "Nothing is put on: no way meets a need."
    if any(place.needs for place in whole.together.answer.site.places):
        return "Nothing to do: every need is met already."
    return "Nothing to do: no place has a need."


def _already_met(whole: WholeSite) -> list[str]:
    """Return a line on the needs that are met with nothing put on, and by what."""
    told = met_by_others(whole) if whole.together.parts else []
    return [f"Met with nothing of its own: {'; '.join(told)}."] if told else []


def _unmet(whole: WholeSite, kind: str) -> str:
    """Return a kind of need with the first place it is not met in, what a feed lacks, and how many more."""
    places = whole.places_left_out(kind)
    more = f" and {len(places) - 1} more" if len(places) > 1 else ""
    return f"{kind}, {places[0]}{lacking_of_feed(whole, kind, places[0])}{more}"


def _not_met(whole: WholeSite, unmet: Mapping[str, str]) -> dict[str, str]:
    """Return a line for each kind of need that is ``unmet``, told with where, and what would serve."""
    lines = {}
    for kind, where in unmet.items():
        place = whole.places_left_out(kind)[0]
        because, serving = whole.why_left_out(kind, place)
        asked = serving is not None and whole.title != PLAN and (serving.ceiling or kind == "feed")
        would = would_serve(whole, kind, serving) if serving and asked else ""
        if serving and asked and kind == "feed":
            because = left_by_ours(whole, serving.place) or because
        if serving and asked and not would and serving.ceiling == "phosphorus":
            dressed = kind in (Dressing.kind, Covering.kind)
            because = f"{because}. {LOW_IN_PHOSPHORUS if dressed else NONE_BUT_THE_GROUNDS}"
        told = f". Would serve: {would}" if would else f": {because}" if because else ""
        lines[kind] = f"Not met: {where}{told}{others_get_some(whole, kind)}."
    return lines


def _part_way(whole: WholeSite) -> list[str]:
    """Return a line on what goes part of the way for each need that may, with what it brings.

    A place does not go without nitrogen because the potassium falls short, nor undressed for want of 5 mm.
    """
    short_of = [kind for kind in PART_OF_THE_WAY if kind in whole.unmet]
    if whole.title != CHEAPEST or not short_of:
        return []
    partly = cheapest(whole.together.answer, partial=True).together
    return [line for kind in short_of if (line := _part_of(partly, kind))]


def _part_of(partly: Together, kind: str) -> str:
    """Return the line on what goes part of the way for a kind of need; nothing where there is hardly any."""
    part, answer = next(filter(None, (_short_of(kind, of) for of in partly.parts)), None), partly.answer
    if part is None:
        return ""
    ways = dict.fromkeys(dose.way for dose in part.decision.doses)
    told = all_of([f"{way}, {for_what(answer.site.labour.barrow, [part], way)}" for way in ways])
    [serving, *more] = part.decision.servings
    place = serving.place
    if kind == Feeding.kind:
        brings = _brings(shares_met(answer.site, place, partly.doses_on(place.name)))
    else:
        brings = f"{serving.share:.0%} of it" if round(serving.share, 2) else ""
    if not brings:
        return ""
    where = f"{place.name}: " if more else ""
    return f'Part of the way: {told} ({where}{brings}); "barrowful orders --partial" has it.'


def _brings(shares: Mapping[str, float]) -> str:
    """Return what share of each nutrient there is in the first season; nothing where there is hardly any."""
    if all(share >= 1 for share in shares.values()):
        return "all of it in the first season, less later"
    any_of_it = any(round(share, 2) for share in shares.values())
    return all_of([f"{share:.0%} of the {name}" for name, share in shares.items()]) if any_of_it else ""


def _short_of(kind: str, part: Part) -> Part | None:
    """Return what a part puts on for a kind of need at places where it does not meet it whole, or None."""
    short = tuple(of for of in part.decision.short_of if of.doses)
    if part.need != kind or not short:
        return None
    return part._replace(decision=replace(part.decision, servings=short))
