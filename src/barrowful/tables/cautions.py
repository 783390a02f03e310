"""Cautions and warnings as notes of a report."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.catalogue.cautions import Caution
from barrowful.catalogue.figures import caution_sources
from barrowful.tables.report import Note


def caution_notes(found: Iterable[Caution], with_sources: bool = True) -> list[Note]:
    """Return cautions as notes, with their sources written out where they will be read."""
    known = caution_sources() if with_sources else {}
    return [
        Note(one.key, one.severity, one.text, f"{known.get(one.source, '')}; {one.place} ({one.grade})")
        for one in found
    ]
