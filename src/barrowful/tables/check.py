"""The tables of a check: what is wrong in a site file, and what is sound but hardly meant."""

from __future__ import annotations

from dataclasses import replace

from barrowful.measures.problems import Problem
from barrowful.tables.columns import count, text
from barrowful.tables.layout import Layout

CHECK: Layout[Problem] = Layout(
    name="check",
    identifies=("file", "line", "column", "code", "message"),
    columns=(
        text(
            "file",
            "file",
            "The site file, as it was named; --set is a value given there.",
            lambda problem: problem.file,
        ),
        count(
            "line",
            "line",
            "Line in the file, from 1; 0 is the file as a whole.",
            lambda problem: problem.line,
        ),
        count("column", "column", "Column in the line, from 1.", lambda problem: problem.column),
        text("code", "code", "The sort of problem, in a word.", lambda problem: problem.code),
        text("message", "message", "What is wrong and what would be right.", lambda problem: problem.message),
    ),
)
#: The same of what is sound.
WARNINGS: Layout[Problem] = replace(
    CHECK,
    name="warnings",
    title="Warnings",
    appears="where something is hardly meant so",
    columns=(
        *CHECK.columns[:-1],
        text("message", "message", "What is hardly meant so, and why.", lambda problem: problem.message),
    ),
)
