"""What a check says of a plan in a site file: the warnings of following it, each at its line."""

from __future__ import annotations

from barrowful.answers.plan_warnings import OfPlan, warnings_of_file
from barrowful.measures.problems import CannotMeet, Mark, Problem, printable
from barrowful.site.load import LoadedSite
from barrowful.sitefile.text.nodes import Listing

#: The code of what is told of a plan.
OF_PLAN = "plan"


def plan_problems(loaded: LoadedSite) -> list[Problem]:
    """Return what following the plan warns of, each at the line that it names first, else at the plan."""
    try:
        found = warnings_of_file(loaded.site)
    except CannotMeet as refusal:
        found = [OfPlan(f"plan: {refusal}")]
    return sorted((_problem(loaded, told) for told in found), key=lambda one: (one.line, one.column))


def _problem(loaded: LoadedSite, told: OfPlan) -> Problem:
    mark = _mark(loaded, told.line)
    file = mark.source or loaded.document.file
    return Problem(file, mark.line, mark.column, OF_PLAN, printable(told.sentence))


def _mark(loaded: LoadedSite, line: int | None) -> Mark:
    """Return where a line of the plan stands, else where the plan does."""
    key, lines = loaded.document.top.entries["plan"]
    return key if line is None or not isinstance(lines, Listing) else lines.items[line].mark
