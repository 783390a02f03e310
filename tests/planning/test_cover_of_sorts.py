"""A cover of several sorts of stuff lies no deeper than one of a single sort: a small invented bed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from plan_lines import planned

from barrowful.answers.options import options
from barrowful.needs.layers import Covered
from barrowful.site.load import load
from barrowful.site.needs import Cover

Plain = dict[str, Any]


def of_depot(name: str, material: str) -> Plain:
    """Return a way of a seller who brings all in one trip of 50 EUR."""
    buy = {"material": material, "price": "5 EUR/m3", "delivery": "50 EUR", "seller": "depot"}
    return {"name": name, "buy": buy}


CHIP, YARD = of_depot("chip", "arborist chip"), of_depot("yard", "green compost")
STRAW = of_depot("straw", "straw")


@pytest.mark.parametrize("layer", ["0 cm", "2 cm"])
@pytest.mark.parametrize("ways", [[CHIP, YARD], [CHIP, STRAW, YARD]])
@pytest.mark.parametrize("horizon", [3, 4])
def test_a_cover_of_several_sorts_lies_no_deeper_than_one(
    bytes_of: Callable[[Plain], bytes], bed: Callable[..., Plain], ways: list[Plain], layer: str, horizon: int
) -> None:
    """Asked for 4 cm, all of them together are 5 cm at the most where any goes on, though more would spare a trip."""
    places = [bed({"cover": {"depth": "4 cm"}}, area=10, layer_now=layer)]
    described = {"horizon": f"{horizon} years", "places": places, "ways": ways}
    answer = options(load(bytes_of(described), "field.yaml").site)
    plan = planned(answer)
    assert plan is not None
    [place] = answer.site.places
    need = place.need("cover")
    assert isinstance(need, Cover)
    own = [dose for dose in plan.whole.together.all_doses if dose.kind == "cover"]
    assert plan.whole.met == ("cover",)
    assert own
    cover = Covered(answer.site, place, need, own)
    a_litre = 0.001 / 10 / 0.04  # on 10 m2, as a share of 4 cm: amounts are rounded up to it
    assert max(cover.on(dose.number) for dose in own) <= 1.25 + len(ways) * a_litre
