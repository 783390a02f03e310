"""Why nothing makes a heap: the true reason, how much is missing, and that what is named would mend it."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import numpy
import pytest
from draws import draws
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.answers.heaps import heap_sentences
from barrowful.answers.options import options
from barrowful.catalogue.materials import Material, material
from barrowful.site.records import Site
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.heap.reasons import least_of
from barrowful.supplies.heap.recipe import Aim, Offer, best_recipe

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]


@pytest.fixture
def heap(site_of: SiteOf) -> Callable[..., Heap]:
    """Give a function that returns a heap of some ingredients."""

    def build(
        *parts: dict[str, Any], ways: list[dict[str, Any]] | None = None, limits: Any = None, **words: Any
    ) -> Heap:
        make = {"name": "heap", "make": {"bay": "1 m3", "from": list(parts), **words}}
        more = {} if limits is None else {"limits": limits}
        made = options(site_of([], [*(ways or []), make], **more)).supplies["heap"]
        assert isinstance(made, Heap)
        return made

    return build


def lot(name: str, volume: str) -> dict[str, Any]:
    """Return an ingredient of one lot."""
    return {"material": name, "volume": volume}


def test_too_wet(heap: Callable[..., Heap]) -> None:
    """Scraps and chip that make C:N 30 may be too wet alone: it says so, and not that the C:N is out of reach."""
    made = heap(
        lot("vegetable scraps", "2 m3"), lot("chipped wood", "170 L"), limits={"lift": ["heap_share"]}
    )
    assert made.batches == []
    assert made.note.startswith("too wet: ")
    assert "65.0% is the most" in made.note
    assert "C:N" not in made.note
    assert re.search(
        r"[0-9,]+ L of (straw|autumn leaves|arborist chip) for each bay would mend it$", made.note
    )


@pytest.mark.parametrize(("name", "word"), [("yellow stalks", "nitrogen"), ("coffee grounds", "carbon")])
def test_out_of_reach(heap: Callable[..., Heap], name: str, word: str) -> None:
    """Which way the C:N is out of reach is said, with the nearest there is and what heats."""
    made = heap(lot(name, "3 m3"), limits={"lift": ["heap_share"]})
    assert made.batches == []
    assert made.note.startswith(f"too little {word}: a C:N of ")
    assert " L of " in made.note


def test_too_little(heap: Callable[..., Heap]) -> None:
    """90 L of a bay of 1 m3, of which a quarter is the least: 160 L are missing."""
    made = heap(lot("yellow stalks", "90 L"))
    assert "too little comes in by " in made.note
    assert "90 L, and 250 L (25 % of a bay) are needed; bring 160 L more" in made.note


def test_a_share_that_leaves_too_little(heap: Callable[..., Heap]) -> None:
    """Grounds and grass are a fifth and a half of a heap at most: with nothing else they make none."""
    made = heap(lot("coffee grounds", "4 m3"), lot("yellow stalks", "20 L"))
    assert "coffee grounds may be no more than 20% by volume (heap_share)" in made.note


def test_a_horizon_that_is_too_short(site_of: SiteOf) -> None:
    """Enough for a part of a bay, and the horizon ends before that part is built: look further ahead."""
    parts = [lot("yellow stalks", "300 L"), lot("coffee grounds", "60 L")]
    ways = [{"name": "heap", "make": {"bay": "1 m3", "from": parts}}]
    site = site_of([], ways, horizon="8 weeks")
    made = options(site).supplies["heap"]
    assert "look further ahead" in made.note


def test_what_the_site_has_is_named_first(heap: Callable[..., Heap], buy: Describe) -> None:
    """Stalks of the site's own dealer are named before anything of the catalogue."""
    made = heap(
        lot("grass clippings", "4 m3"), ways=[buy(name="dealer", material="yellow stalks", price="9 EUR/m3")]
    )
    assert re.search("L of yellow stalks for each bay would mend it", made.note)


def test_what_is_named_does_mend_it(heap: Callable[..., Heap]) -> None:
    """With the amount named a heap is built, and it fills its bay."""
    made = heap(lot("grass clippings", "4 m3"))
    assert made.batches == []
    told = re.search("([0-9,]+) L of ([a-z ]+) for each bay", made.note)
    assert told is not None
    mended = heap(lot("grass clippings", "4 m3"), lot(told[2], f"{told[1].replace(',', '')} L"))
    assert mended.batches
    assert mended.batches[0].recipe.volume >= 0.98
    less = heap(
        lot("grass clippings", "4 m3"), lot(told[2], f"{0.9 * float(told[1].replace(',', '')):.0f} L")
    )
    assert less.batches == [] or less.batches[0].recipe.volume < 0.95


COMMON = ["straw", "autumn leaves", "arborist chip", "grass clippings", "vegetable scraps", "horse manure"]


def stuff(name: str) -> Material:
    """Return a material of the catalogue."""
    found = material(name)
    assert found is not None
    return found


@draws(60)
@given(
    st.lists(st.sampled_from(COMMON), min_size=1, max_size=3, unique=True),
    st.sampled_from(COMMON),
    st.integers(50, 600),
    st.integers(22, 40),
)
def test_the_least_is_what_a_linear_programme_finds(
    names: list[str], added: str, mass: int, ratio: int
) -> None:
    """The least of a stuff that fills a bay is scipy's, and there is none where scipy finds none."""
    assume(added not in names)
    offers = [Offer(stuff(name), float(mass)) for name in names]
    aim = Aim(room=1.0, cn=(ratio - 5.0, ratio + 5.0), moisture=0.55)
    stuffs = [stuff(added), *(offer.material for offer in offers)]
    volume = numpy.array([1 / one["density"] for one in stuffs])
    dry = numpy.array([1 - one["moisture"] for one in stuffs])
    carbon, nitrogen = (dry * [one[key] for one in stuffs] for key in ("carbon", "nitrogen"))
    rows = [
        volume,
        -volume,
        carbon - (ratio + 5) * nitrogen,
        (ratio - 5) * nitrogen - carbon,
        numpy.array([one["moisture"] - 0.65 for one in stuffs]),
        *(
            volume * ([one.class_ == name for one in stuffs] - numpy.full(len(stuffs), 0.5))
            for name in ("wood", "green")
        ),
    ]
    cost = [1.0] + [0.0] * len(names)
    bounds = [(0, None)] + [(0, mass)] * len(names)
    answer = linprog(cost, rows, [1.0, -0.9, 0, 0, 0, 0, 0], bounds=bounds)
    found = least_of(offers, stuff(added), aim, 0.9)
    if answer.status == 0:
        assert found == pytest.approx(answer.fun, rel=1e-5, abs=1e-4)
        more = [*offers, Offer(stuff(added), (found or 0.0) * (1 + 1e-6) + 1e-6, number=9)]
        made = best_recipe(more, aim)
        assert made is not None
        assert made.volume >= 0.9 * (1 - 1e-5)
    else:
        assert found is None


def test_an_aim_that_gives_way_is_told(heap: Callable[..., Heap]) -> None:
    """A bay that would not be full at 30 is built off it, and the answer says how many and how far."""
    parts = (lot("yellow stalks", "830 L"), lot("coffee grounds", "170 L"))
    made = heap(*parts, target_cn=30)
    [batch] = made.batches[:1]
    assert batch.gives_way
    [sentence] = heap_sentences([made])
    assert sentence.startswith("heap: 1 of 1 batches give up the C:N of 30 aimed for and are built at ")
    kept = heap(*parts, target_cn=round(batch.recipe.cn, 3))
    assert not kept.batches[0].gives_way
    assert heap_sentences([kept]) == []


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        # At 30 nitrogen and carbon of 78 % wet manure and 12 % wet straw balance above 65 % water.
        ((lot("cattle manure", "1 m3"), lot("straw", "1 m3")), "at the aim it would be too wet: "),
        (
            (lot("coffee grounds", "400 L"), lot("autumn leaves", "500 L"), lot("straw", "300 L")),
            "coffee grounds may be no more than 20%",
        ),
        (
            (lot("yellow stalks", "830 L"), lot("coffee grounds", "170 L")),
            "at the aim the bay would not be full",
        ),
    ],
)
def test_what_bars_the_aim_is_told(heap: Callable[..., Heap], parts: Any, says: str) -> None:
    """Water or a ceiling that keeps a heap from the C:N aimed for is told; else that too little comes in."""
    made = heap(*parts, target_cn=30)
    assert made.batches[0].gives_way
    [told] = [sentence for sentence in heap_sentences([made]) if "give up" in sentence]
    assert says in told


@pytest.mark.parametrize(
    ("bay", "turns", "says"),
    [
        ("0.6 m3", "2 weeks", "under 0.75 m3 turning makes none hot"),
        ("1 m3", "3 months", "it is not within 36 days"),
        ("1 m3", "2 weeks", ""),
    ],
)
def test_turns_that_do_nothing_are_told(heap: Callable[..., Heap], bay: str, turns: str, says: str) -> None:
    """Who writes how often a heap is turned and sees no turns among the jobs is told why."""
    made = heap(lot("yellow stalks", "830 L"), lot("coffee grounds", "170 L"), bay=bay, turn_every=turns)
    assert made.batches
    told = [sentence for sentence in heap_sentences([made]) if "not turned" in sentence]
    assert len(told) == bool(says)
    assert all(sentence.endswith(f": {says}.") for sentence in told)


def test_an_aim_that_nothing_reaches_says_so(heap: Callable[..., Heap]) -> None:
    """Of muck of 21.5 and hay of 27.5 no mix has 30: that is why, and no lack of stuff to fill the bay."""
    made = heap(lot("horse manure", "5 m3"), lot("hay", "5 m3"), target_cn=30)
    stuffs = [offer.cn for offer in made.batches[0].recipe.offers]
    assert max(stuffs) < 30
    [sentence] = [line for line in heap_sentences([made]) if "give up" in line]
    assert sentence.endswith(f": nothing that goes in has more than {max(stuffs):.1f}.")
