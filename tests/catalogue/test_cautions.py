"""Cautions give way: to the law of the place, to who is responsible there and to who is trained."""

from __future__ import annotations

import re
from typing import Any

import pytest

from barrowful.answers.cautions import CautionInForce
from barrowful.catalogue.cautions import cautions
from barrowful.tables.cautions import caution_notes

#: What a law, a rule of a country or a limit is told by.
OF_LAW = re.compile(r"\b(US|UK|Brit\w+|England|Wales|Ireland|law|offence|forbids|limits?|licence|rule)\b")
#: Who or what a caution gives way to.
GIVES_WAY = re.compile(
    r"\b([Aa]sk\b|[Ff]ollow|authority|council's|fire service|weed list|doctor|vet\b|handbook|maker's|where you live)"
)


@pytest.fixture
def texts(contents: dict[str, dict[str, Any]]) -> dict[str, tuple[int, str]]:
    """Give the severity and the text of each caution by its key."""
    return {
        one["key"]: (one["severity"], one["text"])
        for file, content in contents.items()
        if file.startswith("cautions/")
        for one in content["caution"]
    }


def test_what_can_harm_defers_to_someone(texts: dict[str, tuple[int, str]]) -> None:
    """A caution about life, limb or illness says whom to ask, or whose word comes before it."""
    grave = {key: text for key, (severity, text) in texts.items() if severity >= 4}
    assert len(grave) > 25
    assert [key for key, text in grave.items() if not GIVES_WAY.search(text)] == []


def test_what_cites_a_law_defers_to_the_local_one(texts: dict[str, tuple[int, str]]) -> None:
    """A rule of one country is told as that, and the grower is sent to the rule that binds at home."""
    lawful = {key: text for key, (_, text) in texts.items() if OF_LAW.search(text)}
    assert {"hygiene-log", "wet-or-frozen", "heavy-bag", "nesting-ireland", "road-licence"} <= set(lawful)
    assert [key for key, text in lawful.items() if not GIVES_WAY.search(text)] == []


def test_every_caution_prints_its_source() -> None:
    """Whatever file of sources it stands in: the first thing printed is who says so."""
    notes = caution_notes(CautionInForce(caution) for caution in cautions())
    assert len(notes) > 60
    assert [note.key for note in notes if not re.match(r"[^;]*\w[^;]*; ", note.source)] == []
