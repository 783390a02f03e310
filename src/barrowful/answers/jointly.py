"""Rows of several ways together: which of the ways that may serve a kind of need jointly are worth a row."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from barrowful.answers.known import Known
from barrowful.answers.leaning import Leaning, leanings
from barrowful.answers.option import Option, first_among_equals, total_cost, worth
from barrowful.needs.decision import Decision, in_turn
from barrowful.needs.registry import NEEDS, decide
from barrowful.needs.settled import Settled
from barrowful.site.records import Place, Site
from barrowful.supplies.joint import Joint
from barrowful.supplies.supply import Supply

#: Joint rows kept, beside those shown, for the search for the cheapest of all needs: the cheapest for each
#: place, and those that meet most. More, or other amounts of the same, are more than it gets through.
MOST_SPARE, MOST_WIDE = 3, 1
#: Rows of each need settled before that ways are looked for beside: a setting of the search.
MOST_BESIDE = 2
#: Places times joints that are worked out in any case and at most, rows that will do in between, and places
#: that are tried first where there are many: settings of the search.
MOST_IN_FULL, MOST_WORKED_OUT, ENOUGH, MOST_TRIED = 300, 3_000, 2, 6
#: Places up to which, and joints of least cost of which, other amounts than those of least price are looked
#: at: settings of the search.
MOST_LEANING, MOST_LEANT = 20, 4


class JointRows(NamedTuple):
    """Joint rows of a kind of need: those that are shown, and more for where other needs come first."""

    shown: tuple[Option, ...] = ()
    spare: tuple[Option, ...] = ()


def joint_rows(
    known: Known,
    kind: str,
    ways: Mapping[str, Supply[Any]],
    among: Sequence[Place],
    before: Sequence[Option] = (),
) -> JointRows:
    """Return the cheapest ways together that meet a kind of need in some places, and next for what is left.

    Each is worked out to its whole cost. They come in the order of what they cost at least in the first
    season; a few that meet the need everywhere will do.
    """
    site, places = known.site, [place for place in among if place.need(kind) is not None]
    rows, worked_out = list[Option](), 0
    joints = NEEDS[kind].joints(site, places, [*ways.values()]) if places else []
    for number, joint in enumerate(joints):
        whole = len({row.name for row in rows if row.feasible and len(row.places) == len(places)})
        enough = whole >= ENOUGH or (whole and joint.at_best < len(places))
        if enough and worked_out + len(places) > MOST_IN_FULL:
            break
        leans = len(places) <= MOST_LEANING and number < MOST_LEANT
        found = _rows(known, kind, joint, places, leans)
        rows += found
        worked_out += len(places)
        if worked_out > MOST_WORKED_OUT:
            break
    worked = _worth_a_row(known, rows)
    if len(places) > MOST_LEANING or not NEEDS[kind].leans:
        return worked
    names = {joint.name for joint in joints}
    beside = _beside(known, kind, [*ways.values()], places, before, names)
    return worked._replace(spare=(*worked.spare, *(_alone(known, kind, joint, places) for joint in beside)))


def _beside(
    known: Known,
    kind: str,
    ways: Sequence[Supply[Any]],
    among: Sequence[Place],
    before: Sequence[Option],
    names: set[str],
) -> Iterator[Joint]:
    """Yield ways that serve a kind of need jointly beside what the cheapest rows of needs before it bring.

    Or beside what one of these rows brings alone. Those of some ``names`` may serve it anyway.
    """
    site, places = known.site, [place for place in among if len(place.needs) > 1]
    for rows in _rows_before(site, before) if places else ():
        settled = Settled(site)
        settled.put_on(
            dose for row in rows for of in row.decision.servings if of.met for dose in of.every_dose
        )
        joints = NEEDS[kind].joints(site, places, ways, settled)
        for joint in [of for of in joints if of.name not in names][:MOST_SPARE]:
            served = [place for place in places if joint.serves(place, kind)]
            if served and _met(decide(site, kind, served, joint, settled)):
                names = {*names, joint.name}
                yield joint


def _rows_before(site: Site, before: Sequence[Option]) -> list[list[Option]]:
    """Return rows of needs settled before: the cheapest of each together, and some of them by themselves."""
    by_kind: dict[str, list[Option]] = {}
    hourly = site.labour.hourly_value
    for row in sorted(before, key=lambda of: (total_cost(of.cash, of.hours, hourly), first_among_equals(of))):
        if _met(row.decision):
            by_kind.setdefault(row.need, []).append(row)
    cheapest = [rows[0] for rows in by_kind.values()]
    others = [[row] for rows in by_kind.values() for row in rows[:MOST_BESIDE] if [row] != cheapest]
    return [cheapest, *others] if cheapest else []


def _alone(known: Known, kind: str, joint: Joint, among: Sequence[Place]) -> Option:
    """Return the row of ways that serve jointly, whatever they do with nothing beside them."""
    places = [place for place in among if joint.serves(place, kind)]
    return known.option(kind, places, joint, known.decision(kind, places, joint))


def _rows(known: Known, kind: str, joint: Joint, among: Sequence[Place], leans: bool) -> list[Option]:
    """Return the rows of ways that serve jointly, by amounts of least price and by others where it ``leans``.

    There is none where no place is met, or where one way brings nothing.
    """
    places = [place for place in among if joint.serves(place, kind)]
    if not places or known.is_hopeless(kind, places, joint) or not _any_met(known.site, kind, joint, places):
        return []

    def decided(of: Joint) -> Decision:
        return known.decision(kind, places, of)

    tried = [Leaning(joint, decided(joint))]
    if leans and _met(tried[0].decision) and NEEDS[kind].leans:
        tried += leanings(joint, decided)
    several = [of for of in tried if _met(of.decision) and all(of.amounts)]
    unlike = {tuple(f"{loose:.6g}" for loose in of.amounts): of for of in reversed(several)}
    return [known.option(kind, places, of.joint, of.decision) for of in unlike.values()]


def _any_met(site: Site, kind: str, joint: Joint, places: Sequence[Place]) -> bool:
    """Say whether ways together meet the need of some place; of many a few, small to large, are tried."""
    if len(places) <= MOST_TRIED * MOST_TRIED:
        return True
    few = in_turn(places)[:: len(places) // MOST_TRIED]
    return any(of.met for place in few for of in decide(site, kind, [place], joint).servings)


def _worth_a_row(known: Known, rows: Sequence[Option]) -> JointRows:
    """Return the rows that meet most places, the cheapest of them first, each for places not met before."""
    left = [row for row in rows if not (row.supply.weight_of and _one_does(known, row))]
    shown, served = list[Option](), set[str]()

    def better(row: Option) -> tuple[Any, ...]:
        met = len(_met(row.decision) - served)
        return -met, row.over != "", _cost(known, row), *_in_words(row)

    while left and _met((best := min(left, key=better)).decision) - served:
        shown.append(best)
        left = [row for row in left if row.name != best.name]
        served |= _met(best.decision)
    return JointRows(tuple(shown), _spare(known, shown, [row for row in rows if row not in shown]))


def _spare(known: Known, shown: Sequence[Option], rows: Sequence[Option]) -> tuple[Option, ...]:
    """Return rows beside those shown: of least cost for each place, and that meet most."""

    def by_place(row: Option) -> tuple[Any, ...]:
        return _cost(known, row) / len(_met(row.decision)), *_in_words(row)

    rest = sorted(rows, key=by_place)
    spare = _first_of_each(rest, {row.name for row in shown}, MOST_SPARE)
    widest = sorted(rest, key=lambda row: -len(_met(row.decision)))
    spare += _first_of_each(widest, {row.name for row in (*shown, *spare)}, MOST_WIDE)
    return tuple(spare)


def _cost(known: Known, row: Option) -> float:
    return float(total_cost(row.cash, row.hours, known.site.labour.hourly_value))


def _one_does(known: Known, row: Option) -> bool:
    """Say whether one of the ways of a row does all that they do together for no more."""
    met = _met(row.decision)
    for part in row.supply.parts:
        decision = known.decision(row.need, row.places, part)
        if met <= _met(decision):
            alone = known.option(row.need, row.places, part, decision)
            if _cost(known, alone) <= _cost(known, row):
                return True
    return False


def _first_of_each(rows: Sequence[Option], but: Collection[str], most: int) -> list[Option]:
    """Return the first row of each of some ways together, but for those of some names."""
    first = {row.name: row for row in reversed(rows) if row.name not in but}
    return [row for row in rows if first.get(row.name) is row][:most]


def _in_words(row: Option) -> tuple[Any, ...]:
    """Return what tells a row from any other of the same cost, whatever the order of the file."""
    assert isinstance(row.supply, Joint)
    return worth(row), row.supply.words


def _met(decision: Decision) -> set[str]:
    """Return the names of the places whose need a decision meets."""
    return {of.place.name for of in decision.servings if of.met}
