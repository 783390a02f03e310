"""Amounts of a material: from loose volume to wet and dry mass, what they hold, and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrowful.catalogue.figures import computed
from barrowful.catalogue.materials import Material

FIGURES = {
    "density": ("density", 600.0),
    "moisture": ("share", 0.4),
    "nitrogen": ("share", 0.02),
    "in_place": ("share", 0.8),
}
SIZE = st.floats(0.001, 1000.0)


def stuff(*names: str) -> Material:
    """Return a material with some of the figures above."""
    figures = {name: computed(name, *FIGURES[name]) for name in names}
    return Material("trial stuff", "compost", "for trial", figures)


WHOLE = stuff(*FIGURES)


def test_two_cubic_metres_by_hand() -> None:
    """2 m3 at 600 kg/m3 weigh 1200 kg, 720 of them dry, which hold 14.4 kg of nitrogen."""
    assert WHOLE.wet_mass(2.0) == 1200.0
    assert WHOLE.dry_mass(2.0) == pytest.approx(720.0)
    assert WHOLE.holds(2.0, "nitrogen") == pytest.approx(14.4)
    assert WHOLE.in_each_wet("nitrogen") == pytest.approx(0.012)
    assert WHOLE.loose_for_settled(2.0) == 2.5
    assert WHOLE.settled_depth(0.125) == pytest.approx(0.1)


@given(SIZE)
def test_each_way_turns_back(size: float) -> None:
    """Volume to mass and back, wet to dry and back, spread to settled and back."""
    assert WHOLE.loose_of(WHOLE.wet_mass(size)) == pytest.approx(size)
    assert WHOLE.wet_of(WHOLE.dry_of(size)) == pytest.approx(size)
    assert WHOLE.settled_depth(WHOLE.loose_for_settled(size)) == pytest.approx(size)
    assert WHOLE.holds(size, "nitrogen") == pytest.approx(
        WHOLE.in_each_wet("nitrogen") * WHOLE.wet_mass(size)
    )


def test_what_is_not_known_is_not_made_up() -> None:
    """Without a density or a moisture there is no mass; what does not say how it settles does not settle."""
    with pytest.raises(KeyError, match="density"):
        stuff("moisture").wet_mass(1.0)
    with pytest.raises(KeyError, match="moisture"):
        stuff("density").dry_mass(1.0)
    with pytest.raises(KeyError, match="nitrogen"):
        stuff("density", "moisture").holds(1.0, "nitrogen")
    assert stuff("density").loose_for_settled(2.0) == 2.0
    assert stuff("density").settled_depth(0.1) == 0.1
