"""Feeding: nutrients plants can use in each season, net of what else comes and what ties nitrogen up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.ground.amount import mass_on
from barrowful.ground.nutrients import dry_dose_for
from barrowful.measures.dates import years_between
from barrowful.needs.anew import Anew, Sized
from barrowful.needs.ceilings import beside_humus
from barrowful.needs.decision import CannotServe, Decision, Judged, Serving
from barrowful.needs.doses import SLACK_SHARE, last_of
from barrowful.needs.feed_anew import feed_anew
from barrowful.needs.feed_balance import net_when_fed, still_wanted
from barrowful.needs.feed_jointly import JointMeal
from barrowful.needs.feed_joints import joints_of
from barrowful.needs.feed_rows import feed_manners
from barrowful.needs.feed_short import Short
from barrowful.needs.given import Given, net_of
from barrowful.needs.harvests import is_late
from barrowful.needs.kind import NeedKind
from barrowful.needs.meal import Fed, Meal, share_given, sizing, unwanted_nitrogen, wanted_by
from barrowful.needs.rows import Asked, Manner
from barrowful.needs.settled import Settled
from barrowful.site.carried import Carried
from barrowful.site.needs import Feed
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.soil.response import response_of
from barrowful.soil.seasons import crop_of, feeding_from, growing_seasons, season_end, season_of
from barrowful.supplies.joint import Joint, Source
from barrowful.supplies.lot import YEAR
from barrowful.supplies.supply import Supply


class Feeding(NeedKind[Feed]):
    """Nitrogen, phosphorus, potassium for each season; nitrogen, or else the first wanted, sizes the dose."""

    kind = "feed"
    jobs = "feed", "feed"
    by_season = True
    mixes = True
    leans = True
    hazard_words = NeedKind.hazard_words | {"bulky feed"}
    figures = ("density", "moisture")

    def bears(self, place: Place) -> object:
        return beside_humus(place, self.kind)

    def nutrients_wanted(self, place: Place) -> Mapping[str, float]:
        """Return the nutrients [kg] that a place wants in each season."""
        return wanted_by(place, self.of(place))

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the first season's dose in spring, whatever ceilings there are."""
        need, net = self.of(place), net_when_fed(site, place)
        nutrient = sizing(need)
        lacking = max(0.0, wanted_by(place, need)[nutrient] - net[nutrient])
        response = response_of(material, site.climate, place.soil, need.dug)
        dry = dry_dose_for(lacking, share_given(material, response, nutrient, "spring"))
        return material.loose_of(material.wet_of(dry))

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        brings = not still_wanted(site, place, material, loose)
        return brings and self._fits_in(site, place, material, loose)

    def may_serve_in_part(self, site: Site, place: Place, material: Material) -> bool:
        """Say whether a material would meet the nutrient that sizes a feed, whatever it leaves wanted."""
        try:
            self.fit(place, material)
            return self._fits_in(site, place, material, self.bare_loose(site, place, material))
        except CannotServe:
            return False

    def _fits_in(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        """Say whether a dose [m3] is let on, and gives no more nitrogen than is wanted."""
        need = self.of(place)
        response = response_of(material, site.climate, place.soil, need.dug)
        gives = (
            net_when_fed(site, place)["nitrogen"] + material.dry_mass(loose) * response.nitrogen(1).per_dry
        )
        most_of_it = max(mass_on(place.total_area, need.nitrogen), unwanted_nitrogen(place))
        return gives <= most_of_it * (1 + SLACK_SHARE) and super()._would_do(site, place, material, loose)

    def hazards(self, dose: Application) -> Iterator[str]:
        yield from super().hazards(dose)
        if dose.material.sort.bulky and not dose.place.limits.farm:
            yield "bulky feed"

    def until(self, site: Site) -> date:
        return YEAR.after(site.start)

    def deadline(self, site: Site) -> str:
        return "in the first season"

    def decide(
        self, site: Site, places: Sequence[Place], source: Source, settled: Settled | None = None
    ) -> Decision:
        """Return what each place is fed; where several ways run short, none takes what others need."""
        decision = super().decide(site, places, source, settled)
        if decision.feasible or len(source.parts) == 1 or not source.limited:
            return decision
        return Short(self, site, places, source, settled or Settled(site)).best(decision)

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the doses of every season within the horizon, each sized by what is lacking in it.

        Where that leaves another nutrient wanted and more of the way is let on and brings it, more is given.
        """
        stock = beside.stock(supply)
        _check_horizon(site, place, supply, stock.lots.first)
        before = stock.state
        given = Given(site, place, beside.there(place))
        meal = Meal(site, place, self.of(place), supply, beside, given)
        meal.gives(meal.nutrient, "spring")
        feeds = [meal.of_season(number) for number in seasons_of(site, place)]
        begins = stock.lots.first
        waits = begins is not None and beside.day is None and begins > season_end(site, 0)
        comes = f"; it first comes on {begins}" if waits else ""
        serving = _serving(site, meal, feeds, comes)
        if serving.met:
            return serving
        taken = stock.state
        stock.put_back(before)
        more = self.serve_jointly(site, place, supply, beside)
        if not more.met:
            stock.put_back(taken)
        return more if more.met else serving

    def serve_jointly(self, site: Site, place: Place, source: Source, beside: Settled) -> Serving:
        """Return the doses of every season: the least costly amounts that meet what is lacking."""
        for supply in source.parts:
            _check_horizon(site, place, supply, beside.stock(supply).lots.first)
        meal = JointMeal(site, place, self.of(place), source, beside)
        return _serving(site, meal, [meal.of_season(number) for number in seasons_of(site, place)])

    def manners(self, asked: Asked) -> list[Manner]:
        """Return the manners of feeding a place: every nutrient, and no more nitrogen than is wanted."""
        return feed_manners(asked, self.of(asked.place))

    def joints(
        self, site: Site, places: Sequence[Place], ways: Sequence[Supply[Any]], beside: Settled | None = None
    ) -> list[Joint]:
        """Return the ways that together bring what some place lacks, those first that may cost least."""
        return joints_of(site, places, ways, beside or Settled(site))

    def carried_on(self, old: Site, new: Site, place: Place) -> Carried:
        """Return the feed of a tree with its age on the new start; a trunk is to be measured."""
        need = self.of(place)
        told = f"{place.name}: the trunk may be thicker by now; measure it" if need.trunk is not None else ""
        if need.age is None:
            return Carried(told=told)
        age = need.age + years_between(old.start, new.start)
        return Carried(keys={"age": f"{round(age, 1):g} years"}, told=told)

    def anew(self, ask: Anew) -> Sized:
        """Return the doses of every season, each sized by what is lacking in it."""
        return feed_anew(ask, self.of(ask.place))

    def judge(self, site: Site, place: Place, doses: Sequence[Application]) -> Judged:
        """Return how far all that is put on a place feeds it, season by season."""
        need, there = self.of(place), [*done(site, place), *doses]
        wanted = wanted_by(place, need)
        seasons = seasons_of(site, place)
        feeds = [Fed(lacking=0.0, credit=0.0) for _ in seasons]
        late = [season_of(site, dose.day) if is_late(site, dose) else None for dose in there]
        for number, fed in zip(seasons, feeds, strict=True):
            in_time = [dose for dose, season in zip(there, late, strict=True) if season != number]
            fed.judge(wanted, net_of(site, place, in_time, number), season_end(site, number))
        worst, shares = next((fed for fed in feeds if fed.why_not), None), [fed.share for fed in feeds]
        if worst:
            return Judged(_mean(shares), worst.why_not + _on_average(shares))
        first_to = season_end(site, seasons[0])
        first = [dose for dose in doses if dose.kind == self.kind and dose.day <= first_to]
        return Judged(1.0, ready_on=last_of(site, first), first_to=first_to)

    def _shortage(self, site: Site, supply: Supply[Any], servings: Sequence[Serving]) -> str:
        short = super()._shortage(site, supply, servings)
        seasons = max((len(seasons_of(site, serving.place)) for serving in servings), default=1)
        area = sum(serving.place.total_area for serving in servings)
        if not short or seasons == 1 or not area:
            return short
        met = sum(serving.share * serving.place.total_area for serving in servings) / area
        return f"{short}; {_over_all(seasons, met)}"


def _serving(site: Site, meal: Meal | JointMeal, feeds: Sequence[Fed], comes: str = "") -> Serving:
    """Return what a place is fed in its seasons."""
    first, worst = feeds[0], next((fed for fed in feeds if fed.why_not), None)
    return Serving(
        place=meal.place,
        doses=tuple(first.doses),
        later=tuple(dose for fed in feeds[1:] for dose in fed.doses),
        why_not=worst.why_not + _on_average([fed.share for fed in feeds]) + comes if worst else "",
        hopeless=first.hopeless,
        share=_mean([fed.share for fed in feeds]) if worst else 1.0,
        ceiling=worst.ceiling if worst else "",
        possible=worst.given if worst else None,
        short=first.short,
        ready_on=None if worst else max((dose.day for dose in first.doses), default=site.start),
        times_needed=_times(first),
        binding=meal.nutrient if first.doses else "",
        credit=max(0.0, first.credit),
    )


def seasons_of(site: Site, place: Place) -> tuple[int, ...]:
    """Return the numbers of the growing seasons in which a place is fed."""
    return growing_seasons(site, crop_of(place))


def _check_horizon(site: Site, place: Place, supply: Supply[Any], first_lot: date | None) -> None:
    """Refuse to feed a season that begins after the horizon, or with what comes after it."""
    begins, end = feeding_from(site.hemisphere, site.start, crop_of(place)), site.end
    if begins > end:
        raise CannotServe(f"the season to be fed begins on {begins}, after the horizon ends on {end}")
    if first_lot is None or first_lot > end:
        raise CannotServe(supply.note or f"brings nothing before the horizon ends on {end}")


def _mean(shares: Sequence[float]) -> float:
    return sum(shares) / len(shares)


def _on_average(shares: Sequence[float]) -> str:
    """Return what is met over all seasons, to add to what is met in one; nothing where all are alike."""
    if len({f"{share:.0%}" for share in shares}) == 1:
        return ""
    return f"; {_over_all(len(shares), _mean(shares))}"


def _over_all(seasons: int, share: float) -> str:
    return f"on average over {seasons} seasons {share:.0%} is met"


def _times(fed: Fed) -> float | None:
    """Return how many times what came in the first season would have done; None where enough came."""
    if fed.short <= 0 or not fed.given:
        return None
    return (fed.given + fed.short) / fed.given
