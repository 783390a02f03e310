"""What the solver says, rounded and put through the ordinary code: met, and within all limits."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from functools import cached_property
from typing import Any

from barrowful.answers.choices import WholeSite, your_plan
from barrowful.answers.option import total_cost
from barrowful.answers.options import Answer
from barrowful.answers.overdrawn import overdrawn
from barrowful.answers.together import Part
from barrowful.catalogue.materials import Material
from barrowful.ground.sizes import Size
from barrowful.measures.fixed import fixed
from barrowful.needs.breaches import breaches
from barrowful.needs.rows import Portion
from barrowful.planning.programme import Limited, Put, SiteProgramme
from barrowful.planning.solved import Solved
from barrowful.site.records import PlanLine
from barrowful.sitefile.keys.site import PLAN
from barrowful.sitefile.language.quantity import limits
from barrowful.supplies.supply import Supply

#: Amounts are rounded up to a litre, and of what is sold by weight to ten grams.
LITRE, TEN_GRAMS = 0.001, 0.01
#: What is exact: a thousandth of a millilitre, or of a gram.
EXACT = 9
#: What is put on less than the solver says where that is exact, as a share: less than a need is let off, so
#: that a load that is just enough stays one load.
SPARE = 2e-7
#: Less than this [m3] is what rounding left over, and nothing.
NOTHING = 1e-7
#: Less than this [m3] a plan takes of nothing that goes by volume: there it would be refused.
LEAST, _ = limits(PLAN, "amount")


@fixed(kw_only=False)
class Proved:
    """Lines of a plan as the ordinary code carries them out."""

    lines: tuple[PlanLine, ...]
    whole: WholeSite

    @cached_property
    def broken(self) -> list[str]:
        """Return what cannot be done so: ceilings it breaks, stocks it asks too much of."""
        answer, doses = self.whole.together.answer, self.whole.together.all_doses
        return [*breaches(answer.site, doses), *overdrawn(answer.supplies, doses)]

    @cached_property
    def faults(self) -> list[str]:
        """Return what is wrong with it: what cannot be done so, and limits it is over."""
        over = self.whole.over
        return [*self.broken, *([over] if over else [])]

    @property
    def cost(self) -> float:
        """Return cash, and hours at their value."""
        bill, site = self.whole.bill, self.whole.together.answer.site
        return float(total_cost(bill.cash, bill.hours, site.labour.hourly_value))

    def worth(self) -> tuple[int, float]:
        """Return what a proof goes before another by: needs met, the most first, and cost."""
        return -len(self.whole.places_met), round(self.cost, 2)

    def meets(self, needs: Iterable[tuple[str, str]]) -> bool:
        """Say whether it meets needs, by kind and place."""
        return set(needs) <= self.whole.places_met


def proved(answer: Answer, lines: Sequence[PlanLine]) -> Proved:
    """Return lines of a plan carried out by the ordinary code."""
    return Proved(tuple(lines), your_plan(answer.with_plan(lines)))


def keeps_to(whole: WholeSite, limited: Limited) -> bool:
    """Say whether what is done keeps to limits."""
    ready, bill = whole.ready_on, whole.bill
    return (
        (limited.by is None or (ready is not None and ready <= limited.by))
        and (limited.cash is None or bill.cash <= limited.cash)
        and (limited.cash_first_year is None or bill.cash_first_year <= limited.cash_first_year)
        and (limited.hours is None or bill.hours.compared <= limited.hours)
    )


#: Says of which ways amounts are left just as they are.
Exact = Callable[[Supply[Any]], bool]


def proof_of_solution(of: SiteProgramme, solved: Solved, exact: Exact) -> Proved:
    """Return a solution of a programme, rounded, carried out by the ordinary code."""
    standing = standing_lines(of.standing(solved))
    return proved(of.answer, [*lines_of(of.puts(solved), exact), *standing])


def lines_of(puts: Sequence[Put], exact: Exact) -> list[PlanLine]:
    """Return the lines that put something on each place: of some ways just as much as the solver says, else
    rounded up.
    """
    return [
        PlanLine(
            place=place.name,
            need=of.kind,
            way=of.supply.name,
            amount=_rounded(of, put.loose * put.ground.share(place), exact(of.supply)),
            day=date.fromordinal(of.number),
        )
        for put in puts
        for of in [put.ground.asked.portions[put.portion]]
        for place in put.ground.places
        if _is_something(of.material, put.loose * put.ground.share(place))
    ]


def _is_something(stuff: Material, loose: float) -> bool:
    """Say whether a loose volume [m3] is more than what rounding left over, and may be written."""
    return loose > NOTHING if _by_weight(stuff) else loose >= LEAST


def _by_weight(stuff: Material) -> bool:
    return stuff.sort.as_sold and not stuff.lacks("density")


def in_wholes(way: Supply[Any]) -> bool:
    """Say whether a litre more of a way may ask for a whole bag or load more, or is not there."""
    return way.limited or way.sold_in_wholes


def _never(way: Supply[Any]) -> bool:
    return False


def _always(way: Supply[Any]) -> bool:
    return True


#: How amounts may be rounded, from the plainest to just as they are.
ROUNDINGS = (_never, in_wholes, _always)


def _rounded(of: Portion, loose: float, exact: bool) -> Size:
    return _amount(of.material, loose * (1 - SPARE) if exact else loose, exact)


def _amount(stuff: Material, loose: float, exact: bool) -> Size:
    """Return how much to put on, by weight of what is sold by weight."""
    if _by_weight(stuff):
        mass = stuff.wet_mass(loose)
        return Size(None, round(mass, EXACT) if exact else rounded_up(mass, TEN_GRAMS))
    return Size(round(loose, EXACT) if exact else rounded_up(loose, LITRE), None)


def rounded_up(amount: float, step: float) -> float:
    """Return an amount rounded up to a step, whatever a solver left over.

    >>> rounded_up(2.0001, 0.001), rounded_up(2.0, 0.001), rounded_up(5.41, 0.1)
    (2.001, 2.0, 5.5)
    """
    return round(math.ceil(round(amount / step, 6)) * step, EXACT)


def standing_lines(standing: Iterable[tuple[str, str, str]]) -> list[PlanLine]:
    """Return the lines of what meets a need by standing there."""
    return [PlanLine(place=place, need=kind, way=way) for kind, way, place in standing]


def lines_of_parts(parts: Iterable[Part]) -> list[PlanLine]:
    """Return the lines that do what parts do."""
    lines = []
    for part in parts:
        if part.decision.founds:
            lines += standing_lines((part.need, part.way, of.place.name) for of in part.decision.servings)
        lines += [
            PlanLine(
                place=dose.place.name,
                need=part.need,
                way=dose.way,
                amount=_amount(dose.material, dose.loose, exact=True),
                day=dose.day,
            )
            for dose in part.doses
            if _is_something(dose.material, dose.loose)
        ]
    return lines
