"""Heap recipes against a linear programme solved by scipy: the fullest, and the cheapest of those."""

from __future__ import annotations

from random import Random

import numpy
import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.catalogue.figures import computed
from barrowful.catalogue.materials import Material, material
from barrowful.supplies.heap.recipe import Aim, Offer, Recipe, best_recipe

#: Too wet to build above this, unless a wetter heap is aimed for (Cooperband 2002).
WETTEST = 0.65


#: What is limited in a heap: class and flags, the share, and whether it is of the weight (feeding handbooks,
#: extension sheets and judgement, as the catalogue's ceilings say).
SHARES: dict[tuple[str, tuple[str, ...]], tuple[float, bool]] = {
    ("kitchen", ("coffee",)): (0.20, False),
    ("kitchen", ("citrus",)): (0.10, False),
    ("wood", ()): (0.50, False),
    ("green", ()): (0.50, False),
    ("manure", ("bird",)): (0.20, False),
    ("fertiliser", ("ash",)): (0.01, False),
    ("paper", ()): (0.10, True),
    ("fertiliser", ()): (0.01, True),
}
#: What is not limited.
FREE: list[tuple[str, tuple[str, ...]]] = [("straw", ()), ("leaves", ()), ("kitchen", ()), ("manure", ())]


def aim(room: float, cn: tuple[float, float], moisture: float) -> Aim:
    """Return what a recipe keeps to."""
    return Aim(room=room, cn=cn, moisture=moisture)


def stuff(
    name: str,
    density: float,
    moisture: float,
    carbon: float,
    nitrogen: float,
    sort: tuple[str, tuple[str, ...]] = FREE[0],
) -> Material:
    """Return a material of given density [kg/m3] and shares, of a class and with flags."""
    base = material("straw")
    assert base is not None
    shares = {"moisture": moisture, "carbon": carbon, "nitrogen": nitrogen}
    figures = {key: computed(key, "share", value) for key, value in shares.items()}
    figures["density"] = computed("density", "density", density)
    return Material(name, sort[0], "", figures, frozenset(sort[1]))


@st.composite
def offers(draw: st.DrawFn) -> list[Offer]:
    """Draw what there is for a heap: two to five stuffs, some without limit, at whole prices."""
    found = []
    for index in range(draw(st.integers(2, 5))):
        carbon, ratio = draw(st.integers(25, 55)) / 100, draw(st.integers(8, 150))
        one = stuff(
            f"stuff {index}",
            draw(st.integers(6, 80)) * 10.0,
            draw(st.integers(5, 88)) / 100,
            carbon,
            carbon / ratio,
            draw(st.sampled_from([*SHARES, *FREE, *FREE])),
        )
        most = draw(st.one_of(st.integers(0, 500).map(float), st.just(float("inf"))))
        found.append(Offer(one, most, float(draw(st.integers(0, 20)))))
    return found


BANDS = st.tuples(st.integers(18, 45), st.integers(0, 15)).map(lambda two: (float(two[0]), float(sum(two))))
ROOMS = st.integers(2, 30).map(lambda tenths: tenths / 10)


class Programme:
    """The recipe as a linear programme over wet masses, written down apart."""

    def __init__(self, given: list[Offer], room: float, cn: tuple[float, float], moisture: float) -> None:
        def column(name: str) -> numpy.ndarray:
            return numpy.array([offer.material[name] for offer in given])

        dry = 1 - column("moisture")
        self.volumes, self.prices = 1 / column("density"), numpy.array([offer.price for offer in given])
        carbon, nitrogen = dry * column("carbon"), dry * column("nitrogen")
        wettest = max(moisture, WETTEST)
        self.rows = [
            self.volumes,
            carbon - cn[1] * nitrogen,
            cn[0] * nitrogen - carbon,
            column("moisture") - wettest,
        ]
        for (class_, flags), (most, by_weight) in SHARES.items():
            held = numpy.array(
                [
                    1.0
                    if (set(flags) <= offer.material.flags and (flags or offer.material.class_ == class_))
                    else 0.0
                    for offer in given
                ]
            )
            sizes = numpy.ones(len(given)) if by_weight else self.volumes
            self.rows.append(sizes * (held - most))
        self.limits = [room] + [0.0] * (len(self.rows) - 1)
        self.bounds = [(0, None if offer.most == float("inf") else offer.most) for offer in given]

    def fullest(self) -> float:
        """Return the greatest volume [m3]."""
        found = linprog(-self.volumes, self.rows, self.limits, bounds=self.bounds)
        assert found.status == 0
        return float(-found.fun)

    def cheapest(self, volume: float) -> float:
        """Return the least cost of filling so much."""
        rows, limits = [*self.rows, -self.volumes], [*self.limits, -volume]
        found = linprog(self.prices, rows, limits, bounds=self.bounds)
        assert found.status == 0
        return float(found.fun)


def volume(recipe: Recipe) -> float:
    """Return the loose volume of a recipe [m3]."""
    return sum(
        mass / offer.material["density"] for offer, mass in zip(recipe.offers, recipe.masses, strict=True)
    )


@draws(80)
@given(offers(), ROOMS, BANDS, st.integers(45, 70))
def test_as_full_as_a_linear_programme_makes_it(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int
) -> None:
    """No recipe within the limits fills more; where nothing fits, there is none."""
    best = Programme(given, room, cn, percent / 100).fullest()
    recipe = best_recipe(given, aim(room, cn, percent / 100))
    if best < 1e-6:
        assert recipe is None or volume(recipe) < 1e-5
    else:
        assert recipe is not None
        assert volume(recipe) == pytest.approx(best, rel=1e-5)


@draws(80)
@given(offers(), ROOMS, BANDS, st.integers(45, 70))
def test_the_cheapest_of_the_fullest(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int
) -> None:
    """Asked for the cheapest, a recipe still fills as much, and no recipe that does costs less."""
    programme = Programme(given, room, cn, percent / 100)
    best = programme.fullest()
    recipe = best_recipe(given, aim(room, cn, percent / 100), cheapest=True)
    if best < 1e-6:
        return
    assert recipe is not None
    assert volume(recipe) == pytest.approx(best, rel=1e-5)
    cost = sum(mass * offer.price for offer, mass in zip(recipe.offers, recipe.masses, strict=True))
    assert cost <= programme.cheapest(best * (1 - 1e-9)) * (1 + 1e-4) + 1e-4


@draws(80)
@given(offers(), ROOMS, BANDS, st.integers(45, 70), st.booleans())
def test_the_limits_are_kept(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int, cheapest: bool
) -> None:
    """C:N, room, what there is of each and the greatest moisture are kept, and water comes up to the aim."""
    moisture = percent / 100
    recipe = best_recipe(given, aim(room, cn, moisture), cheapest)
    if recipe is None or sum(recipe.masses) < 1e-3:
        return
    masses = numpy.array(recipe.masses)
    shares = {
        key: numpy.array([offer.material[key] for offer in recipe.offers])
        for key in ("moisture", "carbon", "nitrogen")
    }
    dry = masses * (1 - shares["moisture"])
    ratio = float(dry @ shares["carbon"] / (dry @ shares["nitrogen"]))
    assert cn[0] * (1 - 1e-4) <= ratio <= cn[1] * (1 + 1e-4)
    assert recipe.cn == pytest.approx(ratio)
    assert (masses >= 0).all()
    assert all(
        mass <= offer.most * (1 + 1e-6) + 1e-6 for offer, mass in zip(recipe.offers, masses, strict=True)
    )
    assert volume(recipe) <= room * (1 + 1e-6)
    for (class_, flags), (most, by_weight) in SHARES.items():
        sizes = masses if by_weight else masses / [offer.material["density"] for offer in recipe.offers]
        held = [
            bool(offer.material.flags & set(flags)) if flags else offer.material.class_ == class_
            for offer in recipe.offers
        ]
        assert sizes[held].sum() <= most * sizes.sum() * (1 + 1e-4) + 1e-6
    wet = float(masses @ shares["moisture"] / masses.sum())
    assert wet <= max(moisture, WETTEST) + 1e-5
    watered = (float(masses @ shares["moisture"]) + recipe.water) / (masses.sum() + recipe.water)
    assert recipe.water >= 0
    assert watered == pytest.approx(max(moisture, wet), abs=1e-5)
    assert recipe.moisture == pytest.approx(watered)


def test_the_order_of_offers_is_nothing_to_it() -> None:
    """The same offers in another order fill as much at the same cost."""
    given = [
        Offer(stuff("chip", 280, 0.45, 0.48, 0.0045), 400, 2),
        Offer(stuff("grounds", 480, 0.6, 0.5, 0.022), 300, 5),
        Offer(stuff("grass", 300, 0.82, 0.43, 0.032), 250, 0),
    ]
    found = []
    for order in (given, given[::-1], [given[1], given[2], given[0]]):
        recipe = best_recipe(order, aim(1.0, (30, 30), 0.55), cheapest=True)
        assert recipe is not None
        cost = sum(mass * offer.price for offer, mass in zip(recipe.offers, recipe.masses, strict=True))
        found.append((round(volume(recipe), 6), round(cost, 4)))
    assert len(set(found)) == 1


def test_nothing_there_is_no_recipe() -> None:
    """Without stuff, or with stuff of one side of the aim alone, there is no recipe."""
    chip = stuff("chip", 280, 0.45, 0.48, 0.0045)
    assert best_recipe([], aim(1.0, (30, 30), 0.55)) is None
    assert best_recipe([Offer(chip, 0.0)], aim(1.0, (30, 30), 0.55)) is None
    assert best_recipe([Offer(chip, 500.0)], aim(1.0, (30, 30), 0.55)) is None


def test_stuff_without_nitrogen_makes_no_heap() -> None:
    """Stuff with neither carbon nor nitrogen meets any ratio with nothing; it is no recipe by itself."""
    ash = stuff("ash", 500.0, 0.1, 0.0, 0.0)
    assert best_recipe([Offer(ash, 100.0)], aim(1.0, (30.0, 30.0), 0.55)) is None
    greens, stalks = stuff("greens", 300.0, 0.8, 0.45, 0.03), stuff("stalks", 60.0, 0.1, 0.45, 0.005)
    mixed = best_recipe(
        [Offer(ash, 10.0), Offer(greens, 500.0), Offer(stalks, 500.0)], aim(1.0, (30.0, 30.0), 0.55)
    )
    assert mixed is not None
    assert mixed.cn == pytest.approx(30.0)


@draws(80)
@given(offers(), st.randoms(use_true_random=False), ROOMS, BANDS, st.integers(45, 70))
def test_the_order_changes_nothing(
    given: list[Offer], random: Random, room: float, cn: tuple[float, float], percent: int
) -> None:
    """In any order the same offers fill as much."""
    shuffled = random.sample(given, len(given))
    found = [best_recipe(each, aim(room, cn, percent / 100)) for each in (given, shuffled)]
    volumes = [0.0 if recipe is None else volume(recipe) for recipe in found]
    assert volumes[0] == pytest.approx(volumes[1], rel=1e-5, abs=1e-5)


@draws(80)
@given(offers(), ROOMS, BANDS, st.integers(45, 70))
def test_one_more_stuff_never_makes_less(
    given: list[Offer], room: float, cn: tuple[float, float], percent: int
) -> None:
    """With one more to choose from a heap is at least as full: what does no good is left out."""
    few, more = (best_recipe(each, aim(room, cn, percent / 100)) for each in (given[:-1], given))
    if few is not None:
        assert more is not None
        assert volume(more) >= volume(few) * (1 - 1e-5) - 1e-6


def test_a_ceiling_that_is_lifted_does_not_bind() -> None:
    """Coffee fills a fifth of a heap, and more where the grower lifts that."""
    grounds = stuff("grounds", 480, 0.6, 0.5, 0.022, ("kitchen", ("coffee",)))
    stalks = stuff("stalks", 60, 0.1, 0.45, 0.012)
    given = [Offer(grounds, 1000.0), Offer(stalks, 1000.0, 5.0)]
    bound = best_recipe(given, Aim(room=1.0, cn=(25, 35), moisture=0.55), cheapest=True)
    free = best_recipe(
        given, Aim(room=1.0, cn=(25, 35), moisture=0.55, lifted=frozenset({"heap_share"})), cheapest=True
    )
    assert bound is not None
    assert bound.masses[0] / 480 <= 0.2 * (1 + 1e-9)
    assert free is not None
    assert free.masses[0] / 480 > 0.21
    (share,) = bound.shares()
    assert share.told == "20% by volume"
    assert free.shares(frozenset({"heap_share"})) == ()
