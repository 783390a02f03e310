"""What every report about a site file has: its name and currency, and the warnings of reading it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from barrowful.measures.problems import gathered
from barrowful.site.load import ReadSite
from barrowful.tables.report import Report, Table


def report_of(
    command: str, loaded: ReadSite, tables: list[Table], reckoned: Sequence[str] = (), **more: Any
) -> Report:
    """Return a report about a loaded site; ``reckoned`` are warnings that reading it did not give."""
    return Report(
        command,
        loaded.site.name,
        loaded.site.currency,
        tables,
        warnings=[*gathered(loaded.warnings), *reckoned],
        reckoned=tuple(reckoned),
        **more,
    )
