"""What the tests of plans share: the bytes of a small site."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

Plain = dict[str, Any]


@pytest.fixture(scope="session")
def bytes_of(apart: Any) -> Callable[[Plain], bytes]:
    """Give a function that returns the file of a site of places, ways and more, with the tests' stuff."""

    def write(described: Plain) -> bytes:
        data: Plain = {
            "site": "Field",
            "currency": "EUR",
            "start": "2027-03-01",
            "climate": {"annual_mean": "15 degC"},
            "soil": {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"},
            "materials": apart.stuff,
        }
        return json.dumps({**data, **described}).encode()

    return write
