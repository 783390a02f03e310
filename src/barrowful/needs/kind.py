"""What every kind of need has in common: the figures it takes, how much it wants, how lots meet it."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any, Generic, TypeVar, cast

from barrowful.catalogue.ceilings import room_again, stops_at
from barrowful.catalogue.materials import Material
from barrowful.ground import amount
from barrowful.needs.anew import Anew, Sized
from barrowful.needs.ceilings import unsuited
from barrowful.needs.decision import CannotServe, Decision, Judged, Serving, not_suited, of_servings, refused
from barrowful.needs.doses import DUST, SLACK_SHARE, Taken, dose_for, last_of, most_at_once
from barrowful.needs.earliest import Earliest
from barrowful.needs.hazards import WORDS, hazards_of
from barrowful.needs.rows import LET_OFF, Asked, Manner, Row
from barrowful.needs.settled import Settled
from barrowful.needs.turns import served_in_turn
from barrowful.site.carried import AS_IT_IS, Carried
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.joint import Joint, Source
from barrowful.supplies.supply import Supply

NeedRecord = TypeVar("NeedRecord", bound=Need)


class NeedKind(ABC, Generic[NeedRecord]):
    """A kind of need; one object of it stands in the registry for all needs of the kind."""

    kind: str  #: the word of the site file
    jobs = "spread", "spread"  #: the words for putting its stuff on, first and to keep it met
    #: Figures a material must have to serve it.
    figures: tuple[str, ...]
    hazard_words = WORDS  #: the conditions of cautions that :meth:`hazards` may name
    counts_later = False  #: may what goes on for needs that are settled after it meet it?
    takes_soil = False  #: does stuff that holds hardly any organic matter serve it?
    not_followed = ""  #: a sentence on what a course does not follow of it; nothing where it follows all
    by_season = False  #: is it for one growing season after another, and late after its own?
    is_kept_up = False  #: is it met only while it is kept up, from when it is first met to the horizon?
    makes_ground = False  #: does it make the ground itself, so that it shares no dose with other needs?
    goes_on_once = False  #: does all of it go on on a day that is written?
    part_comes_last = False  #: is a part of it of little use, so that all else has its part first?
    mixes = False  #: may several ways serve it jointly?
    leans = False  #: may what several ways share go by what each counts, and not by its price?

    def of(self, place: Place) -> NeedRecord:
        """Return a place's need of this kind, which must be there."""
        need = place.need(self.kind)
        assert need is not None, f"{place.name} has no {self.kind}"
        return cast(NeedRecord, need)

    def check(self, material: Material) -> None:
        """Refuse a material that is no stuff for the need, or lacks a figure that it takes."""
        if material.sort.mineral and not self.takes_soil:
            raise CannotServe(f"{material.name} counts as soil, which fills and serves no other need")
        if lacking := material.lacks(*self.figures):
            raise CannotServe(f"{material.name} has no figure for {', '.join(lacking)}")

    def bears(self, place: Place) -> object:
        """Return all of a place that bears on what each square metre gets for the need."""
        return place.sort

    def volume(self, place: Place) -> float | None:
        """Return the place's own geometry [m3], all of its count, where stuff is to take it up."""
        return None

    def nutrients_wanted(self, place: Place) -> Mapping[str, float]:
        """Return the nutrients [kg] that a place wants in each season, where the need is of nutrients."""
        return {}

    @abstractmethod
    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the loose volume [m3] a place wants of a material, without the need's allowance.

        What lies there or is still to come is taken off. Raises :class:`CannotServe`.
        """

    def loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the loose volume [m3] a place, all of its count, wants of a material."""
        return amount.with_allowance(self.bare_loose(site, place, material), self.of(place).allowance)

    def sizing(self, site: Site, place: Place, supply: Supply[Any]) -> list[Application]:
        """Return the doses by which it is told how much a place wants of a supply, whenever it comes."""
        return [dose_for(place, self.of(place), supply, site.start, self.size(site, place, supply))]

    def size(self, site: Site, place: Place, supply: Supply[Any]) -> float:
        """Return the loose volume [m3] a place wants of a supply, whenever it comes."""
        self.fit(place, supply.material)
        return self.loose(site, place, supply.material)

    def fit(self, place: Place, material: Material) -> None:
        """Refuse a material that does not suit the need, or lacks a figure that it takes."""
        if because := self.why_unsuited(place, material):
            raise CannotServe(because)
        self.check(material)

    def why_unsuited(self, place: Place, material: Material) -> str:
        """Return why a material does not suit the place's need at all, or nothing."""
        return unsuited(place, self.of(place), material)

    def is_met(self, site: Site, place: Place) -> bool:
        """Say whether a place's need is met before anything is put on: then nothing is, whatever there is.

        Raises :class:`CannotServe` where nothing that is put on could meet it.
        """
        return False

    def least_share(self, place: Place, material: Material) -> float:
        """Return the least share of what it wants that a material must be to serve it beside others."""
        return 1.0

    def is_missing(self, place: Place, there: Sequence[Material], material: Material) -> bool:
        """Say whether a material would add what the ways of a site do not bring for a place."""
        return True

    def may_serve(self, site: Site, place: Place, material: Material) -> bool:
        """Say whether a material would meet a place's need at once and within the ceilings."""
        try:
            self.fit(place, material)
            return self._would_do(site, place, material, self.bare_loose(site, place, material))
        except CannotServe:
            return False

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        """Say whether a loose volume [m3] of a material would do, and is let on."""
        left = Settled(site).room(place, self.of(place), material).left(site.start.toordinal())
        return loose <= left * place.total_area * (1 + SLACK_SHARE)

    def until(self, site: Site) -> date:
        """Return the last day on which a dose still serves."""
        return site.end

    def deadline(self, site: Site) -> str:
        """Return the words for that day."""
        return f"by {self.until(site)}"

    def shortfall(self, doses: Sequence[Application]) -> str:
        """Return what to add where the doses fall short."""
        return ""

    def hazards(self, dose: Application) -> Iterator[str]:
        """Yield the conditions of cautions that hold for a dose for this need."""
        yield from hazards_of(dose)

    def decide(
        self, site: Site, places: Sequence[Place], source: Source, settled: Settled | None = None
    ) -> Decision:
        """Return what each place gets of a way, or of several, each in its turn, beside what is settled."""
        beside = settled.branch() if settled else Settled(site)
        by_place = served_in_turn(
            places, source, beside, lambda place: self.suited(site, place, source, beside)
        )
        servings = [by_place[place.name] for place in places]
        [supply, *others] = source.parts
        return of_servings(servings, site.start, "" if others else self._shortage(site, supply, servings))

    def suited(self, site: Site, place: Place, source: Source, beside: Settled) -> Serving:
        """Return what a place gets of a way, or of several, nothing of what does not suit it.

        Of what has no end, or is used up, each square metre of equal ground gets the same: it is worked out
        once.
        """
        if beside.shares_out(source) or self.makes_ground or not place.total_area:
            return self._suited(site, place, source, beside)
        key = self.kind, source.key, beside.spares, beside.sort(place, self.bears)
        if key not in beside.known:
            beside.known[key] = self._suited(site, place, source, beside)
        return self.of_size(site, beside.known[key], place, source)

    def _suited(self, site: Site, place: Place, source: Source, beside: Settled) -> Serving:
        without = self.without_doses(site, place, source)
        if without is not None:
            return without
        [supply, *others] = source.parts
        if others:
            return self.serve_jointly(site, place, source, beside)
        return self.serve(site, place, supply, beside)

    def without_doses(self, site: Site, place: Place, source: Source) -> Serving | None:
        """Return what a place gets whose need is met already, or that the stuff cannot serve; else None.

        What does not suit is told as such, whatever figures it lacks.
        """
        try:
            if self.is_met(site, place):
                return Serving(place=place, ready_on=site.start)
            barred = (self.why_unsuited(place, material) for material in source.materials)
            if because := next(filter(None, barred), ""):
                return not_suited(place, because)
            for material in source.materials:
                self.check(material)
        except CannotServe as refusal:
            return refused(place, str(refusal))
        return None

    def of_size(self, site: Site, serving: Serving, place: Place, source: Source) -> Serving:
        """Return what equal ground of another size gets of the same."""
        because, stuff = serving.why_not, source.materials[0]
        other = place is not serving.place
        if other and serving.short and because == self.too_little(site, stuff, serving.short):
            because = self.too_little(site, stuff, serving.short * serving.times_on(place))
        return serving.on(place, self.of(place), because)

    @abstractmethod
    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return what a place gets of a supply, which is taken from its stock."""

    def serve_jointly(self, site: Site, place: Place, source: Source, beside: Settled) -> Serving:
        """Return what a place gets of several ways together, taken from their stocks."""
        raise CannotServe("ways serve it one by one")

    def joints(
        self, site: Site, places: Sequence[Place], ways: Sequence[Supply[Any]], beside: Settled | None = None
    ) -> list[Joint]:
        """Return the ways that may serve places jointly beside what is settled, the most promising first."""
        return []

    @abstractmethod
    def anew(self, ask: Anew) -> Sized:
        """Return the loose volumes [m3] that meet a need as some doses likely did, draw by draw."""

    def judge(self, site: Site, place: Place, doses: Sequence[Application]) -> Judged:
        """Return how far doses that are decided for a place meet its need, as much as there is of each.

        Raises :class:`CannotServe` where one cannot serve it.
        """
        if self.is_met(site, place):
            return Judged(1.0, ready_on=site.start)
        own = [dose for dose in doses if dose.kind == self.kind]
        share = sum(self.share_of(site, dose) for dose in own)
        return Judged.of(share, self.gets_to(site, place, share), last_of(site, own))

    def gets_to(self, site: Site, place: Place, share: float) -> str:
        """Return how far a share of what is wanted gets, where it is not enough."""
        return f"{share:.0%} of what is wanted"

    def manners(self, asked: Asked) -> list[Manner]:
        """Return the manners in which a plan may meet a place's need: by all there is of its own portions."""
        if self.is_met(asked.site, asked.place):
            return [Manner()]
        last, of_need = asked.last(self.kind), dict(asked.of(self.kind))
        own = {number: self.share_of(asked.site, asked.dose(number)) for number in of_need}
        late = {number for number, of in of_need.items() if of.number > last}
        return [Manner(rows=(Row(own, least=1 - LET_OFF),), without=asked.put_off(self.kind, last) | late)]

    def at_once(self, place: Place) -> float:
        """Return the most [m3] that may go on a place for it at one time."""
        return most_at_once(place, self.of(place))

    def begins_on(self, serving: Serving) -> date:
        """Return the last day that a plan need wait for to meet a need as a serving does."""
        return max(dose.day for dose in serving.doses)

    def share_of(self, site: Site, dose: Application) -> float:
        """Return the share that a dose is of all its place wants of the stuff."""
        whole = self.loose(site, dose.place, dose.material)
        return dose.loose / whole if whole > 0 else 1.0

    def share_settled(self, site: Site, place: Place, beside: Settled) -> float:
        """Return the share of a need that is settled for it already, by other lines of a plan."""
        own = [dose for dose in beside.on(place) if dose.kind == self.kind]
        return min(1.0, sum(self.share_of(site, dose) for dose in own))

    def carried_on(self, old: Site, new: Site, place: Place) -> Carried:
        """Return what becomes of a need when a ``new`` season begins: it stays where nothing is said."""
        return AS_IT_IS

    def _shortage(self, site: Site, supply: Supply[Any], servings: Sequence[Serving]) -> str:
        """Return what a supply brings and how much is short where it brings too little, or nothing."""
        short = sum(serving.short for serving in servings)
        if short <= DUST or any(serving.ceiling for serving in servings):
            return ""
        doses = [dose for serving in servings for dose in serving.doses]
        given = supply.material.told(sum(dose.loose for dose in doses))
        note = f"; {supply.note}" if supply.note else self.shortfall(doses)
        return f"brings {given}, {self.too_little(site, supply.material, short)}{note}"

    def earliest(
        self, site: Site, place: Place, supply: Supply[Any], beside: Settled, wanted: float
    ) -> Taken:
        """Return the parts [m3] of what is wanted that come of the earliest lots, within the ceilings.

        It is wanted on the day of the first lot.
        """
        return Earliest(site, place, self.of(place), supply, beside, self.until(site)).taken(wanted)

    def why_short(self, site: Site, stuff: Material, parts: Taken) -> str:
        """Return why the parts that are taken do not do."""
        if parts.ceiling:
            return stops_at(parts.ceiling) + room_again(parts.again, site.end)
        return self.too_little(site, stuff, parts.lacking)

    def too_little(self, site: Site, stuff: Material, lacking: float) -> str:
        """Return how much [m3] of a stuff is lacking, and by when."""
        return f"{stuff.told(lacking)} short {self.deadline(site)}"
