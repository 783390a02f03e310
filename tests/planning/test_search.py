"""What the search itself finds, without the rows of options that a plan may fall back on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from plan_sites import planned_site

from barrowful.answers.choices import whole_site
from barrowful.answers.options import options
from barrowful.planning.calendar import Calendar
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.proof import lines_of_parts, proved
from barrowful.planning.search import Search
from barrowful.site.load import load

Plain = dict[str, Any]


@pytest.mark.parametrize("seed", [351])
def test_it_knows_what_a_row_does(bytes_of: Callable[[Plain], bytes], seed: int) -> None:
    """No row is cheaper than what it takes for the least.

    On site 351 what raises a bed brings more nitrogen than its first season wants; the next is fed.
    """
    answer = options(load(bytes_of(planned_site(seed)), "field.yaml").site)
    search = Search(SiteProgramme(answer, Calendar(answer), Limited.of(answer)))
    search.run()
    rows = [proved(answer, lines_of_parts(row.together.parts)) for row in whole_site(answer)]
    most = max(len(row.whole.places_met) for row in rows)
    assert search.proven
    assert search.stages[-1].met >= most
    assert search.bound <= min(row.cost for row in rows if len(row.whole.places_met) == most) + 0.001
