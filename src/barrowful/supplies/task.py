"""What a way asks to be done beside putting its stuff on: building, turning, sowing, cutting."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from barrowful.costs.labour import Hours


class Task(NamedTuple):
    """A piece of work of a way: its word, its day, the hours it takes, and what is handled [m3 loose].

    ``until`` is the last day of what goes on for a while; ``what`` says what is taken, in the grower's words.
    ``after`` names the ways whose stuff has to be there before; ``rooms`` says of what is built how many
    there are room for at once, ``brings`` of what is emptied how much there is then to put on [m3].
    """

    job: str
    day: date
    hours: Hours | None = None
    loose: float | None = None
    what: str = ""
    until: date | None = None
    after: tuple[str, ...] = ()
    rooms: int = 0
    brings: float | None = None
