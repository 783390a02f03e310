"""The table of verdicts: a heap's temperature log against published rules."""

from __future__ import annotations

from barrowful.answers.heaps import VerdictLine
from barrowful.catalogue.hygiene import Rule
from barrowful.measures.telling import either
from barrowful.tables import shared
from barrowful.tables.columns import count, text
from barrowful.tables.layout import Layout


def _source(rule: Rule) -> str:
    """Return where a rule is from, with its grade."""
    return f"{rule.source}: {rule.place} ({rule.grade})"


HYGIENE: Layout[VerdictLine] = Layout(
    name="hygiene",
    title="The temperature log against published rules",
    appears="where a heap has readings",
    identifies=("way", "rule"),
    shown=("way", "rule", "met", "why_not"),
    columns=(
        shared.way(lambda line: line.way),
        text("rule", "rule", "Name of the rule.", lambda line: either(line.verdict.rule.name)),
        text(
            "met",
            "verdict",
            "Met or not met by the readings given.",
            lambda line: "met" if line.verdict.met else "not met",
        ),
        count(
            "days",
            "days",
            "Days the readings show at or above its temperature.",
            lambda line: line.verdict.days,
        ),
        shared.turns(lambda line: line.verdict.turns),
        shared.why_not(lambda line: line.verdict.why_not or None, "Why the rule is not met."),
        text("source", "source", "Where the rule is from.", lambda line: _source(line.verdict.rule)),
    ),
)
