"""What the tests of costs share: a seller written as a grower writes one."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from barrowful.site.load import load
from barrowful.site.ways import Buy

Seller = Callable[..., Buy]


@pytest.fixture(scope="session")
def seller() -> Seller:
    """Give a function that returns a seller's terms; the stuff weighs 600 kg/m3 unless said otherwise."""

    def terms(price: str, density: str = "600 kg/m3", currency: str = "EUR", **more: str | bool) -> Buy:
        stuff = {"like": "green compost", "density": density}
        way = {"name": "yard", "buy": {"material": "dark stuff", "price": f"{price}", **more}}
        data = {
            "site": "Field",
            "currency": currency,
            "start": "2027-03-01",
            "places": [],
            "ways": [way],
            "materials": {"dark stuff": stuff},
        }
        found = load(json.dumps(data).encode(), "field.yaml").site.ways[0]
        assert isinstance(found, Buy)
        return found

    return terms
