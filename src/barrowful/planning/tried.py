"""What may be the plan: what a search found, the rows of options, and one with what is left of the other."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import NamedTuple

from barrowful.answers.choices import whole_site
from barrowful.answers.options import Answer
from barrowful.planning.proof import Proved, lines_of_parts, proved


class Tried(NamedTuple):
    """What may be the plan, with the row of options that it is, or whose lines meet the ``rest``."""

    title: str
    proved: Proved
    rest: bool = False


def rank_of(found: Tried) -> tuple[int, float, float, date, bool]:
    """Return what goes before another by: needs met, cost, hours, the day ready; last come rows."""
    whole = found.proved.whole
    hours, ready = round(whole.bill.hours.compared, 2), whole.ready_on or date.max
    return *found.proved.worth(), hours, ready, found.title != ""


def found_by(answer: Answer, proof: Proved | None) -> list[Tried]:
    """Return what the search found, the rows of options, and what was found with the rest of each row.

    What a row meets and the search does not is done as the row does it, where both go together.
    """
    rows = [Tried(title, row) for title, row in _rows(answer)]
    if proof is None:
        return rows
    found, met = [Tried("", proof), *rows], proof.whole.places_met
    for title, row in _rows(answer):
        if row.whole.places_met - met:
            rest = [line for line in row.lines if (line.need, line.place) not in met]
            joined = proved(answer, [*proof.lines, *rest])
            if not joined.faults:
                found.append(Tried(title, joined, rest=True))
    return found


@lru_cache(maxsize=8)
def _rows(answer: Answer) -> tuple[tuple[str, Proved], ...]:
    """Return the whole-site rows of options that are sound as plans, by title; once for an answer."""
    rows = [row for row in whole_site(answer.with_plan(())) if row.together.parts and not row.over]
    proofs = [(row.title, proved(answer, lines_of_parts(row.together.parts))) for row in rows]
    return tuple(each for each in proofs if not each[1].faults)
