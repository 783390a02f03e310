"""Who gets what where there is too little for all: of a stock, a heap, a crop, or within a limit."""

from __future__ import annotations

from barrowful.answers.choices import PLAN, WholeSite
from barrowful.answers.option import Option
from barrowful.answers.would_do import would_do
from barrowful.ground.amount import depth
from barrowful.measures.fixed import fixed
from barrowful.needs.decision import CannotServe, Serving, in_turn
from barrowful.needs.registry import NEEDS
from barrowful.needs.turns import useful_depth
from barrowful.site.records import Place
from barrowful.supplies.joint import Source

#: What is lacking is no more than rounding leaves over [m3].
DUST = 1e-6


@fixed
class Allotment:
    """What a place wants of a way that there is too little of, and what it gets of it: loose volumes [m3].

    ``layer`` is how deep what it gets lies, as spread [m]; ``useful`` the thinnest layer worth spreading [m].
    """

    need: str
    way: str
    place: Place
    wanted: float | None
    given: float
    layer: float | None
    useful: float
    why: str

    @property
    def short(self) -> float | None:
        """Return what is lacking [m3]; None where it is not known what is wanted."""
        return None if self.wanted is None else max(0.0, self.wanted - self.given)


def allotments(whole: WholeSite) -> list[Allotment]:
    """Return what each place gets of each way that there is too little of, in the order they draw on it."""
    return [of for kind in whole.unmet for of in _Shortage(whole, kind).allotments()]


class _Shortage:
    """What there is too little of for one kind of need."""

    def __init__(self, whole: WholeSite, kind: str) -> None:
        self.whole, self.kind, self.answer = whole, kind, whole.together.answer
        self.left_out = set(whole.places_left_out(kind))
        #: What each place would get by itself, by its name, with the row it stands in.
        self.alone: dict[str, list[tuple[Option, Serving]]] = {}
        #: What each place gets, by its name.
        self.carried: dict[str, list[Serving]] = {}
        for row in whole.rows(kind):
            for of in row.decision.servings:
                self.alone.setdefault(of.place.name, []).append((row, of))
        for part in whole.together.parts:
            for of in part.decision.servings if part.need == kind else ():
                self.carried.setdefault(of.place.name, []).append(of)

    def allotments(self) -> list[Allotment]:
        """Return what each place gets of each way that there is too little of."""
        places = in_turn(self.answer.site.places_with(self.kind))
        lacking = {place.name: self._lacking(place.name) for place in places if place.name in self.left_out}
        ways = dict.fromkeys(way for way, _ in lacking.values() if way)
        return [
            self._allotment(way, place, why if own == way else "")
            for way in ways
            for place in places
            for own, why in [lacking.get(place.name, ("", ""))]
            if own == way or self._given(way, place)
        ]

    def _lacking(self, place: str) -> tuple[str, str]:
        """Return the way that would serve a place if there were more of it, money or hours, and what lacks.

        It is the one that serves it in part; else the first that would serve it alone, but not within the
        limits or beside the rest; else what brings too little and comes nearest; else none.
        """
        for part in self.carried.get(place, ()):
            for dose in part.every_dose:
                if self.answer.supplies[dose.way].limited:
                    return dose.way, part.why_not
        if place in self.carried or self.whole.title == PLAN:
            return "", ""
        would = next((row for row, of in self.alone.get(place, ()) if of.met), None)
        if would is not None:
            return would.name, would_do(self.whole.together, self.whole.bill, [would])
        short = [(row, of) for row, of in self.alone.get(place, ()) if _is_short(row.supply, of)]
        if not short:
            return "", ""
        nearest, serving = max(short, key=lambda pair: pair[1].share)
        return nearest.name, serving.why_not

    def _given(self, way: str, place: Place) -> float:
        """Return what a place gets of a way, or of several, to meet the need first [m3]."""
        names = self.answer.source(way).names
        doses = (dose for of in self.carried.get(place.name, ()) for dose in of.doses)
        return sum(dose.loose for dose in doses if dose.way in names)

    def _allotment(self, way: str, place: Place, why: str) -> Allotment:
        given, source = self._given(way, place), self.answer.source(way)
        as_sold = any(part.material.sort.as_sold for part in source.parts)
        left_out = place.name in self.left_out
        return Allotment(
            need=self.kind,
            way=way,
            place=place,
            wanted=self._wanted(source, place, given) if left_out else given,
            given=given,
            layer=depth(given, place.total_area) if place.total_area and not as_sold else None,
            useful=useful_depth(place),
            why=why,
        )

    def _wanted(self, source: Source, place: Place, given: float) -> float | None:
        """Return what a place wants of a way [m3], whenever it comes; no less than what it gets."""
        [supply, *others] = source.parts
        if others:
            return None
        try:
            return max(given, NEEDS[self.kind].size(self.answer.site, place, supply))
        except CannotServe:
            return None


def _is_short(source: Source, serving: Serving) -> bool:
    """Say whether a place is not served because a source brings too little."""
    more_would_do = serving.times_needed is not None and serving.times_needed > 1
    return source.limited and not serving.ceiling and (serving.short > DUST or more_would_do)
