"""A page to read, print and tick: a title and sections, each of them a report under a heading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import NamedTuple

from barrowful.measures.fixed import fixed
from barrowful.tables.columns import Value
from barrowful.tables.report import Report


class Groups(NamedTuple):
    """How rows of a table go together: by a key, and what stands above those with a value of it.

    Each row has a box to tick where ``done`` is the key of a column that has something in done rows.
    """

    by: str
    titles: Mapping[Value, str]
    done: str = ""


@fixed
class Section:
    """A section: its heading and what stands under it; ``groups`` are those of rows, by names of tables."""

    title: str
    report: Report
    groups: Mapping[str, Groups] = field(default_factory=dict)
    new_page: bool = False


class Page(NamedTuple):
    """A page: its title, what is said of it under that, and its sections."""

    title: str
    told: tuple[str, ...]
    sections: tuple[Section, ...]

    @property
    def warnings(self) -> list[str]:
        """Return the warnings of all sections."""
        return [warning for section in self.sections for warning in section.report.warnings]
