"""What the tests of tables share: reading a screen back as a person does, by where its columns stand."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass

import pytest

#: The marks these tests set on letters, or join to them.
MARKS = {"\u0301", "\u1161"}


def columns_taken(text: str) -> int:
    """Return the columns text takes, counted apart: wide letters two, the marks of these tests none."""
    return sum(
        0 if letter in MARKS else 2 if unicodedata.east_asian_width(letter) in "WF" else 1 for letter in text
    )


@dataclass
class Screen:
    """A table read back from a screen: its columns by their places, its cells, and what stands under it."""

    headings: list[str]
    rows: list[list[str]]
    notes: dict[int, str]
    under: str

    def column(self, heading: str) -> str:
        """Return all that a column holds from top to bottom, without spaces."""
        return "".join(row[self.headings.index(heading)] for row in self.rows).replace(" ", "")

    @property
    def bare_notes(self) -> dict[int, str]:
        """Return the notes without spaces, by number."""
        return {number: text.replace(" ", "") for number, text in self.notes.items()}


def spans(rule: str) -> list[tuple[int, int]]:
    """Return where each column begins and ends."""
    return [match.span() for match in re.finditer("-+", rule)]


def cut(line: str, start: int, end: int) -> str:
    """Return what stands in some columns of the screen."""
    at, taken = 0, []
    for letter in line:
        if start <= at < end or (letter in MARKS and taken and start < at <= end):
            taken.append(letter)
        at += columns_taken(letter)
    return "".join(taken).strip(" ")


def read_back(text: str) -> Screen:
    """Return what a person reads of a screen with one table whose rows begin with a name."""
    lines = text.removesuffix("\n").split("\n")
    place = next(number for number, line in enumerate(lines) if re.fullmatch("-+(  -+)*", line))
    ends = next((at for at in range(place, len(lines)) if not lines[at]), len(lines))
    columns = spans(lines[place])
    heads = [[cut(line, *span) for span in columns] for line in lines[:place]]
    cells = [[cut(line, *span) for span in columns] for line in lines[place + 1 : ends]]
    under = lines[ends + 1 :]
    notes: dict[int, str] = {}
    while under and (match := re.match(r" *(\d+)  (.*)", under[0])):
        number, parts = int(match[1]), [match[2]]
        hanging = " " * match.start(2)
        under.pop(0)
        while under and under[0].startswith(hanging):
            parts.append(under.pop(0).removeprefix(hanging))
        notes[number] = " ".join(parts)
    headings = [" ".join(filter(None, parts)) for parts in zip(*heads, strict=True)]
    return Screen(headings, cells, notes, " ".join(line.strip(" ") for line in under))


@pytest.fixture(scope="session")
def columns_apart() -> Callable[[str], int]:
    """Give the function that counts columns apart from the tool."""
    return columns_taken


@pytest.fixture(scope="session")
def read() -> Callable[[str], Screen]:
    """Give the function that reads back a screen."""
    return read_back
