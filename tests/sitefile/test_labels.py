"""What a fertiliser's label says against what the law asks of any: too little is warned of."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from barrowful.measures.problems import Problem

Told = Callable[..., tuple[Problem, ...]]


def told_of(warnings_of: Told, words: dict[str, str]) -> list[str]:
    """Return what is warned of a material's label."""
    found = warnings_of([], [], materials={"stuff": {"density": "800 kg/m3", **words}})
    return [warning.message for warning in found if warning.code == "weak-fertiliser"]


@pytest.mark.parametrize(
    "words",
    [
        {"nitrogen": "0.001 %"},
        {"nitrogen": "1.9 %"},
        {"phosphate": "0.9 %"},
        {"potash": "1.9 %"},
        {"nitrogen": "0.9 %", "phosphate": "0.9 %", "potash": "1 %"},
        # 0.4 % phosphorus are 0.92 % phosphate, for 61.95 of 141.94 parts of it are phosphorus
        {"phosphorus": "0.4 %"},
        # 2.2 % of the dry mass with 20 % water are 1.76 % in the bag
        {"nitrogen": "2.2 %", "moisture": "20 %"},
    ],
)
def test_a_label_that_can_be_none(warnings_of: Told, words: dict[str, str]) -> None:
    """Under 2 % nitrogen, 1 % phosphate and 2 % potash, and under 3 % of all, no label is a fertiliser's."""
    (sentence,) = told_of(warnings_of, {"class": "fertiliser", **words})
    assert sentence.startswith("materials.stuff: ")
    assert "at least 2 % nitrogen or 1 % phosphate or 2 % potash, or 3 % of them together" in sentence


@pytest.mark.parametrize(
    "words",
    [
        {"nitrogen": "2 %"},
        {"phosphate": "1 %"},
        {"phosphorus": "0.44 %"},
        {"potash": "2 %"},
        {"nitrogen": "1.5 %", "potash": "1.6 %"},
        {"nitrogen": "2.2 %", "moisture": "20 %", "basis": "as received"},
        {"nitrogen": "0 %"},
        {},
    ],
)
def test_a_label_that_can_be_one(warnings_of: Told, words: dict[str, str]) -> None:
    """From there on nothing is said, nor of what feeds with none of the three."""
    assert told_of(warnings_of, {"class": "fertiliser", **words}) == []


def test_what_is_no_fertiliser_may_hold_little(warnings_of: Told) -> None:
    """Compost and hay hold less, and are none."""
    assert told_of(warnings_of, {"class": "compost", "nitrogen": "0.5 %", "moisture": "40 %"}) == []
    assert told_of(warnings_of, {"like": "hay", "nitrogen": "0.5 %"}) == []


def test_the_sentence_tells_what_is_in_the_bag(warnings_of: Told) -> None:
    """It repeats what the label comes to as sold, each as a label has it."""
    (sentence,) = told_of(warnings_of, {"class": "fertiliser", "nitrogen": "0.001 %", "potash": "0.5 %"})
    assert "holds nitrogen 0.001 %, phosphate 0 %, potash 0.5 % as sold" in sentence


def site_with(words: dict[str, str]) -> str:
    """Return a site file that describes one material on its fifth line."""
    stuff = json.dumps({"stuff": {"density": "800 kg/m3", **words}})
    return f"site: Field\ncurrency: EUR\nstart: 2027-03-01\nplaces: []\nmaterials: {stuff}\n"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            {"class": "fertiliser", "nitrogen": "50 %", "phosphate": "40 %", "potash": "40 %"},
            "130 % of what is in the bag",
        ),
        (
            {"class": "kitchen", "moisture": "60 %", "carbon": "60 %", "nitrogen": "50 %"},
            "110 % of the dry mass",
        ),
        (
            {"class": "fertiliser", "nitrogen": "46 %", "phosphate": "30 %", "potash": "25 %"},
            "101 % of what is in the bag",
        ),
    ],
)
def test_shares_that_cannot_add_up(problems_of: Told, words: dict[str, str], told: str) -> None:
    """More than all there is, on a label or in the dry mass, is a problem on its line, with all the parts."""
    (problem,) = problems_of(site_with(words))
    assert problem.line == 5
    assert problem.code == "out-of-range"
    assert problem.message.startswith("materials.stuff: ")
    assert f"add up to {told}, and 100 % is all there is" in problem.message


@pytest.mark.parametrize(
    "words",
    [
        {"class": "fertiliser", "nitrogen": "12 %", "phosphate": "61 %"},
        {"class": "fertiliser", "nitrogen": "40 %", "phosphate": "30 %", "potash": "30 %"},
        {"class": "kitchen", "moisture": "60 %", "carbon": "50 %", "nitrogen": "50 %"},
    ],
)
def test_shares_that_just_add_up(problems_of: Told, words: dict[str, str]) -> None:
    """All of it and no more is no problem, and a phosphate counts as phosphate alone."""
    assert problems_of(site_with(words)) == ()
