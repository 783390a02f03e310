"""A long history: each entry it has is read twice, built once, and looked at no further."""

from __future__ import annotations

import sys

import pytest

from barrowful.cli.log import adder

ENTRY = {"date": "2027-04-12", "place": "beds", "material": "straw", "amount": "18 barrow"}
#: Calls an entry may take. Reading it twice takes 272, building it once 216, and comparing some thirty; one
#: more reading of it would go over.
MOST_CALLS = 600


def history(count: int, shape: str) -> str:
    """Return a history of so many entries, each of another amount."""
    texts = [
        f"{{date: 2026-11-20, place: beds, material: straw, amount: 2.{number} barrow, note: 'a, {number}'}}"
        for number in range(1, count + 1)
    ]
    if shape == "in brackets":
        return "history: [\n  " + ",\n  ".join(texts) + "\n]\n"
    lines = texts if shape == "in lines" else [text[1:-1].replace(", ", "\n    ", 4) for text in texts]
    return "history:\n" + "".join(f"  - {line}\n" for line in lines)


def calls_for(data: bytes) -> int:
    """Return how many calls it takes to add an entry."""
    add, calls = adder("field.yaml", ENTRY), 0

    def called(_: object, event: str, __: object) -> None:
        nonlocal calls
        calls += event in {"call", "c_call"}

    before = sys.getprofile()
    sys.setprofile(called)
    try:
        new = add(data)
    finally:
        sys.setprofile(before)
    assert new.count(b"{date: 2027-04-12") == 1
    return calls


@pytest.mark.parametrize("shape", ["in lines", "in brackets", "under dashes"])
def test_work_grows_with_the_history_and_no_more(head: str, shape: str) -> None:
    """Four hundred entries more make so many calls each, and the four hundred after them no more."""
    _, short, long, longer = (  # at first, what is loaded but once is loaded
        calls_for((head + history(count, shape)).encode()) for count in (1, 400, 800, 1_200)
    )
    assert long - short <= 400 * MOST_CALLS
    assert longer - long <= 1.05 * (long - short)
