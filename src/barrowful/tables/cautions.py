"""Cautions and warnings as notes of a report."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.answers.cautions import CautionInForce
from barrowful.catalogue.figures import caution_sources
from barrowful.tables.report import Note


def caution_notes(called: Iterable[CautionInForce], with_sources: bool = True) -> list[Note]:
    """Return cautions as notes, with their sources written out where they will be read."""
    called = list(called)
    known = caution_sources(one.caution.source for one in called) if with_sources else {}
    notes = []
    for one in called:
        caution = one.caution
        text = f"{caution.text} {one.dates}".strip()
        source = f"{known[caution.source]}; {caution.place} ({caution.grade})" if with_sources else ""
        notes.append(Note(caution.key, caution.severity, text, source, one.ways))
    return notes
