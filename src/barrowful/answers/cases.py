"""The options of each case of a what-if, with what differs from the site file as it stands."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from barrowful.answers.lines import OptionLine, option_lines
from barrowful.answers.options import Answer

Number = TypeVar("Number", float, Decimal)
#: The case that the others are held against.
BASE = "base"


@dataclass(frozen=True, kw_only=True)
class Changes:
    """What a case adds to the base: cash, hours, days of waiting, loose m3, organic matter left [kg]."""

    cash: Decimal | None = None
    hours: float | None = None
    days: int | None = None
    loose: float | None = None
    matter: float | None = None


@dataclass(frozen=True, kw_only=True)
class CaseLine:
    """An option of a case, and what it changes; nothing in the base, and for what the base has not."""

    case: str
    line: OptionLine
    changes: Changes


def case_lines(answers: list[tuple[str, Answer]]) -> list[CaseLine]:
    """Return every case's options under each other; the first answer is what the others differ from."""
    lines = [(case, option_lines(answer)) for case, answer in answers]
    base = {_same(line): line for line in lines[0][1]}
    return [
        CaseLine(
            case=case, line=line, changes=_changes(line, base.get(_same(line)) if case != BASE else None)
        )
        for case, some in lines
        for line in some
    ]


def _same(line: OptionLine) -> tuple[str, str]:
    """Return what an option and that of another case have in common."""
    return line.option.need, line.option.name


def _changes(now: OptionLine, before: OptionLine | None) -> Changes:
    if before is None:
        return Changes()
    ready, was_ready = now.option.ready_on, before.option.ready_on
    return Changes(
        cash=_less(now.cash, before.cash),
        hours=_less(now.hours, before.hours),
        days=(ready - was_ready).days if ready and was_ready else None,
        loose=_less(now.loose, before.loose),
        matter=_less(now.option.outcome.matter_after_year, before.option.outcome.matter_after_year),
    )


def _less(now: Number | None, before: Number | None) -> Number | None:
    """Return the difference of two numbers that are both known."""
    return None if now is None or before is None else now - before
