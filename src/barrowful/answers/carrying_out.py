"""Ways picked for each kind of need carried out together, and parts as they are written."""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.answers.options import Answer
from barrowful.answers.together import Part, Picks, Together
from barrowful.needs.registry import NEEDS


def carried_out(answer: Answer, picks: Picks, partial: bool = False) -> Together:
    """Return needs settled by the ways picked for each kind; where ``partial``, with what meets none whole.

    What is of little use by a part has what all others leave of stocks and ceilings.
    """
    together = Together(answer, partial)
    for kind in NEEDS:
        if kind in picks:
            together.serve(kind, picks[kind], whole=NEEDS[kind].part_comes_last)
    for kind in NEEDS:
        if kind in picks and partial and NEEDS[kind].part_comes_last:
            left = {place for of, place in together.unmet if of == kind}
            together.serve(kind, picks[kind], left)
    return together


def as_written(answer: Answer, parts: Sequence[Part]) -> Together:
    """Return parts carried out as they are written, with no regard to each other."""
    together = Together(answer)
    together.parts, together.written = list(parts), True
    together.settled.put_on(dose for part in parts for dose in part.doses)
    return together
