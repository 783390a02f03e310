"""Cautions and warnings as notes of a report."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.catalogue.cautions import Caution
from barrowful.catalogue.figures import sources
from barrowful.tables.report import Note


def caution_notes(found: Iterable[Caution]) -> list[Note]:
    """Return cautions with their sources written out."""
    return [
        Note(one.key, one.severity, one.text, f"{sources()[one.source]}; {one.place} ({one.grade})")
        for one in found
    ]
