"""A site with values changed: only what changes is read anew, and it is the site of a file with the values."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from barrowful.measures.problems import SiteProblems
from barrowful.site.load import LoadedSite, build, load
from barrowful.sitefile.text.edit import set_values

DEMO = Path(__file__).parents[2] / "demo" / "crooked-ladle-orchard.yaml"


def told(make: Callable[[], LoadedSite]) -> object:
    """Return the records and warnings of a site, or its problems."""
    try:
        loaded = make()
    except SiteProblems as found:
        return found.problems
    return loaded.site, loaded.warnings


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("ways.yard compost.buy.price", "51 EUR/m3"),
        ("ways.lane chip.name", "lane wood"),
        ("places.kitchen beds.count", "4"),
        ("places.kitchen beds.name", "far beds"),
        ("measures.bucket", "9 L"),
        ("measures.barrow", "70 L"),
        ("materials.garden feed.nitrogen", "9 %"),
        ("labour.push", "90 m"),
        ("start", "2027-06-01"),
    ],
)
def test_what_is_read_before_changes_nothing(path: str, value: str) -> None:
    """Records, warnings and problems are those of the document read by itself; so once it is changed again."""
    loaded, changes = load(DEMO.read_bytes(), "demo.yaml"), [(path, value)]
    alone = told(lambda: build(set_values(loaded.document, changes)))
    assert told(lambda: loaded.changed(changes)) == alone
    twice = [("climate.annual_mean", "9 degC"), *changes]
    after = told(lambda: loaded.changed(twice[:1]).changed(changes))
    assert after == told(lambda: build(set_values(loaded.document, twice)))


def test_other_money_is_read_anew() -> None:
    """Prices that are not in the money of the site are problems, though none of them has changed."""
    loaded = load(DEMO.read_bytes(), "demo.yaml")
    with pytest.raises(SiteProblems, match="USD"):
        loaded.changed([("currency", "USD")])
