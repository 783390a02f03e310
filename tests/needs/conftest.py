"""What the tests of needs share: stuff, a bed with one need, and the days on which raw manure is barred."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest

from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.site.records import Place, Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
#: 330 kg dry in each m3, with 4.62 kg of nitrogen and 0.825 kg of phosphorus; it does not settle.
DARK: dict[str, Any] = {
    "class": "compost",
    "density": "600 kg/m3",
    "moisture": "45 %",
    "organic_matter": "42 %",
    "carbon": "22 %",
    "nitrogen": "1.4 %",
    "phosphorus": "0.25 %",
    "potassium": "0.9 %",
    "in_place": "100 %",
    "decay": "0.8 /year",
    "humus": "70 %",
    "available_nitrogen": "5 %",
    "lasts": "2 years",
}


@pytest.fixture(scope="session")
def dark() -> dict[str, Any]:
    """Give the words of compost with every figure stated."""
    return DARK


@pytest.fixture(scope="session")
def bed_with(site_of: SiteOf, bed: Describe) -> Callable[..., tuple[Site, Option]]:
    """Give a function that returns a site of one bed of 10 m2 with a need, and the option of one seller for it.

    What is sold is the dark stuff, but for what is said of it; or like something of the catalogue.
    """

    def build(
        need: dict[str, Any],
        stuff: dict[str, Any] | None = None,
        place: dict[str, Any] | None = None,
        others: tuple[dict[str, Any], ...] = (),
        **more: Any,
    ) -> tuple[Site, Option]:
        seller = {"name": "yard", "buy": {"material": "thing", "price": "40 EUR/m3"}}
        described = bed(need, *others, area=10, **(place or {}))
        words = stuff or {}
        thing = words if "like" in words else {**DARK, **words}
        site = site_of([described], [seller], materials={"thing": thing}, **more)
        return site, next(row for row in options(site).options if row.need == next(iter(need)))

    return build


def _within_wait(place: Place, day: date) -> bool:
    if place.harvest_from is None:
        return False
    wait = timedelta(120 if place.eaten_raw else 90)
    for year in range(day.year - 1, day.year + 2):
        harvest = date(year, *place.harvest_from)
        frost = date(year + (place.harvest_from > (10, 20)), 10, 20)
        if harvest - wait <= day <= frost:
            return True
    return False


@pytest.fixture(scope="session")
def within_wait() -> Callable[[Place, date], bool]:
    """Give a function that says whether raw manure is barred on a day, where it first freezes on 20 October."""
    return _within_wait
