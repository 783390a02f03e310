"""What a plan asks of amounts so that a cover has its depth on a first day and is kept up from then on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import inf

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.ground.amount import depth
from barrowful.needs.ceilings import within
from barrowful.needs.cover_depth import deepest_cover, layer_sort
from barrowful.needs.layers import Layers, covers, is_laid, settled_depth, share_of_depth, stays
from barrowful.needs.rows import LET_OFF, Asked, Manner, Portion, Row
from barrowful.site.needs import Cover
from barrowful.soil.history import done


def cover_manners(asked: Asked, need: Cover) -> list[Manner]:
    """Return a manner for each day on which the cover may have its depth first.

    What lies on top covers, whatever need it is for; it is looked at before anything is put on, and on
    the eve of the last day, as it only falls between.
    """
    stuffs = list(dict.fromkeys(of.material for _, of in asked.of(need.kind)))
    put_on, not_too_deep = _PutOn(asked, need), tuple(_not_too_deep(asked, need))
    every = _manners(_Lying(put_on, stuffs), not_too_deep)
    if not asked.place.layer_now:
        return every
    if len(stuffs) > 1:
        # nobody knows what a stated layer is: it goes as the stuff put on first, here the only one
        every += [of for stuff in stuffs for of in _manners(_Lying(put_on, [stuff]), not_too_deep)]
    logged = any(covers(dose) for dose in done(asked.site, asked.place))
    if not logged and any(stays(asked.site, asked.place, need, stuff) for stuff in stuffs):
        start = asked.site.start.toordinal()
        every.append(Manner(without=frozenset(put_on.shares), ready_on=start))
    return every


def _manners(lying: _Lying, not_too_deep: tuple[Row, ...]) -> list[Manner]:
    """Return a manner for each first day, with what is put on for the cover among some stuffs alone."""
    asked, need = lying.asked, lying.need
    start, last, end = asked.site.start.toordinal(), asked.last(need.kind), asked.site.end.toordinal()
    # a top-up on the last day would keep nothing up
    at_the_end = frozenset(number for number, of in asked.of(need.kind) if start < end <= of.number)
    first = sorted({start, *(asked.portions[number].number for number in lying.put_on.shares)})
    eve = asked.site.eve.toordinal()
    looked_at = sorted({eve, *(day - 1 for day in first if start < day <= eve)})
    laid = lying.is_laid(start)
    shares = {day: need.keep if laid and day == start else 1.0 for day in first}
    not_too_deep = (*not_too_deep, *lying.no_deeper(1 + judgement("cover_beyond")))
    every = [
        Manner(
            rows=(
                *lying.at_least(day, shares[day]),
                *lying.kept_up(day, shares[day], looked_at),
                *not_too_deep,
            ),
            without=asked.put_off(need.kind, day) | at_the_end | lying.others,
            begins_with=lying.own
            if lying.others or (laid and day == start and asked.place.layer_now)
            else (),
            ready_on=day,
        )
        for day in first
        if day <= last
    ]
    later = lying.on_one_of(
        [(day, shares[day], manner.without) for day, manner in zip(first, every, strict=False)]
    )
    every = [replace(manner, so_anyway=rows) for manner, rows in zip(every, later, strict=True)]
    return [of for manner in every for of in _with_paper_first(lying, manner)]


def _with_paper_first(lying: _Lying, manner: Manner) -> Iterator[Manner]:
    """Yield a manner without paper, and one in which nothing lies under it: it begins a cover, and tops none.

    On top it blows off, and sheds rain. It is put down as soon ahead of the rest as it can be.
    """
    portions = lying.asked.portions
    paper = {number for number in lying.own if portions[number].material.class_ == "paper"}
    yield replace(manner, without=manner.without | paper)
    by = -1 if manner.ready_on is None else manner.ready_on
    day = max((of for number in paper if (of := portions[number].number) <= by), default=None)
    if day is not None and not lying.lies_there(day):
        later = {number for number in paper if portions[number].number != day}
        before = {number for number in lying.own if portions[number].number < day}
        yield replace(manner, without=manner.without | later | before)


class _PutOn:
    """What portions leave on top of a place, as shares of the depth a cover is to have."""

    def __init__(self, asked: Asked, need: Cover) -> None:
        self.asked, self.need = asked, need
        #: Shares of its depth that each m3 of a portion makes when it is put on.
        self.shares: Mapping[int, float] = {
            number: share_of_depth(asked.site, need, asked.dose(number))
            / (1 + need.allowance if of.kind == need.kind else 1.0)
            for number, of in enumerate(asked.portions)
            if covers(asked.dose(number))
        }
        self._left = dict[int, Mapping[int, float]]()

    def left(self, day: int) -> Mapping[int, float]:
        """Return what is left on a day of each m3 of portions put on by then."""
        if day not in self._left:
            self._left[day] = _left_of(self.asked, self.shares, day)
        return self._left[day]


class _Lying:
    """What lies on top of a place where the cover is of some stuffs alone."""

    def __init__(self, put_on: _PutOn, stuffs: Sequence[Material]) -> None:
        self.put_on, self.asked, self.need = put_on, put_on.asked, put_on.need
        site, place, of_need = self.asked.site, self.asked.place, list(self.asked.of(self.need.kind))
        self.before = [
            (Layers(site, place, (), stuff, need=self.need), settled_depth(self.need, stuff))
            for stuff in stuffs
        ]
        #: The portions for it, of which a layer that was stated and is of unknown stuff takes some.
        self.own = tuple(number for number, of in of_need if of.material in stuffs)
        #: Those for it of other stuffs, which are not put on.
        self.others = frozenset(number for number, _ in of_need) - frozenset(self.own)

    def is_laid(self, day: int) -> bool:
        """Say whether so much lies there on a day already that it is only to be kept up."""
        return is_laid(self.need, self._there(day))

    def lies_there(self, day: int) -> bool:
        """Say whether anything lies there on a day already."""
        return self._there(day) > 0

    def at_least(self, day: int, share: float) -> Iterator[Row]:
        """Yield the row by which so much of the depth lies on a day, where what lies there is not enough."""
        wanted = self._wanted(day, share)
        if wanted > 0:
            yield Row(self.put_on.left(day), least=wanted)

    def no_deeper(self, share: float) -> Iterator[Row]:
        """Yield the rows by which all stuff for it, of all sorts, makes no more than a share of its depth.

        That is so on each day on which some goes on. What lies on top for other needs is let on.
        """
        portions = self.asked.portions
        if len({layer_sort(portions[number].material) for number in self.own}) > 1:
            for day in sorted({portions[number].number for number in self.own}):
                left = self.put_on.left(day)
                each = {number: left[number] for number in self.own if number in left}
                yield Row(each, most=max(0.0, share - self._there(day)))

    def on_one_of(self, every: Sequence[tuple[int, float, frozenset[int]]]) -> list[tuple[Row, ...]]:
        """Return rows for each first day, by which the cover has its depth on one of some of them.

        Each is a day, a share of the depth, and the portions that are not used then. That is so anyway, and
        lets the solver see sooner that halves of several covers are none. What is used makes no more of a
        depth than on the day on which it would make most.
        """
        rows, each = [list[Row]() for _ in every], dict[int, float]()
        for number in reversed(range(1, len(every))):
            day, _, without = every[number]
            used = {of: left for of, left in self.put_on.left(day).items() if of not in without}
            each = {**each, **{of: max(left, each.get(of, 0.0)) for of, left in used.items()}}
            for later in range(number, len(every)):
                wanted = self._wanted(*every[later][:2])
                if wanted > 0:
                    rows[later].append(Row(each, least=wanted))
        return [tuple(of) for of in rows]

    def kept_up(self, first: int, share: float, looked_at: Sequence[int]) -> Iterator[Row]:
        """Yield the rows by which a cover is kept up that has a share of its depth on a first day.

        On the days looked at after it it is there too, and no less of it than the first layer leaves at the
        least: that is so anyway, and lets the solver see sooner what is not to be had.
        """
        whole, lasts = self._wanted(first, share), 1.0
        for day in looked_at:
            if day > first:
                kept = self._kept(day)
                lasts = self._lasts(first, day) if lasts * whole > kept else 0.0
                wanted = max(kept, lasts * whole)
                if wanted > 0:
                    yield Row(self.put_on.left(day), least=wanted)

    def _kept(self, day: int) -> float:
        """Return what is wanted on a day of a cover that is kept up, beside what lies there already."""
        return self.need.keep * (1 - LET_OFF) - self._there(day)

    def _wanted(self, day: int, share: float) -> float:
        """Return what is wanted on a day of a share of the depth, beside what lies there already."""
        return share * (1 - LET_OFF) - self._there(day)

    def _lasts(self, first: int, day: int) -> float:
        """Return the share of what lies on a first day that lies on another at the least."""
        then, now = self.put_on.left(first), self.put_on.left(day)
        return min((now[number] / of for number, of in then.items() if of > 0), default=0.0)

    def _there(self, day: int) -> float:
        """Return the share that what lies there already makes: that of the stuff that makes least of it."""
        return min((layers.on(day) / depth if depth else 1.0 for layers, depth in self.before), default=0.0)


def _left_of(asked: Asked, each: Mapping[int, float], day: int) -> dict[int, float]:
    """Return what is left on a day of portions put on by then, of so much each."""
    return {
        number: share * asked.dose(number).response(asked.site).depth[day - asked.portions[number].number]
        for number, share in each.items()
        if asked.portions[number].number <= day
    }


def _not_too_deep(asked: Asked, need: Cover) -> Iterator[Row]:
    """Yield the rows by which no stuff lies deeper than it may, nor do several of one sort together.

    A layer a little deeper than asked for lasts longer, so that fewer deliveries keep it up.
    """
    place, area, beyond = asked.place, asked.place.total_area, 1 + judgement("cover_beyond")
    sorts: dict[str, dict[int, Portion]] = defaultdict(dict)
    for number, of in asked.of(need.kind):
        sorts[layer_sort(of.material)][number] = of
    for own in sorts.values() if area else ():
        spread, deepest = dict[int, float](), inf
        for number, of in own.items():
            stuff, most = of.material, deepest_cover(place, of.material)
            asked_for = settled_depth(need, stuff)
            deepest = min(deepest, max(within(asked_for, most), min(beyond * asked_for, most)))
            spread[number] = stuff.settled_depth(depth(1.0, area)) / (1 + need.allowance)
        before = Layers(asked.site, place, (), next(iter(own.values())).material, need=need)
        for day in sorted({of.number for of in own.values()}):
            yield Row(_left_of(asked, spread, day), most=max(0.0, deepest - before.on(day)))
