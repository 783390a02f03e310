"""Lists whose order means nothing: what stands in one twice is asked about."""

from __future__ import annotations

import pytest

from barrowful.site.load import load

SITE = """\
site: Far Side
currency: EUR
start: 2027-03-01
climate: {annual_mean: 12 degC, rain_months: [11, 12, 1]}
places:
  - {name: bed, kind: bed, shape: {area: 9 m2}, ways: [chip], limits: {lift: [suits]}}
ways:
  - {name: chip, buy: {material: chips, price: 9 EUR/m3}}
materials:
  chips: {like: arborist chip, flags: [burns]}
"""


@pytest.mark.parametrize(
    ("once", "path", "word"),
    [
        ("rain_months: [11, 12, 1", "climate.rain_months", "1"),
        ("ways: [chip", "places.bed.ways", "chip"),
        ("lift: [suits", "places.bed.limits.lift", "suits"),
        ("flags: [burns", "materials.chips.flags", "burns"),
    ],
)
def test_a_word_that_stands_twice(once: str, path: str, word: str) -> None:
    """It is warned of where the list stands; the site is the same as without."""
    before, twice = load(SITE.encode(), "x.yaml"), SITE.replace(once, f"{once}, {word}")
    after = load(twice.encode(), "x.yaml")
    more = [of for of in after.warnings if of not in before.warnings]
    assert [(of.code, of.message) for of in more] == [
        ("twice", f'{path}: "{word}" stands there more than once')
    ]
    assert after.site == before.site
