"""The table of questions: what to ask which seller before ordering."""

from __future__ import annotations

from barrowful.answers.asking import Asked
from barrowful.tables import shared
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout

QUESTIONS: Layout[Asked] = Layout(
    name="questions",
    title="Ask before you order",
    appears="where something is ordered that there is a question about",
    identifies=("question",),
    shown=("way", "ask"),
    columns=(
        shared.way(lambda of: ", ".join(of.ways), "Names of the ways it is asked about."),
        text("ask", "ask", "The question.", lambda of: of.question.text),
        text("question", "question", "Name of the question.", lambda of: of.question.key),
        text("sources", "sources", "Keys of the sources.", lambda of: ", ".join(of.question.sources)),
        text("source", "source", "Sources, the place in them and the grade.", lambda of: of.source),
    ),
)
