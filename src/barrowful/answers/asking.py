"""What to ask sellers before ordering: each question once, with the ways it is asked about."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from barrowful.answers.order_lines import OrderLine
from barrowful.catalogue.figures import question_sources
from barrowful.catalogue.questions import Question


class Asked(NamedTuple):
    """A question, the ways it is asked about, and what it is founded on."""

    ways: tuple[str, ...]
    question: Question
    source: str


def asked(lines: Iterable[OrderLine]) -> list[Asked]:
    """Return what to ask about what is ordered, in the order of the lines."""
    ways: dict[Question, list[str]] = {}
    for line in lines:
        for question in line.questions:
            ways.setdefault(question, []).append(line.way.name)
    return [
        Asked(tuple(dict.fromkeys(names)), question, _source(question)) for question, names in ways.items()
    ]


def _source(question: Question) -> str:
    """Return what asking is founded on: sources, the place in them, and the grade."""
    known = question_sources()
    named = "; ".join(str(known[key]) for key in question.sources)
    return f"{named}; {question.place} ({question.grade})"
