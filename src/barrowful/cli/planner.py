"""Writing a plan into the grower's own site file: what makes of its bytes those with the plan, checked."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from barrowful.measures.problems import CannotReadWrite, SiteProblems, WrongUse

if TYPE_CHECKING:
    from barrowful.site.records import PlanLine
    from barrowful.sitefile.text.nodes import Document


def entry_of(line: PlanLine) -> dict[str, str]:
    """Return a line of a plan as it is written: with its amount to the last digit, which reads back the same.

    >>> from datetime import date
    >>> from barrowful.ground.sizes import Size
    >>> from barrowful.site.records import PlanLine
    >>> line = PlanLine(place="beds", need="feed", way="shop", amount=Size(mass=1e-05), day=date(2027, 3, 1))
    >>> entry_of(line)["amount"], entry_of(line)["date"]
    ('0.00001 kg', '2027-03-01')
    """
    entry = {"place": line.place, "need": line.need, "way": line.way}
    if line.amount is not None and line.amount.volume is not None:
        entry["amount"] = f"{_plain(line.amount.volume)} m3"
    elif line.amount is not None:
        entry["amount"] = f"{_plain(line.amount.mass or 0.0)} kg"
    if line.day is not None:
        entry["date"] = line.day.isoformat()
    return entry


def _plain(amount: float) -> str:
    """Return an amount without a power of ten, to as many digits as a site file takes."""
    return f"{Decimal(f'{amount:.15g}'):f}"


def planner(
    name: str, lines: Sequence[Mapping[str, str]], made_for: Document | None = None
) -> Callable[[bytes], bytes]:
    """Return what makes of a site file's bytes those with these lines as its plan, for ``change``.

    A file that says something else than the document the plan was ``made_for`` is left alone. All that
    is needed is loaded already.
    """
    from barrowful.site.load import build
    from barrowful.sitefile.text.lines import alike
    from barrowful.sitefile.text.nodes import parse
    from barrowful.sitefile.text.plan import unfit, with_plan, without_plan

    def planned(data: bytes) -> bytes:
        before = parse(data, name)
        if before.problems:
            build(before)
        if made_for is not None and not alike(made_for.top, before.top):
            raise CannotReadWrite(
                f"{name} was changed while the plan was worked out; nothing was written,"
                " run the command again"
            )
        try:
            new, after = with_plan(data, before, lines)
        except WrongUse:
            build(without_plan(before))  # what is wrong with the file itself goes first
            raise
        try:
            build(after)
        except SiteProblems as problems:
            build(without_plan(before))
            raise unfit(before, after, problems.problems) from None
        return new

    return planned
