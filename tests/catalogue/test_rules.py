"""Rules of good practice: their sentences, figures and sources."""

from __future__ import annotations

import string

import pytest

from barrowful.catalogue.figures import sources
from barrowful.catalogue.rates import rates
from barrowful.catalogue.rules import PracticeRule, practice_rules
from barrowful.sitefile.keys.place import SOIL
from barrowful.sitefile.language.kinds import Choice

FIELDS = {
    "yearly_dressing": {"label", "depth", "nitrogen"},
    "phosphorus_high": {"label", "test", "phosphorus"},
}


@pytest.mark.parametrize("rule", practice_rules().values(), ids=lambda rule: rule.name)
def test_a_sentence_is_filled_from_figures_and_fields(rule: PracticeRule) -> None:
    """Each name in braces is a figure the rule names or something the program fills in, and each is used."""
    named = {name for _, name, _, _ in string.Formatter().parse(rule.text) if name}
    assert named == set(rule.figures) | FIELDS[rule.name]
    assert set(rule.figures) <= set(rates())
    assert set(rule.sources) <= set(sources())


def test_figures_are_shown_in_their_units() -> None:
    """An inch is 2.5 cm, four are 10 cm, and the farm rule is by the hectare."""
    words = practice_rules()["yearly_dressing"].sentence(label="bed", depth=6.0, nitrogen=300.0)
    assert words.startswith("bed: 6.0 cm in a year, 300 kg N/ha. Garden rule: 2.5 cm a year, 10 cm once")
    assert "250 kg N/ha a year" in words


def test_words_in_braces_stay_as_they_are() -> None:
    """A place's name is put in as it is, even where it looks like a field."""
    words = practice_rules()["phosphorus_high"].sentence(label="{test} bed", test="high", phosphorus=1.0)
    assert words.startswith("{test} bed: the soil test's phosphorus is high")


def test_tests_are_words_of_the_site_file() -> None:
    """What a rule asks of a soil test can be written in a site file."""
    kind = next(field.kind for field in SOIL.fields if field.key == "phosphorus_test")
    assert isinstance(kind, Choice)
    assert practice_rules()["phosphorus_high"].tests <= set(kind.words)
