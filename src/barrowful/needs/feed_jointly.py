"""What one place is fed of several ways together, season by season: the least costly amounts that meet it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from math import inf
from typing import NamedTuple

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.linear import AtLeast, NoAnswer, least_of
from barrowful.measures.dates import years_between
from barrowful.needs.bounds import Bound
from barrowful.needs.ceilings import add_use, room_beside
from barrowful.needs.doses import DUST, SLACK_SHARE, dose_for, most_at_once
from barrowful.needs.given import Given, nutrients_of
from barrowful.needs.meal import Fed, Meal, nitrogen_let_on, sizing, wanted_by
from barrowful.needs.settled import Settled
from barrowful.site.needs import Feed
from barrowful.site.records import Place, Site
from barrowful.soil.seasons import season_end, time_of_year
from barrowful.supplies.joint import Source, in_order
from barrowful.supplies.stock import Stock

#: What a kilogram as delivered counts where nothing else tells amounts apart: less stuff is better. It is
#: small beside any price. What comes a year later counts by so much more, as a share: settings of the search.
LESS_STUFF, LATER = 1e-6, 0.1
#: By how much what is to be spared is dearer than what is dearest: a setting of the search.
SPARED = 1e3
#: How near a ceiling amounts are that use it up, as a share.
NEAR = 1e-6


class Portion(NamedTuple):
    """What may go on of one way on a day: at most so much [m3], which gives nutrients [kg] for each m3."""

    meal: Meal
    day: date
    gives: dict[str, float]
    most: float


class Limit(NamedTuple):
    """What portions use of a limit for each m3, how much there is, and the ceiling it is, if it is one."""

    uses: list[float]
    most: float
    ceiling: str = ""


class JointMeal:
    """What one place is fed of several ways together.

    Each season is a linear programme of its own: of each way there is so much on its days; every nutrient
    wanted is met, and of nitrogen no more than is wanted goes on; ceilings bind all together.
    """

    def __init__(self, site: Site, place: Place, need: Feed, source: Source, beside: Settled) -> None:
        self.site, self.place, self.need, self.beside = site, place, need, beside
        self.given = Given(site, place, beside.there(place))
        self.meals = [Meal(site, place, need, supply, beside, self.given) for supply in in_order(source)]
        self.weight_of = source.weight_of
        self.wanted, self.nutrient = wanted_by(place, need), sizing(need)
        self.at_once = most_at_once(place, need)
        #: What each m3 of a way gives [kg] in its season, by its name and the time of year.
        self._gives: dict[tuple[str, str], dict[str, float]] = {}

    def gives(self, meal: Meal, day: date) -> dict[str, float]:
        """Return the nutrients [kg] that each m3 of a way, put on on a day, gives in its season."""
        time = time_of_year(self.site.hemisphere, day.month)
        known = self._gives.get((meal.supply.name, time))
        if known is None:
            each = meal.dry / (1 + self.need.allowance)
            known = nutrients_of(meal.stuff, each, meal.response.nitrogen(1, time).per_dry)
            self._gives[meal.supply.name, time] = known
        return known

    def of_season(self, number: int) -> Fed:
        """Return what a season gets; its doses count in the seasons after."""
        net = self.given.net(number)
        lacking = max(0.0, self.wanted[self.nutrient] - net[self.nutrient])
        fed = Fed(lacking=lacking, credit=net["nitrogen"])
        season = Portions(self, number, net, self.meals)
        amounts = season.amounts() if season.lacks else []
        fed.hopeless = not season.met
        enough = [meal for meal in self.meals if not self._too_thin(meal, season, amounts)]
        if 0 < len(enough) < len(self.meals):
            fewer = Portions(self, number, net, enough)
            without = fewer.amounts()
            season, amounts = (fewer, without) if fewer.met else (season, amounts)
        for portion, loose in zip(season.portions, amounts, strict=bool(amounts)):
            self._put_on(portion, loose, fed)
        fed.ceiling = season.binding(amounts) if amounts else ""
        fed.judge(self.wanted, self.given.net(number), season_end(self.site, number))
        return fed

    def _too_thin(self, meal: Meal, season: Portions, amounts: Sequence[float]) -> bool:
        """Say whether bulky stuff goes on, and so little that nobody could spread it."""
        own = zip(season.portions, amounts, strict=True) if amounts else ()
        loose = sum(of for portion, of in own if portion.meal is meal)
        thin = judgement("thinnest_spread") * self.place.total_area
        return 0 < loose < thin and not meal.stuff.sort.as_sold

    def _put_on(self, portion: Portion, loose: float, fed: Fed) -> None:
        """Put a portion [m3] on, as far as it is there."""
        stock = self.beside.stock(portion.meal.supply)
        taken = stock.take(portion.day.toordinal(), loose) if loose > DUST else 0.0
        if taken > 0:
            dose = dose_for(self.place, self.need, portion.meal.supply, portion.day, taken)
            fed.doses.append(dose)
            self.given.put_on(dose)
            add_use(self.given.uses, self.place, dose)


class Portions:
    """The portions that may feed a place in a season, and the limits they keep to."""

    def __init__(self, joint: JointMeal, number: int, net: dict[str, float], meals: Sequence[Meal]) -> None:
        self.joint, self.number, self.net, self.meals = joint, number, net, meals
        self.met = True  #: do the amounts bring all that is lacking?
        wanted = joint.wanted
        self.lacks = {name: wanted[name] - net[name] for name in NUTRIENTS if wanted[name] > 0}
        self.lacks = {name: of for name, of in self.lacks.items() if of > SLACK_SHARE * wanted[name]}

    @cached_property
    def portions(self) -> list[Portion]:
        """Return what may go on and is there, by way and day; of what has no end on its first day."""
        found = []
        for meal in self.meals:
            days, endless = meal.days_of(self.number).open, self._stock(meal).lots.endless
            for day in days[:1] if endless else days:
                there = inf if endless else self._there(meal, day.toordinal())
                most = min(self.joint.at_once, there)
                if most > 0 and not self._before_the_first(meal, day):
                    found.append(Portion(meal, day, self.joint.gives(meal, day), most))
        return found

    def _before_the_first(self, meal: Meal, day: date) -> bool:
        """Say whether it would be the first dressing of a new place before one too deep for any other."""
        first, number = meal.room.first_dressing, day.toordinal()
        return first is not None and number < first and meal.room.left(number) <= 0

    def _stock(self, meal: Meal) -> Stock:
        return self.joint.beside.stock(meal.supply)

    def amounts(self) -> list[float]:
        """Return how much [m3] of each portion is the least costly that meets all that is lacking.

        Where nothing does it is what meets the most of the nutrient that is met least.
        """
        self.met = bool(self.portions)
        if not self.portions:
            return []
        sizes = [self._whole(portion) for portion in self.portions]
        each = map(self._price, self.portions)
        prices = self._spared([price * size for price, size in zip(each, sizes, strict=True)])
        ceilings = [_scaled([-use for use in limit.uses], -limit.most, sizes) for limit in self.limits]
        wanted = [
            _scaled([portion.gives[name] for portion in self.portions], of, sizes)
            for name, of in self.lacks.items()
        ]
        caps = [portion.most / size for portion, size in zip(self.portions, sizes, strict=True)]
        try:
            if any(_most_of(row, caps) < of * (1 - SLACK_SHARE) for row, of in wanted):
                raise NoAnswer("not even all there is comes to what is lacking")
            found = least_of(prices, caps, [*wanted, *ceilings])
        except NoAnswer:
            self.met = False
            found = self._most_met(prices, caps, wanted, ceilings)
        return [part * size for part, size in zip(found, sizes, strict=True)]

    def _most_met(
        self,
        prices: Sequence[float],
        caps: Sequence[float],
        wanted: Sequence[AtLeast],
        ceilings: Sequence[AtLeast],
    ) -> list[float]:
        """Return amounts by which the share of what is lacking that is not met is least."""
        dearest = max(prices) or 1.0
        small = [LESS_STUFF * price / dearest for price in prices]
        rows = [([*row, of], of) for row, of in wanted] + [([*row, 0.0], of) for row, of in ceilings]
        try:
            return least_of([*small, 1.0], [*caps, 1.0], rows)[:-1]
        except NoAnswer:
            return [0.0] * len(prices)

    def _whole(self, portion: Portion) -> float:
        """Return how much [m3] of a portion alone brings all that is lacking of some nutrient."""
        shares = [portion.gives[name] / of for name, of in self.lacks.items()]
        return 1 / max(shares) if max(shares) > 0 else 1.0

    @cached_property
    def _first_day(self) -> date:
        return min(of.day for of in self.portions)

    def _price(self, portion: Portion) -> float:
        """Return the price of each m3, or what it counts; of what costs the same the earlier is better."""
        supply, stuff = portion.meal.supply, portion.meal.stuff
        waits = years_between(self._first_day, portion.day)
        each = self.joint.weight_of.get(supply.name, supply.price_by_volume)
        return each + LESS_STUFF * stuff.wet_mass(1.0) * (1 + LATER * waits)

    def _spared(self, prices: list[float]) -> list[float]:
        """Return prices by which what has an end comes last, where it is to be spared."""
        if not self.joint.beside.spares:
            return prices
        dear = SPARED * max(prices)
        return [
            price + dear * of.meal.supply.limited for price, of in zip(prices, self.portions, strict=True)
        ]

    @cached_property
    def limits(self) -> list[Limit]:
        """Return the limits that the portions keep to together: what there is, nitrogen, and ceilings.

        Those that all portions together come nowhere near are left out.
        """
        most = [portion.most for portion in self.portions]
        every = [*self._of_stocks(), *self._of_nitrogen(), *self._of_ceilings()]
        return [limit for limit in every if _most_of(limit.uses, most) >= limit.most * (1 - NEAR)]

    def _of_stocks(self) -> Iterator[Limit]:
        """Yield what there is of each way that keeps and has an end, up to each of its days but the first."""
        for meal in self.meals:
            stock = self._stock(meal)
            if not meal.supply.keeps or stock.lots.endless:
                continue
            for last in [of for of in self.portions if of.meal is meal][1:]:
                drawn = [float(of.meal is meal and of.day <= last.day) for of in self.portions]
                yield Limit(drawn, self._there(meal, last.day.toordinal()))

    def _there(self, meal: Meal, day: int) -> float:
        """Return what is left [m3] of a way on a day."""
        stock = self._stock(meal)
        return stock.left_by(day) if meal.supply.keeps else stock.left_on(day)

    def _of_nitrogen(self) -> Iterator[Limit]:
        """Yield the nitrogen that may be given: what is wanted, or the little that is let on unwanted."""
        place, need = self.joint.place, self.joint.need
        gives, net = [portion.gives["nitrogen"] for portion in self.portions], self.net["nitrogen"]
        allowed = nitrogen_let_on(place, need)
        if allowed < inf:
            yield Limit(gives, max(0.0, allowed - net), "available_nitrogen")
        if need.nitrogen and place.limits.farm and "bulky_share" not in place.limits.lift:
            bulky = [of.meal.stuff.sort.bulky for of in self.portions]
            uses = [each if counts else 0.0 for each, counts in zip(gives, bulky, strict=True)]
            yield Limit(uses, self.joint.meals[0].bulky_room(self.number), "bulky_share")

    def _of_ceilings(self) -> Iterator[Limit]:
        """Yield the ceilings of twelve months; those that several share bind them together.

        Of a new place the twelve months from the first day anything may go on are the first dressing's.
        """
        joint, area = self.joint, self.joint.place.total_area
        days = [portion.day.toordinal() for portion in self.portions]
        by_stuff = {
            meal.stuff.name: room_beside(joint.place, joint.need, meal.stuff, joint.given.uses).bounds
            for meal in self.meals
        }
        bounds: dict[tuple[str, str], list[Bound | None]] = {}
        for index, portion in enumerate(self.portions):
            for bound in by_stuff[portion.meal.stuff.name]:
                known = bounds.setdefault((bound.name, bound.shares), [None] * len(self.portions))
                known[index] = bound
        for (name, _), own in bounds.items():
            bound = next(of for of in own if of is not None)
            bound_days = [day for day, of in zip(days, own, strict=True) if of is not None]
            each = [of.each / area if of is not None else 0.0 for of in own]
            for begin, end, limit in bound.spans(min(bound_days), bound_days):
                inside = [use if begin <= day < end else 0.0 for use, day in zip(each, days, strict=True)]
                if any(inside):
                    used = sum(use for on, use in bound.used if begin <= on < end)
                    yield Limit(inside, max(0.0, limit - used), name)

    def binding(self, amounts: Sequence[float]) -> str:
        """Return the ceiling that amounts [m3] use up, or nothing."""
        for limit in self.limits:
            used = sum(use * loose for use, loose in zip(limit.uses, amounts, strict=True))
            if limit.ceiling and used >= limit.most * (1 - NEAR):
                return limit.ceiling
        return ""


def _most_of(uses: Sequence[float], most: Sequence[float]) -> float:
    """Return the most that amounts, up to the most of each, come to."""
    return sum(each * of for each, of in zip(uses, most, strict=True) if each > 0)


def _scaled(row: Sequence[float], at_least: float, sizes: Sequence[float]) -> AtLeast:
    """Return a row for amounts told in sizes of their own, so that it comes to about one."""
    sized = [each * size for each, size in zip(row, sizes, strict=True)]
    scale = max([abs(at_least), *(abs(each) for each in sized)]) or 1.0
    return [each / scale for each in sized], at_least / scale
