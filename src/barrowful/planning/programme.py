"""A site's whole programme: amounts on the ground, what there is, sellers, hours and limits."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from decimal import Decimal
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType

from barrowful.answers.options import Answer
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.measures.fixed import fixed
from barrowful.planning.amounts import Amounts, amounts_of
from barrowful.planning.books import Books
from barrowful.planning.calendar import Calendar
from barrowful.planning.ground import Ground, Looked, grounds_of
from barrowful.planning.season_hours import add_months
from barrowful.planning.sellers import add_sellers
from barrowful.planning.solved import Solved
from barrowful.planning.stores import add_standing, add_stores
from barrowful.site.records import PlanLine
from barrowful.supplies.lot import YEAR

#: What rounding may leave over of money, hours and orders when one aim after another is kept to.
CENT = 0.0005
#: Plots of none: all places that are alike are planned together.
ALL_ALIKE: Mapping[str, int] = MappingProxyType({})
#: Digits of an area [m2] that tell plots apart.
EXACT = 9
#: What rounding an order to whole coins may take off.
HALF_A_COIN = 0.005
#: From how many portions on rows that hold anyway are added, by which the solver is through sooner; of fewer
#: it is through as soon without: a setting of the search.
MANY_PORTIONS = 600


@fixed(eq=True)
class Limited:
    """What a plan is to stay within, where it is limited."""

    cash: Decimal | None = None
    cash_first_year: Decimal | None = None
    hours: float | None = None  #: h
    hours_per_week: float | None = None  #: h
    by: date | None = None  #: day everything is to be ready
    puts_off: bool = False  #: may a need wait for the second year?

    @classmethod
    def of(cls, answer: Answer) -> Limited:
        """Return the limits of a site file."""
        limits = answer.site.limits
        return cls(
            cash=limits.cash,
            hours=limits.hours,
            hours_per_week=answer.site.labour.hours_per_week,
            by=limits.by,
        )


@fixed(eq=True)
class Put:
    """Loose material [m3] that a plan puts on ground of one kind: which portion of it."""

    ground: Ground
    portion: int
    loose: float


class SiteProgramme:
    """The programme of a site on a calendar, within limits."""

    def __init__(
        self,
        answer: Answer,
        calendar: Calendar,
        limited: Limited,
        plots: Mapping[str, int] = ALL_ALIKE,
        digging_waits: bool = True,
        sure: bool = False,
    ) -> None:
        self.answer, self.calendar, self.limited, self.plots = answer, calendar, limited, plots
        site = answer.site
        self.books = Books(
            year_end=YEAR.after(site.start).toordinal(),
            sure_of_leftovers=sure,
            years_apart=limited.puts_off,
        )
        waits = digging_waits and limited.hours is None and not site.labour.hourly_value
        grounds = grounds_of(answer, calendar, self._looked())
        many = sum(len(ground.asked.portions) for ground in grounds) > MANY_PORTIONS
        self.amounts: list[Amounts] = [amounts_of(self.books, ground, waits, many) for ground in grounds]
        self._in_order()
        add_stores(self.books, answer.supplies)
        for amounts in self.amounts:
            for (_, way), column in amounts.stands.items():
                add_standing(self.books, answer.supplies[way], column)
        add_sellers(self.books, answer.supplies, site.start)
        self._add_limits()

    def _looked(self) -> Looked:
        """Return how ground is looked at."""
        limited = self.limited
        return Looked(
            ready_by=limited.by,
            put_off_to=YEAR.after(self.answer.site.start) if limited.puts_off else None,
            bare=limited.cash_first_year is not None,
            plots=self.plots,
        )

    def _in_order(self) -> None:
        """Add that of plots that are the same the first is met before the others: it is all one which is."""
        same: dict[tuple[int, int, float], list[Amounts]] = {}
        for amounts in self.amounts:
            ground = amounts.ground
            area = round(ground.place.total_area, EXACT)
            same.setdefault((ground.kind, len(ground.places), area), []).append(amounts)
        for plots in same.values():
            in_all = [kind for kind in plots[0].met if all(kind in of.met for of in plots)]
            for before, after in pairwise(plots) if in_all else ():
                kind = in_all[0]
                self.books.programme.row({before.met[kind]: 1.0, after.met[kind]: -1.0}, least=0.0)

    def _add_limits(self) -> None:
        programme, books, limited = self.books.programme, self.books, self.limited
        if limited.cash is not None:
            programme.row(books.cash, most=float(limited.cash) + HALF_A_COIN)
        if limited.cash_first_year is not None:
            programme.row(books.cash_first_year, most=float(limited.cash_first_year) + HALF_A_COIN)
        if limited.hours is not None:
            programme.row(books.hours, most=limited.hours)
        #: Column of the hours a week that are more than there are.
        self.more_hours: int | None = None
        if limited.hours_per_week is not None:
            self.more_hours = add_months(books, self.answer.site, limited.hours_per_week, limited.by)

    @cached_property
    def weights(self) -> dict[int, float]:
        """Return the columns of needs that can be met, with the number of places of each."""
        return {
            column: float(len(amounts.ground.places))
            for amounts in self.amounts
            for column in amounts.met.values()
        }

    def columns_of_needs(self, needs: Collection[tuple[str, str]]) -> set[int]:
        """Return the columns of needs, by kind and place, that can be met."""
        return {
            column
            for amounts in self.amounts
            for kind, column in amounts.met.items()
            if any((kind, place.name) in needs for place in amounts.ground.places)
        }

    @cached_property
    def put_off(self) -> dict[int, float]:
        """Return the columns of needs that are put off, with the number of places of each."""
        return {
            column: float(len(amounts.ground.places))
            for amounts in self.amounts
            for columns in amounts.put_off.values()
            for column in columns
        }

    @cached_property
    def sizes(self) -> dict[int, tuple[float, float]]:
        """Return the columns of amounts, with how much alone would do [m3], and the years until their day."""
        start = self.answer.site.start.toordinal()
        return {
            column: (amounts.ground.most[number], (portions[number].number - start) / DAYS_PER_YEAR)
            for amounts in self.amounts
            for portions in [amounts.ground.asked.portions]
            for number, column in amounts.loose.items()
        }

    @cached_property
    def used_by_rows(self) -> set[int]:
        """Return the columns of amounts on days on which rows of options put that way on for that need."""
        return {
            column
            for amounts in self.amounts
            for number, column in amounts.loose.items()
            for of in [amounts.ground.asked.portions[number]]
            if date.fromordinal(of.number) in self.calendar.of_rows.get((of.kind, of.supply.name), ())
        }

    def columns_of(self, lines: Iterable[PlanLine]) -> set[int]:
        """Return the columns of what lines of a plan put on, on any day."""
        put = {(line.place, line.need, line.way) for line in lines}
        return {
            column
            for amounts in self.amounts
            for number, column in amounts.loose.items()
            for of in [amounts.ground.asked.portions[number]]
            if any((place.name, of.kind, of.supply.name) in put for place in amounts.ground.places)
        }

    @cached_property
    def cost(self) -> dict[int, float]:
        """Return what each column costs: cash, and hours at their value."""
        hourly = float(self.answer.site.labour.hourly_value)
        cost = dict(self.books.cash)
        for column, hours in self.books.hours.items() if hourly else ():
            cost[column] = cost.get(column, 0.0) + hourly * hours
        return cost

    def puts(self, solved: Solved) -> list[Put]:
        """Return what a solution puts on."""
        return [
            Put(ground=amounts.ground, portion=number, loose=solved.values[column])
            for amounts in self.amounts
            for number, column in amounts.loose.items()
            if solved.values[column] > 0
        ]

    def standing(self, solved: Solved) -> list[tuple[str, str, str]]:
        """Return the kind of need, way and place of what meets it by standing there."""
        return [
            (kind, way, place.name)
            for amounts in self.amounts
            for (kind, way), column in amounts.stands.items()
            if solved.says_yes(column)
            for place in amounts.ground.places
        ]

    def unmet(self, solved: Solved) -> list[tuple[str, str]]:
        """Return the kind and place of each need that a solution does not meet."""
        return [
            (need.kind, place.name)
            for amounts in self.amounts
            for need in amounts.ground.place.needs
            if need.kind not in amounts.met or not solved.says_yes(amounts.met[need.kind])
            for place in amounts.ground.places
        ]
