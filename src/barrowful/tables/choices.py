"""The table of choices: plain questions, and the option that answers each; people read the sentences."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from barrowful.answers.option import Option
from barrowful.answers.options import Choice
from barrowful.tables import shared
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout

Cell = TypeVar("Cell")


def _option(read: Callable[[Option], Cell]) -> Callable[[Choice], Cell | None]:
    """Return what is read of the option chosen; nothing where none answers."""
    return lambda choice: None if choice.option is None else read(choice.option)


CHOICES: Layout[Choice] = Layout(
    name="choices",
    title="Choices",
    appears="where `--by place` is not asked for; people read its sentences under the tables",
    identifies=("question", "need"),
    for_people=False,
    columns=(
        text("question", "question", "What the line answers.", lambda choice: choice.question),
        shared.need(lambda choice: choice.need),
        shared.way(_option(lambda option: option.name), shared.JOINTLY),
        shared.cash(_option(lambda option: option.cash)),
        shared.hours(_option(lambda option: option.hours.likely)),
        shared.ready_on(_option(lambda option: option.ready_on)),
        text("sentence", "answer", "The answer in words.", lambda choice: choice.sentence),
    ),
)
