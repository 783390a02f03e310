"""The day a plan is ready: what comes after a need is first met keeps it met, and is not waited for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.choices import your_plan
from barrowful.answers.options import options
from barrowful.site.load import load

Plain = dict[str, Any]


@pytest.mark.parametrize("hours", [{}, {"labour": {"hours_per_week": "40 h"}}])
def test_a_raise_is_ready_once_it_is_reached(
    bytes_of: Callable[[Plain], bytes], bed: Callable[..., Plain], hours: Plain
) -> None:
    """A bed that is raised at once and topped up before its day is due was ready at first, hours or none."""
    need = {"raise": {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2028-09-01"}}
    line = {"place": "bed", "need": "raise", "way": "yard"}
    described = {
        "horizon": "2 years",
        "places": [bed(need, area=10, name="bed")],
        "ways": [{"name": "yard", "buy": {"material": "dark stuff", "price": "40 EUR/m3"}}],
        "plan": [
            {**line, "amount": "500 L", "date": "2027-04-01"},
            {**line, "amount": "50 L", "date": "2028-03-15"},
        ],
    }
    whole = your_plan(options(load(bytes_of({**described, **hours}), "field.yaml").site))
    assert whole.met == ("raise",)
    assert whole.ready_on == date(2027, 4, 1)
