"""What is taken over from the answer of a site nearby: it comes out as if everything were worked out anew."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.cases import Standing
from barrowful.answers.choices import whole_site
from barrowful.answers.lines import option_lines, whole_lines
from barrowful.answers.nearby import differences
from barrowful.answers.options import Answer, options
from barrowful.answers.search import best_of
from barrowful.site.load import build, load
from barrowful.site.records import Site
from barrowful.site.ways import WAYS, Buy
from barrowful.sitefile.text.edit import set_values, value_at
from barrowful.tables.options import OPTIONS
from barrowful.tables.whole_site import WHOLE_SITE

DEMO = Path(__file__).parents[2] / "demo" / "crooked-ladle-orchard.yaml"
SiteOf = Callable[..., Site]


@cache
def standing() -> Any:
    """Return the demo site as it stands, with the answer that others are near, searched through."""
    loaded = load(DEMO.read_bytes(), "demo.yaml")
    answer = options(loaded.site)
    best_of(answer)
    return loaded, answer


def rows(answer: Answer) -> tuple[list[Any], list[Any]]:
    """Return all that is told of an answer's options and of the whole site."""
    whole = whole_lines(answer.site, whole_site(answer))
    return OPTIONS.table(option_lines(answer)).rows, WHOLE_SITE.table(whole).rows


@pytest.mark.parametrize(
    "change",
    [
        "ways.yard compost.buy.price=90 EUR/m3", "ways.lane chip.buy.price=300 EUR/load",
        "ways.yard compost.buy.lead=9 weeks", "labour.push=300 m", "limits.by=2028-01-01",
        "places.kitchen beds.needs.raise.organic_matter=3 %", "places.old apples.needs.cover.depth=4 cm",
        "start=2027-05-01",
    ],
)  # fmt: skip
def test_an_answer_beside_another_is_the_answer_by_itself(change: str) -> None:
    """Every cell of every row is what it is without the other."""
    loaded, near = standing()
    site = build(set_values(loaded.document, [tuple(change.split("=", 1))])).site
    assert rows(options(site, near=near)) == rows(options(site))


DEMOS = sorted(DEMO.parent.glob("*.yaml"))


@cache
def standing_at(demo: Path) -> Standing:
    """Return a demo as it stands."""
    return Standing(load(demo.read_bytes(), demo.name))


@draws(40)
@given(st.data())
def test_at_any_price_a_case_is_the_answer_by_itself(data: st.DataObject) -> None:
    """Pairs and mixes, whose amounts go by prices, and what was searched through before change nothing."""
    demo = data.draw(st.sampled_from(DEMOS))
    base = standing_at(demo)
    sold = [way.name for way in base.case.loaded.site.ways if isinstance(way, Buy)]
    names = data.draw(st.lists(st.sampled_from(sold), min_size=1, max_size=2, unique=True))
    changes = []
    for name in names:
        price = value_at(base.case.loaded.document, f"ways.{name}.buy.price")
        assert price is not None
        times = data.draw(st.sampled_from(["0.02", "0.5", "0.97", "1.04", "2", "30"]))
        amount, unit = price.split(" ", 1)
        changes.append((f"ways.{name}.buy.price", f"{Decimal(amount) * Decimal(times)} {unit}"))
    case = base.beside("case", base.changed("case", changes))
    alone = options(build(set_values(base.case.loaded.document, changes)).site)
    assert rows(case.answer) == rows(alone)
    assert WHOLE_SITE.table(case.whole_lines().values()).rows == rows(alone)[1]


#: What each term of a way may be beside what it is, on the small site.
TERMS = {
    "price": "70 EUR/load", "whole_loads": "false", "step": "2 m3", "minimum": "3 m3", "delivery": "90 EUR",
    "truck": "0.5 m3", "payload": "300 kg", "box": "0.4 m3", "trip": "2 h", "tax": "50 %", "drop": "road",
    "seller": "mill", "origin": "walnut", "notes": "ring first", "tax_included": "true", "drop_at": "gate",
    "left": "300 L",
}  # fmt: skip


@pytest.mark.parametrize("term", TERMS)
def test_terms_change_costs_and_nothing_that_is_put_on(
    term: str, site_of: SiteOf, bed: Any, buy: Any
) -> None:
    """What is called a term of a seller changes no dose: what is taken over with it comes out the same."""
    places = [bed({"dress": {"depth": "3 cm"}}, {"cover": {"depth": "6 cm"}})]
    chip = buy("crew", "chipped wood", "20 EUR/m3")
    yard = buy(price="40 EUR/load", load="1 m3")
    before = site_of(places, [yard, chip])
    after = site_of(places, [{**yard, "buy": {**yard["buy"], term: TERMS[term]}}, chip])
    differs = differences(before, after)
    assert differs is not None
    assert (differs.costing, differs.bringing) == ({"yard"}, frozenset())
    near = options(before)
    best_of(near)
    assert rows(options(after, near=near)) == rows(options(after))


def test_terms_are_fields_and_told_here() -> None:
    """Each term is a field of its record, and those of sellers are all tried above or follow from one that is."""
    for way in WAYS.values():
        assert way.terms <= set(way.__dataclass_fields__)
    assert WAYS["buy"].terms - set(TERMS) == {"selling", "bag_mass", "left_on"}


def test_what_stands_on_or_draws_on_what_differs_differs_too(site_of: SiteOf, bed: Any, buy: Any) -> None:
    """A heap is another with a way it draws on, whatever of it is another; what else there is stays."""
    heap = {"name": "heap", "make": {"bay": "1 m3", "from": [{"way": "yard"}]}}
    later = {"name": "later", "make": {"bay": "1 m3", "left": "true", "from": [{"way": "crew"}]}}
    ways = [buy(), buy("crew", "chipped wood"), heap, later]
    before = site_of([bed({"dress": {"depth": "3 cm"}})], ways)
    after = site_of([bed({"dress": {"depth": "3 cm"}})], [buy(price="9 EUR/m3"), *ways[1:]])
    differs = differences(before, after)
    assert differs is not None
    assert (differs.costing, differs.bringing) == ({"yard", "heap"}, {"heap"})
    assert differences(before, site_of([], ways, hemisphere="south")) is None
