"""Questions to ask a seller: each is asked where its triggers hold and nowhere else, and says why it is asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barrowful.catalogue.classes import classes
from barrowful.catalogue.figures import GRADES, question_sources
from barrowful.catalogue.materials import Material, material, of_class
from barrowful.catalogue.questions import TOLD, Question, every_question, questions

BY_KEY = {question.key: question for question in every_question()}

#: What is asked about some stuff, chosen by hand: the key of each question.
ASKED = {
    "green compost": [
        *("feedstock", "weedkiller-compost", "quality-mark", "carbon-to-nitrogen", "salt", "screened"),
    ],
    "mushroom compost": [
        *("feedstock", "weedkiller-bedding", "weedkiller-compost", "peat-in-casing", "quality-mark"),
        *("carbon-to-nitrogen", "salt", "screened"),
    ],
    "horse manure": ["weedkiller-feed", "manure-age"],
    "hay": ["weedkiller-feed", "straw-year"],
    "grass clippings": ["weedkiller-grass"],
    "comfrey": [],
    "sawdust": ["chip-species", "chip-age", "treated-timber", "chip-from"],
    "autumn leaves": ["leaves-from"],
    "topsoil": ["soil-from", "soil-made-of"],
    "sand": ["sand-washed"],
    "pelleted poultry manure": ["fertiliser-label", "heated"],
    "feather meal": ["fertiliser-label"],
    "cottonseed meal": ["fertiliser-label", "seed-meal-sprayed"],
    "wood ash": ["fertiliser-label", "what-was-burnt"],
    "burnt lime": ["lime-fineness"],
    "cardboard": ["plain-paper"],
    "coffee grounds": ["kitchen-sorted"],
}


@pytest.mark.parametrize("name", ASKED)
def test_what_is_asked_about_some_stuff(name: str) -> None:
    """Each material is asked about by what it is, and about nothing else."""
    stuff = material(name)
    assert stuff is not None
    assert [question.key for question in questions(stuff)] == ASKED[name]


def test_every_question_is_asked_somewhere() -> None:
    """No question is idle."""
    assert {key for keys in ASKED.values() for key in keys} == set(BY_KEY)


def stuff_for(question: Question, class_: str = "") -> Material:
    """Return stuff of which a question is asked, of a class of its own or of another."""
    stuff = of_class("stuff", class_ or min(question.classes or {"kitchen"}))
    return replace(stuff, flags=frozenset(question.flags))


@pytest.mark.parametrize("key", BY_KEY)
def test_each_trigger_of_a_question_counts(key: str) -> None:
    """It is asked where all its triggers hold; with any one of them missing it is not."""
    question = BY_KEY[key]
    stuff = stuff_for(question)
    assert question in questions(stuff)
    others = [class_ for class_ in classes() if class_ not in question.classes]
    if question.classes:
        assert all(question not in questions(stuff_for(question, class_)) for class_ in others)
    if question.flags - classes()[stuff.class_].flags:
        assert question not in questions(replace(stuff, flags=frozenset()))
    for flag in question.without:
        assert question not in questions(replace(stuff, flags=frozenset({flag})))
    assert (question in questions(stuff, TOLD)) == (not question.unless)


@pytest.mark.parametrize("key", BY_KEY)
def test_a_question_is_founded(key: str) -> None:
    """It is a question, with a source there is, the place in it, and an honest grade."""
    question = BY_KEY[key]
    assert "?" in question.text
    assert set(question.sources) <= set(question_sources())
    assert question.place
    assert question.grade in GRADES
    assert question.classes or question.flags
