"""The order sheet says where stuff comes from, and what the grower noted of the seller."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.orders import sheet
from barrowful.answers.parts import parts
from barrowful.site.records import Site
from barrowful.tables.formats import FORMATS
from barrowful.tables.orders import ORDERS
from barrowful.tables.report import Look, Report
from barrowful.tables.sharing import SHARING

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]


@pytest.fixture
def site(site_of: SiteOf, bed: Describe, buy: Describe) -> Site:
    """Give a site with a bed to dress from a seller, and one to cover from a pile that is there."""
    pile = {"name": "pile", "have": {"material": "yellow stalks", "amount": "3 m3", "origin": "the lane"}}
    seller = buy(origin="park trees", notes="ring the day before")
    plain = bed({"dress": {"depth": "2 cm"}}, ways=["yard"])
    berries = bed({"cover": {"depth": "4 cm"}}, name="berries", ways=["pile"])
    return site_of([plain, berries], [seller, pile], horizon="1 year")


def test_the_sheet_says_where_stuff_comes_from(site: Site) -> None:
    """What is bought says so with its order, and what is on hand where it is shared out."""
    ordered = sheet(site)
    orders, shares = ORDERS.table(ordered.orders), SHARING.table(parts(ordered))
    (order,) = orders.rows
    assert (order["way"], order["origin"], order["notes"]) == ("yard", "park trees", "ring the day before")
    assert {row["way"]: row["origin"] for row in shares.rows} == {"yard": None, "pile": "the lane"}


def test_a_screen_has_them_as_notes(site: Site) -> None:
    """On a screen origin and notes are numbered under their table."""
    ordered = sheet(site)
    tables = [ORDERS.table(ordered.orders), SHARING.table(parts(ordered))]
    lines = FORMATS["table"].write(Report("orders", site.name, site.currency, tables), Look()).splitlines()
    assert [line for line in lines if line[:3] in {"1  ", "2  "}] == [
        "1  park trees",
        "2  ring the day before",
        "1  the lane",
    ]


def test_nothing_is_said_where_nothing_is_known(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A seller of whom nothing is said has nothing in these columns."""
    ordered = sheet(site_of([bed({"dress": {"depth": "2 cm"}})], [buy()]))
    (order,) = ORDERS.table(ordered.orders).rows
    assert (order["origin"], order["notes"]) == (None, None)
    assert [row["origin"] for row in SHARING.table(parts(ordered)).rows] == [None]
