"""Names that only unseen letters tell apart are problems, where they are given and where they are used."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from barrowful.cli.main import exit_code
from barrowful.measures.problems import Problem

Load = Callable[[str], tuple[Problem, ...]]
Judge = Callable[[tuple[Problem, ...], str], None]

SITE = """\
site: Odd Field
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC}
places:
  - {name: long beds, kind: bed, shape: {area: 3 m2}, needs: [{cover: {depth: 3 cm}}]}
  - {name: PLACE, kind: bed, shape: {area: 3 m2}}
ways:
  - {name: the yard, buy: {material: straw, price: 4 EUR/m3}}
  - {name: WAY, buy: {material: my mix, price: 4 EUR/m3}}
materials:
  my mix: {like: straw}
  MATERIAL: {like: straw}
"""
#: A name -> the same to the eye, and the letter in which it differs.
SAME = {
    "no-break space": (lambda name: name.replace(" ", "\u00a0"), "U+00A0"),
    "zero width space": (lambda name: name.replace(" ", "\u200b "), "U+200B"),
    "soft hyphen": (lambda name: name + "\u00ad", "U+00AD"),
    "joiner": (lambda name: name[:2] + "\u200d" + name[2:], "U+200D"),
    "two spaces": (lambda name: name.replace(" ", "  "), "U+0020"),
}


def site(**names: str) -> str:
    """Return the text of the site with second names that are given, or that differ to the eye."""
    text = SITE
    for word, name in {"PLACE": "trees", "WAY": "other", "MATERIAL": "more", **names}.items():
        text = text.replace(word, f'"{name}"')
    return text


def test_the_site_is_sound(problems_of: Load) -> None:
    """With names that differ to the eye it loads."""
    assert problems_of(site()) == ()


@pytest.mark.parametrize("same", SAME)
@pytest.mark.parametrize(
    ("word", "name", "line", "column", "first"),
    [("PLACE", "long beds", 7, 12, 6), ("WAY", "the yard", 10, 12, 9), ("MATERIAL", "my mix", 13, 3, 12)],
)
def test_two_names_that_look_alike(
    problems_of: Load, well_formed: Judge, word: str, name: str, line: int, column: int, first: int, same: str
) -> None:
    """The second is a problem where it stands, which names the line of the first and the letter."""
    alter, letter = SAME[same]
    text = site(**{word: alter(name)})
    problems = problems_of(text)
    (found,) = [problem for problem in problems if problem.code == "look-alike-name"]
    assert (found.line, found.column) == (line, column)
    assert f"on line {first}" in found.message
    assert letter in found.message
    assert {problem.code for problem in problems} <= {"look-alike-name", "unseen-letter"}
    assert len(problems) == 1 + (letter in {"U+200B", "U+00AD"})
    well_formed(problems, text)


def test_a_name_that_hides_a_letter(problems_of: Load, well_formed: Judge) -> None:
    """A single name with a letter that nobody can see or needs is told, for nobody could ask for it."""
    text = site(PLACE="tre\u200bes", WAY="ot\u2060her", MATERIAL="\ufeffmore")
    problems = problems_of(text)
    assert [(problem.line, problem.column, problem.code) for problem in problems] == [
        (7, 12, "unseen-letter"),
        (10, 12, "unseen-letter"),
        (13, 3, "unseen-letter"),
    ]
    assert "letter 4 is U+200B" in problems[0].message
    well_formed(problems, text)


def test_names_as_people_write_them(problems_of: Load) -> None:
    """Joiners in Persian and Hindi, an accent of its own and a heart with its selector are names like any other."""
    names = (
        "\u0646\u0627\u0645\u0647\u200c\u0627\u06cc",
        "\u0915\u094d\u200d\u0937",
        "cafe\u0301",
        "\u2764\ufe0f",
    )
    for name in names:
        assert problems_of(site(PLACE=name, WAY=name, MATERIAL=name)) == ()


def test_a_material_that_looks_like_one_of_the_catalogue(problems_of: Load, well_formed: Judge) -> None:
    """A material of the file's own that an eye takes for one of the catalogue is a problem."""
    text = site(MATERIAL="green\u00a0compost")
    (found,) = problems_of(text)
    assert (found.line, found.code) == (13, "look-alike-name")
    assert '"green compost" of the catalogue' in found.message
    assert "U+00A0" in found.message
    well_formed((found,), text)
    assert problems_of(site(MATERIAL="green compost")) == ()


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("history: [{date: 2027-01-01, place: NAME, note: x}]", "unknown-place"),
        ("plan: [{place: NAME, need: cover, way: the yard}]", "unknown-place"),
        ("plan: [{place: long beds, need: cover, way: NAME}]", "unknown-way"),
        ("history: [{date: 2027-01-01, place: long beds, material: NAME, amount: 1 m3}]", "unknown-material"),
    ],
)
@pytest.mark.parametrize("same", SAME)
def test_a_name_that_leads_nowhere(
    problems_of: Load, well_formed: Judge, line: str, code: str, same: str
) -> None:
    """A use that differs only in what cannot be seen is told with the name meant and the letter."""
    alter, letter = SAME[same]
    name = {"unknown-place": "long beds", "unknown-way": "the yard", "unknown-material": "my mix"}[code]
    text = site() + line.replace("NAME", f'"{alter(name)}"') + "\n"
    (found,) = problems_of(text)
    assert (found.line, found.code) == (14, code)
    assert f'"{name}" looks the same' in found.message
    assert letter in found.message
    well_formed((found,), text)


def test_a_key_that_looks_right(problems_of: Load) -> None:
    """A key with a letter that cannot be seen is no key, and the letter is told."""
    (found,) = problems_of(site() + "his\u200btory: []\n")
    assert found.code == "unknown-key"
    assert '"history" looks the same, but letter 4 is U+200B here and "t" there' in found.message


@pytest.mark.parametrize(
    "words",
    [
        ["log", "FILE", "--date", "2027-03-01", "--place", "NAME", "--note", "x"],
        ["whatif", "FILE", "--set", "places.NAME.count=14"],
        ["orders", "FILE", "--way", "NAME"],
        ["course", "FILE", "--way", "NAME"],
        ["figures", "NAME", "--site", "FILE"],
    ],
    ids=lambda words: words[0],
)
def test_a_name_on_the_command_line(words: list[Any], tmp_path: Path) -> None:
    """Typed with a plain space, a name that has another is not found, and what it has is told."""
    file = tmp_path / "odd.yaml"
    text = site(PLACE="old\u00a0trees", WAY="old\u00a0trees", MATERIAL="old\u00a0trees")
    file.write_text(text, encoding="utf-8")
    words = [word.replace("FILE", str(file)).replace("NAME", "old trees") for word in words]
    with CliRunner().isolation() as (_, err, _both):
        assert exit_code(words) in {2, 3}
        said = err.getvalue().decode()
    assert '"old\u00a0trees" looks the same' in said
    assert "U+00A0 there" in said
    assert file.read_text(encoding="utf-8") == text
