"""Rows of several ways together: which of the ways that may serve a kind of need jointly are worth a row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from barrowful.answers.known import Known
from barrowful.answers.option import Option, total_cost, worth
from barrowful.needs.decision import Decision, in_turn
from barrowful.needs.registry import NEEDS, decide
from barrowful.site.records import Place, Site
from barrowful.supplies.joint import Joint
from barrowful.supplies.supply import Supply

#: Joint rows kept, beside those shown, for the search for the cheapest of all needs: a setting of it.
MOST_SPARE = 3
#: Places times joints that are worked out in any case and at most, rows that will do in between, and places
#: that are tried first where there are many: settings of the search.
MOST_IN_FULL, MOST_WORKED_OUT, ENOUGH, MOST_TRIED = 300, 3_000, 2, 6


class JointRows(NamedTuple):
    """Joint rows of a kind of need: those that are shown, and more for where other needs come first."""

    shown: tuple[Option, ...] = ()
    spare: tuple[Option, ...] = ()


def joint_rows(known: Known, kind: str, ways: Mapping[str, Supply[Any]], among: Sequence[Place]) -> JointRows:
    """Return the cheapest ways together that meet a kind of need in some places, and next for what is left.

    Each is worked out to its whole cost. They come in the order of what they cost at least in the first
    season; a few that meet the need everywhere will do.
    """
    site, places = known.site, [place for place in among if place.need(kind) is not None]
    rows, worked_out = list[Option](), 0
    for joint in NEEDS[kind].joints(site, places, list(ways.values())) if places else ():
        whole = sum(row.feasible and len(row.places) == len(places) for row in rows)
        if whole and (joint.at_best < len(places) or (whole >= ENOUGH and worked_out >= MOST_IN_FULL)):
            break
        row = _row(known, kind, joint, places)
        worked_out += len(places)
        if row is not None:
            rows.append(row)
        if worked_out > MOST_WORKED_OUT:
            break
    return _worth_a_row(site, rows)


def _row(known: Known, kind: str, joint: Joint, among: Sequence[Place]) -> Option | None:
    """Return the row of ways that serve jointly; None where no place is met, or one brings nothing."""
    places = [place for place in among if joint.serves(place, kind)]
    if not places or known.is_hopeless(kind, places, joint) or not _any_met(known.site, kind, joint, places):
        return None
    decision = known.decision(kind, places, joint)
    used = {dose.way for dose in decision.every_dose}
    if not _met(decision) or len(used) < len(joint.parts):
        return None
    return known.option(kind, places, joint, decision)


def _any_met(site: Site, kind: str, joint: Joint, places: Sequence[Place]) -> bool:
    """Say whether ways together meet the need of some place; of many a few, small to large, are tried."""
    if len(places) <= MOST_TRIED * MOST_TRIED:
        return True
    few = in_turn(places)[:: len(places) // MOST_TRIED]
    return any(of.met for place in few for of in decide(site, kind, [place], joint).servings)


def _worth_a_row(site: Site, rows: Sequence[Option]) -> JointRows:
    """Return the rows that meet most places, the cheapest of them first, each for places not met before.

    Spare are those that cost least for each place they meet.
    """
    left, shown, served = list(rows), list[Option](), set[str]()

    def cost(row: Option) -> float:
        return float(total_cost(row.cash, row.hours, site.labour.hourly_value))

    def better(row: Option) -> tuple[Any, ...]:
        return -len(_met(row.decision) - served), row.over != "", cost(row), worth(row), row.supply.names

    while left and _met((best := min(left, key=better)).decision) - served:
        shown.append(best)
        left.remove(best)
        served |= _met(best.decision)
    spare = sorted(left, key=lambda row: (cost(row) / len(_met(row.decision)), worth(row), row.supply.names))
    return JointRows(tuple(shown), tuple(spare[:MOST_SPARE]))


def _met(decision: Decision) -> set[str]:
    """Return the names of the places whose need a decision meets."""
    return {of.place.name for of in decision.servings if of.met}
