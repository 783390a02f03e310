"""The door of a calculation, and what carries a problem."""

from __future__ import annotations

import pytest

from barrowful.measures.dimensions import checked, named, relation
from barrowful.measures.problems import (
    BarrowfulError,
    CannotMeet,
    CannotReadWrite,
    Mark,
    Problem,
    SiteProblems,
    WrongUse,
    did_you_mean,
)
from barrowful.measures.quantities import Ranged, quantity


@relation("mass", loose="volume", density="density")
def weight(loose: float, density: float, times: int = 1) -> float:
    """Return a mass [kg] so many times over."""
    return loose * density * times


def test_door_converts_and_gives_back_a_quantity() -> None:
    """Quantities in any unit go in by place or by name; the answer carries its unit."""
    loose, density = quantity(500.0, "L"), quantity(0.6, "t/m3")
    assert checked(weight)(loose, density).to("kg").magnitude == pytest.approx(300.0)
    assert checked(weight)(density=density, loose=loose, times=2).to("kg").magnitude == pytest.approx(600.0)
    assert str(checked(weight)(loose, density).units) == "kilogram"


def test_plain_function_stays_at_hand() -> None:
    """A declared relation stays the plain function, and knows its dimensions."""
    assert weight(0.5, 600.0) == 300.0
    assert weight.gives == "mass"
    assert weight.takes == {"loose": "volume", "density": "density"}
    assert weight.__name__ == "weight"
    assert weight.__doc__ == "Return a mass [kg] so many times over."


def test_every_wrong_dimension_is_named_at_once() -> None:
    """Both mistakes are told, by argument, unit and dimension."""
    with pytest.raises(
        ValueError, match=r"^weight: loose: meter is not a volume; density: kilogram is not a density$"
    ):
        checked(weight)(quantity(1.0, "m"), quantity(1.0, "kg"))


def test_missing_argument_is_refused() -> None:
    """An argument left out or made up is a TypeError, as for any function."""
    with pytest.raises(TypeError, match="density"):
        checked(weight)(quantity(1.0, "m3"))
    with pytest.raises(TypeError, match="height"):
        checked(weight)(quantity(1.0, "m3"), quantity(1.0, "kg/m3"), height=3)


def test_range_goes_in_as_its_likely_value() -> None:
    """A low, likely and high value is checked and used by the likely one."""
    density = Ranged(quantity(475.0, "kg/m3"), quantity(600.0, "kg/m3"), quantity(850.0, "kg/m3"))
    assert checked(weight)(quantity(1.0, "m3"), density).to("kg").magnitude == pytest.approx(600.0)
    with pytest.raises(ValueError, match=r"loose: .* is not a volume"):
        checked(weight)(density, density)


def test_bare_number_is_refused_by_name() -> None:
    """A number or a text where a quantity is due is a TypeError that says what is expected where."""
    with pytest.raises(
        TypeError,
        match=r"^weight: loose: a volume as a quantity is expected, not 5; density: a density .*, not 6\.0$",
    ):
        checked(weight)(5, 6.0)
    with pytest.raises(TypeError, match=r"^weight: density: a density as a quantity is expected, not 640 kg"):
        checked(weight)(quantity(1.0, "m3"), density="640 kg/m3")


def test_article_fits_the_dimension() -> None:
    """A message says an area and a length."""
    with pytest.raises(ValueError, match=r"^room: side: kilogram is not an area$"):
        checked(relation("area", side="area")(room))(quantity(1.0, "kg"))
    assert named("area yield") == "an area yield"
    assert named("hours") == "hours"


def room(side: float) -> float:
    """Return what is given."""
    return side


def test_mistake_in_the_decoration_fails_at_once() -> None:
    """A dimension that does not exist, or an argument that does not, is found when the module is loaded."""
    with pytest.raises(TypeError, match=r"unknown dimensions \['heaviness'\]"):
        relation("heaviness", loose="volume")
    with pytest.raises(TypeError, match=r"unknown dimensions \['bulk'\]"):
        relation("mass", loose="bulk")
    with pytest.raises(TypeError, match=r"unknown dimensions \['bulk', 'int'\]"):
        relation("mass", loose=["bulk"], times=(int, "volume"))
    with pytest.raises(TypeError, match=r"weight has no parameters \['depth'\]"):
        relation("mass", depth="length")(weight)


def test_problem_prints_its_place() -> None:
    """A problem reads as file, line, column, sentence and code; without a line it names the file alone."""
    assert str(Problem("site.yaml", 3, 7, "bare-number", "no unit")) == "site.yaml:3:7: no unit [bare-number]"
    assert str(Problem("site.yaml", 0, 0, "empty", "nothing in it")) == "site.yaml: nothing in it [empty]"


def test_problems_stand_in_file_order_and_once() -> None:
    """However they were found, problems are told from top to bottom and none twice."""
    late, soon = Problem("a", 9, 1, "x", "late"), Problem("a", 2, 5, "y", "soon")
    carried = SiteProblems([late, soon, late])
    assert carried.problems == (soon, late)
    assert str(carried).splitlines() == [str(soon), str(late)]
    assert Mark(2, 5) < Mark(9, 1)


@pytest.mark.parametrize(
    ("kind", "code"),
    [(SiteProblems, 1), (WrongUse, 2), (CannotMeet, 3), (CannotReadWrite, 5), (BarrowfulError, 70)],
)
def test_each_error_has_its_exit_code(kind: type[BarrowfulError], code: int) -> None:
    """The shell can tell the kinds of failure apart."""
    assert kind.exit_code == code
    assert issubclass(kind, BarrowfulError)


def test_nearest_word() -> None:
    """A near miss is named and a far one is not."""
    assert did_you_mean("dept", ["depth", "dose"]) == '; did you mean "depth"?'
    assert did_you_mean("xyzzy", ["depth", "dose"]) == ""
    assert did_you_mean("depth", []) == ""


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("head cabbage", '"cabbage"'),
        ("field beans", '"broad bean", "runner bean" or "snap bean"'),
        ("beans", '"broad bean", "runner bean" or "snap bean"'),
        ("potato onions", '"onion"'),
        ("tomato plants", '"tomato"'),
        ("corn salad", ""),
        ("sea holly", ""),
    ],
)
def test_a_sort_is_known_by_its_words(name: str, meant: str) -> None:
    """What a sort is of is named, all that it may be of; corn salad is no corn. Where none is asked for none is."""
    crops = [
        "broad bean",
        "cabbage",
        "onion",
        "runner bean",
        "snap bean",
        "sweet corn",
        "tomato",
        "winter cabbage",
    ]
    assert did_you_mean(name, crops, 0.75, sorts=True) == (f"; did you mean {meant}?" if meant else "")
    assert did_you_mean(name, crops, 0.75) in {"", '; did you mean "tomato"?'}
