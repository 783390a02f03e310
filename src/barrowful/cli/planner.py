"""Writing a plan into the grower's own site file: what makes of its bytes those with the plan, checked."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from barrowful.measures.problems import CannotReadWrite, SiteProblems, WrongUse

if TYPE_CHECKING:
    from barrowful.sitefile.text.nodes import Document


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
