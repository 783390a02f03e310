"""Plans as a grower would write them: lines as text, read again by the reader of site files, carried out."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from barrowful.answers.choices import WholeSite, whole_site, your_plan
from barrowful.answers.options import Answer, options
from barrowful.needs.breaches import breaches
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import Limited
from barrowful.planning.proof import lines_of_parts, proved
from barrowful.site.load import build
from barrowful.site.records import PlanLine, Site
from barrowful.sitefile.text.nodes import parse
from barrowful.sitefile.text.plan import with_plan

DEMO = Path(__file__).parents[2] / "demo"
#: Money comes in cents.
CENT = 0.01


def texts_of(lines: Sequence[PlanLine]) -> list[dict[str, str]]:
    """Return lines of a plan as they are written, amounts to a thousandth of a millilitre or gram."""
    return [_text_of(line) for line in lines]


def _text_of(line: PlanLine) -> dict[str, str]:
    text = {"place": line.place, "need": line.need, "way": line.way}
    if line.amount is not None and line.amount.volume is not None:
        text["amount"] = f"{line.amount.volume:.9f} m3"
    elif line.amount is not None:
        text["amount"] = f"{line.amount.mass:.9f} kg"
    return text | ({"date": str(line.day)} if line.day else {})


def read_again(data: bytes, lines: Sequence[PlanLine]) -> Site:
    """Return the site of a file's bytes once lines stand in it as its plan."""
    return build(with_plan(data, parse(data, "field.yaml"), texts_of(lines))[1]).site


def planned(answer: Answer, limited: Limited | None = None) -> Plan | None:
    """Return the plan of a site within its own limits, or others."""
    return plan_of(answer, limited or Limited.of(answer))


def cost_of(answer: Answer, whole: WholeSite) -> float:
    """Return cash, and hours at their value."""
    return float(whole.bill.cash) + float(answer.site.labour.hourly_value) * whole.bill.hours.compared


def check_carried_out(data: bytes, plan: Plan) -> None:
    """Assert that a plan's lines, written and read again, are what the plan says, and sound."""
    answer = options(read_again(data, plan.lines))
    whole = your_plan(answer)
    assert not breaches(answer.site, whole.together.all_doses)
    assert not plan.proved.faults
    assert not whole.over
    assert whole.places_met == plan.whole.places_met
    assert whole.bill.cash == plan.whole.bill.cash
    assert whole.bill.cash_first_year == plan.whole.bill.cash_first_year
    assert whole.ready_on == plan.whole.ready_on


def longer_by_digging(carried: WholeSite, row: WholeSite) -> bool:
    """Say whether a row's lines take longer than the row, which puts parts on a share of the ground each."""
    shares = [dose.share for part in row.together.parts for dose in part.decision.every_dose if dose.dug]
    return carried.bill.hours.compared > row.bill.hours.compared and any(share < 1 for share in shares)


def check_never_dearer(answer: Answer, plan: Plan | None) -> None:
    """Assert that no row of options within the limits meets more, nor as much for less.

    A row puts what comes in parts on a share of the ground each, a plan all over it, which takes longer. Where
    hours have a value, a row is therefore compared as its lines would be carried out; and where hours are
    limited, lines may be over them that the row keeps to, and are then no plan.
    """
    met = len(plan.whole.places_met) if plan else 0
    for row in whole_site(answer):
        if row.over or not row.together.parts:
            continue
        carried = proved(answer, lines_of_parts(row.together.parts))
        if carried.whole.over and longer_by_digging(carried.whole, row):
            continue
        assert not carried.faults, (row.title, carried.faults)
        assert carried.meets(row.places_met), row.title
        assert row.count <= met, row.title
        if plan and row.count == met:
            cost = cost_of(answer, carried.whole if answer.site.labour.hourly_value else row)
            assert cost_of(answer, plan.whole) <= cost + CENT, row.title
