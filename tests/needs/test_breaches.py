"""A plan that is written is followed, with a warning for each ceiling it breaks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.instead import others_get_some
from barrowful.answers.options import options
from barrowful.answers.orders import Selection, decide
from barrowful.needs.breaches import breaches
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Warned = Callable[..., list[str]]
#: 25 g of nitrogen in each dry kg, of which 0.55 are in each kg; hardly any.
RICH, POOR = {"nitrogen": "2.5 %"}, {"nitrogen": "0.05 %"}


@pytest.fixture
def warned(site_of: SiteOf, bed: Describe, dark: dict[str, Any]) -> Warned:
    """Give a function that returns what is said of lines of a plan for a bed of 10 m2, each a need with words.

    ``puts`` are the kind of need, the amount and the day of each line.
    """

    def said(
        needs: list[dict[str, Any]],
        puts: list[tuple[str, str, str]],
        stuff: dict[str, Any] = POOR,
        place: dict[str, Any] | None = None,
        **more: Any,
    ) -> list[str]:
        thing = stuff if "like" in stuff else {**dark, **stuff}
        site = site_of(
            [bed(*needs, area=10, **(place or {}))],
            [{"name": "yard", "buy": {"material": "thing", "price": "40 EUR/m3"}}],
            materials={"thing": thing},
            plan=[
                {"place": "bed", "need": need, "way": "yard", "amount": amount, "date": day}
                for need, amount, day in puts
            ],
            **more,
        )
        chosen = decide(site)
        written = [dose.loose for dose in chosen.whole.together.all_doses]
        assert len(written) == len(puts)
        return [line for line in chosen.warnings if line.startswith("plan: ")]

    return said


DRESS, DAY = [{"dress": {"depth": "2 cm"}}], "2027-03-01"


@pytest.mark.parametrize(
    ("amount", "over"), [("0.25 m3", False), ("0.254 m3", False), ("0.256 m3", True), ("0.8 m3", True)]
)
def test_the_garden_rule_warns_above_an_inch(warned: Warned, amount: str, over: bool) -> None:
    """Oregon State EM 9308: an inch of compost a year on an established bed; above it a warning stands."""
    lines = warned(DRESS, [("dress", amount, DAY)])
    assert [line for line in lines if "(yearly_depth)" in line] == (lines if over else [])
    assert bool(lines) is over


def test_how_many_times_over_is_said(warned: Warned) -> None:
    """0.8 m3 on 10 m2 are 80 mm, 3.2 times the 25 of a year."""
    [line] = warned(DRESS, [("dress", "0.8 m3", DAY)])
    assert "bed: your plan puts on 3.2 times the most compost and manure in a year" in line


@pytest.mark.parametrize(("amount", "over"), [("18 kg", False), ("18.4 kg", False), ("18.6 kg", True)])
def test_the_farm_rule_warns_above_250_kg(warned: Warned, amount: str, over: bool) -> None:
    """250 kg of nitrogen a hectare are 18.18 kg of this on 10 m2; a sixtieth more still reads as that."""
    lines = warned(DRESS, [("dress", amount, DAY)], RICH, limits={"farm": True})
    assert any("(nitrogen)" in line for line in lines) is over


@pytest.mark.parametrize(
    ("limit", "over"), [("100 kg/ha", True), ("135 kg/ha", True), ("138 kg/ha", False), ("170 kg/ha", False)]
)
def test_a_limit_of_the_growers_own_warns_at_its_own_height(warned: Warned, limit: str, over: bool) -> None:
    """10 kg of this on 10 m2 are 137.5 kg N/ha."""
    lines = warned(DRESS, [("dress", "10 kg", DAY)], RICH, limits={"nitrogen": limit})
    assert any("(nitrogen)" in line for line in lines) is over


def test_the_limit_is_on_a_place_and_not_on_a_need(warned: Warned) -> None:
    """Two needs that each bring 137.5 kg/ha to one bed in one year bring it 275, above a limit of 170."""
    needs = [*DRESS, {"feed": {"nitrogen": "1 g/m2"}}]
    puts = [("dress", "10 kg", DAY), ("feed", "10 kg", "2027-09-01")]
    lines = warned(needs, puts, RICH, limits={"nitrogen": "170 kg/ha"})
    assert any("puts on 1.62 times the most total nitrogen in a year (nitrogen)" in line for line in lines)


@pytest.mark.parametrize("day", ["2028-03-01", "2028-02-29"])
def test_doses_a_year_apart_are_not_added(warned: Warned, day: str) -> None:
    """Two dressings of 2 cm are 2 cm a year where twelve months lie between them, and 4 where a day is lacking."""
    needs = [*DRESS, {"feed": {"nitrogen": "1 g/m2"}}]
    lines = warned(needs, [("dress", "0.2 m3", DAY), ("feed", "0.2 m3", day)])
    assert bool(lines) is (day == "2028-02-29")


def test_the_history_counts(warned: Warned) -> None:
    """2 cm put on last autumn and 2 more planned are over an inch; what was over before is no fault of the plan."""
    entry = {"date": "2026-10-01", "place": "bed", "material": "thing", "amount": "0.2 m3", "dug": True}
    assert warned(DRESS, [("dress", "0.2 m3", DAY)], history=[entry])
    deep = {**entry, "date": "2025-10-01", "amount": "0.9 m3"}
    assert not warned(DRESS, [("dress", "0.2 m3", DAY)], history=[deep])


@pytest.mark.parametrize(
    ("word", "warns"), [("low", False), ("medium", False), ("high", True), ("very high", True)]
)
def test_a_high_test_of_phosphorus_warns(warned: Warned, word: str, warns: bool) -> None:
    """Where the soil holds much phosphorus already, what brings more is warned of."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "phosphorus_test": word}
    lines = warned(DRESS, [("dress", "10 kg", DAY)], soil=soil)
    assert any("(phosphorus)" in line for line in lines) is warns


def test_where_none_may_go_on_that_is_said(warned: Warned) -> None:
    """At a very high test any phosphorus is too much, and no number of times says how much."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "phosphorus_test": "very high"}
    lines = warned(DRESS, [("dress", "10 kg", DAY)], soil=soil)
    assert lines == [
        "plan: bed: your plan puts some on, and what the soil's phosphorus allows is nothing: none may go on"
        " (phosphorus)"
    ]


@pytest.mark.parametrize(
    ("needs", "put", "stuff", "place", "words"),
    [
        (DRESS, ("dress", "10 kg", DAY), {"class": "wood"}, {}, "where vegetables grow"),
        (
            [{"cover": {"depth": "5 cm"}}],
            ("cover", "1.2 m3", DAY),
            {"in_place": "50 %"},
            {},
            "6.0 cm of it, 5.0 at most",
        ),
        ([{"fill": {"depth": "30 cm"}}], ("fill", "3 m3", DAY), {}, {}, "100% of it is compost"),
        (
            DRESS,
            ("dress", "10 kg", DAY),
            {"class": "manure"},
            {"harvest_from": "05-01"},
            "waits until 2027-10-26, for the harvest",
        ),
    ],
)
def test_what_one_dose_breaks_by_itself(
    warned: Warned,
    needs: list[dict[str, Any]],
    put: tuple[str, str, str],
    stuff: dict[str, Any],
    place: dict[str, Any],
    words: str,
) -> None:
    """What does not suit, lies too deep, fills too much or comes too near a harvest is said in its own words."""
    lines = warned(needs, [put], stuff, place)
    assert any(words in line for line in lines)


@pytest.mark.parametrize(
    ("needs", "put", "stuff", "ceiling"),
    [
        (DRESS, ("dress", "0.8 m3", DAY), POOR, "yearly_depth"),
        (DRESS, ("dress", "10 kg", DAY), {"class": "wood"}, "suits"),
        ([{"cover": {"depth": "5 cm"}}], ("cover", "1.2 m3", DAY), {"in_place": "50 %"}, "cover_depth"),
        ([{"fill": {"depth": "30 cm"}}], ("fill", "3 m3", DAY), {}, "fill_share"),
    ],
)
def test_what_is_lifted_is_not_warned_of(
    warned: Warned,
    needs: list[dict[str, Any]],
    put: tuple[str, str, str],
    stuff: dict[str, Any],
    ceiling: str,
) -> None:
    """A ceiling lifted by name is silent on plans too."""
    assert not warned(needs, [put], stuff, limits={"lift": [ceiling]})


def test_the_worst_of_many_places_stands_for_them(
    site_of: SiteOf, bed: Describe, dark: dict[str, Any]
) -> None:
    """Three beds over the same ceiling are one line: the worst, and that there are two more."""
    amounts = {"a": "0.3 m3", "b": "0.5 m3", "c": "0.4 m3"}
    site = site_of(
        [bed(*DRESS, area=10, name=name) for name in amounts],
        [{"name": "yard", "buy": {"material": "thing", "price": "40 EUR/m3"}}],
        materials={"thing": dark},
        plan=[
            {"place": name, "need": "dress", "way": "yard", "amount": amount, "date": DAY}
            for name, amount in amounts.items()
        ],
    )
    [line] = [line for line in decide(site).warnings if "yearly_depth" in line]
    assert line.startswith("plan: b: your plan puts on 2 times the most")
    assert line.endswith("so it is in 2 more places")


@pytest.fixture
def followed(site_of: SiteOf, bed: Describe, buy: Describe) -> Callable[..., Selection]:
    """Give a function that returns what is followed of lines of a plan for beds of 10 m2 to be dressed 5 cm deep."""

    def follow(*lines: dict[str, str], deep: str = "5 cm") -> Selection:
        beds = [bed({"dress": {"depth": deep}}, name=name) for name in ("bed", "other")]
        plan = [{"place": "bed", "need": "dress", "way": "yard", **line} for line in lines]
        return decide(site_of(beds, [buy()], plan=plan))

    return follow


@pytest.mark.parametrize("line", [{}, {"date": "2027-04-10"}])
def test_a_line_without_an_amount_that_stops_is_warned_of(
    followed: Callable[..., Selection], line: dict[str, str]
) -> None:
    """Of 5 cm 25 mm go on, half; the need is not called met, and what goes on is ordered, on the day given."""
    said = followed(line)
    assert said.warnings == [
        "plan: bed, dress by yard: stops at the most compost and manure in a year (yearly_depth); 50% of it is met"
    ]
    assert ("dress", "bed") not in said.whole.places_met
    [dose] = said.whole.together.all_doses
    assert dose.loose == pytest.approx(0.25)
    assert f"{dose.day}" == line.get("date", "2027-03-01")
    assert said.remarks == [
        "dress, other: it is not in your plan; nothing is ordered for it.",
        "dress, bed: stops at the most compost and manure in a year (yearly_depth); what goes part of the way is"
        " ordered for it.",
    ]
    assert others_get_some(said.whole, "dress") == "; 1 of them gets a part"


def test_many_lines_that_stop_are_one_warning(followed: Callable[..., Selection]) -> None:
    """The line that is met least is named, with how many more there are."""
    [warning] = followed({}, {"place": "other", "date": "2027-05-01"}).warnings
    assert warning.endswith("50% of it is met (and 1 more not met)")


def test_a_line_without_an_amount_that_does_is_not_warned_of(followed: Callable[..., Selection]) -> None:
    """25 mm go on whole; what stands in no line is said not to be in the plan."""
    said = followed({}, deep="25 mm")
    assert said.warnings == []
    assert said.remarks == ["dress, other: it is not in your plan; nothing is ordered for it."]


def test_a_line_that_puts_nothing_on_is_warned_of(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Wood does not suit a bed that is dressed: nothing of it goes on, and the reason is given."""
    plan = [{"place": "bed", "need": "dress", "way": "yard"}]
    site = site_of([bed({"dress": {"depth": "2 cm"}})], [buy(material="chipped wood")], plan=plan)
    [warning] = decide(site).warnings
    assert warning.startswith("plan: bed, dress by yard: wood is neither dressed")
    assert warning.endswith("; nothing goes on")


LIMED = [{"lime": {"ph": 6.5}}, {"feed": {"nitrogen": "8 g/m2"}}]
LIME = {"name": "lime", "buy": {"material": "ground limestone", "price": "1 EUR/kg"}}
MUCK = {"name": "muck", "buy": {"material": "horse manure", "price": "40 EUR/m3"}}


@pytest.mark.parametrize(
    ("fed", "told"),
    [
        ("2027-03-01", "muck on 2027-03-01 and lime on 2027-03-15 are 14 days apart"),
        ("2027-03-15", "lime on 2027-03-15 and muck on 2027-03-15 are 0 days apart"),
        ("2027-04-11", "lime on 2027-03-15 and muck on 2027-04-11 are 27 days apart"),
        ("2027-04-12", ""),
        ("2028-03-01", ""),
    ],
)
def test_lime_and_manure_too_near_each_other_are_told(
    site_of: SiteOf, bed: Describe, fed: str, told: str
) -> None:
    """They are kept four weeks apart, whichever goes on first."""
    plan = [
        {"place": "bed", "need": "lime", "way": "lime", "amount": "5 kg", "date": "2027-03-15"},
        {"place": "bed", "need": "feed", "way": "muck", "amount": "20 L", "date": fed},
    ]
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "ph": 5.8}
    site = site_of([bed(*LIMED, area=10)], [LIME, MUCK], plan=plan, soil=soil)
    lines = [line for line in decide(site).warnings if "lose nitrogen together" in line]
    because = "and lime and fresh manure lose nitrogen together: keep 28 days between them"
    assert lines == ([f"plan: bed: {told}, {because}"] if told else [])


def test_what_was_limed_counts_for_manure_and_is_not_told_by_itself(site_of: SiteOf, bed: Describe) -> None:
    """Manure planned ten days after logged lime is told; lime and manure of the history alone are done."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "ph": 5.8}
    history = [
        {"date": "2027-02-19", "place": "bed", "material": "ground limestone", "amount": "5 kg"},
        {"date": "2027-02-20", "place": "bed", "material": "horse manure", "amount": "20 L"},
    ]
    for fed, count in (("2027-03-01", 1), ("2027-04-01", 0)):
        plan = [{"place": "bed", "need": "feed", "way": "muck", "amount": "20 L", "date": fed}]
        site = site_of([bed(LIMED[1], area=10)], [MUCK], plan=plan, soil=soil, history=history)
        lines = [line for line in decide(site).warnings if "lose nitrogen together" in line]
        assert len(lines) == count
        assert all("ground limestone on 2027-02-19 and muck" in line for line in lines)


@pytest.mark.parametrize(
    ("green", "steer", "told"),
    [
        ("0.9 m3", "0.3 m3", []),
        ("1.4 m3", "0.3 m3", ["57% of it is compost, and 50% is the most of a good mix"]),
        ("0.6 m3", "0.9 m3", ["30% of it is stuff with manure, and 25% is the most of a good mix"]),
        (None, "0.9 m3", ["30% of it is compost, and 25% is the most of a good mix"]),
    ],
)
def test_manure_in_a_mix_is_held_to_its_own_share(
    site_of: SiteOf, bed: Describe, green: str | None, steer: str, told: list[str]
) -> None:
    """Of 3 m3 all compost may be half, and what holds manure of it a quarter: 30 % and 10 % are a good mix."""
    amounts = {"green compost": green, "manure compost": steer}
    given = {name: float(amount.split()[0]) for name, amount in amounts.items() if amount}
    amounts["topsoil"] = f"{3 - sum(given.values()):.1f} m3"
    used = {name: amount for name, amount in amounts.items() if amount}
    site = site_of(
        [bed({"fill": {"depth": "30 cm"}})],
        [{"name": name, "buy": {"material": name, "price": "40 EUR/m3"}} for name in used],
        plan=[{"place": "bed", "need": "fill", "way": name, "amount": of} for name, of in used.items()],
    )
    lines = [line for line in decide(site).warnings if "fill_share" in line]
    assert [line.removeprefix("plan: bed, fill: ").removesuffix(" (fill_share)") for line in lines] == told


def test_what_lay_there_counts_as_the_cover_counts_it(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A cover told as spread is laid beside old chip by one count, and its own advice breaks no ceiling.

    8 mm of old chip are some 5 mm settled, as much of a cover as 3 mm of what settles to half: the row leaves
    that out of 25 mm. Counted as they lie they made 27 of it, and the row was warned of.
    """
    cover = {"cover": {"depth": "5 cm", "settled": False}}
    history = [
        {"date": "2026-11-20", "place": "bed", "material": "arborist chip", "depth": "8 mm", "dug": False}
    ]
    site = site_of([bed(cover, area=6)], [buy(material="comfrey")], history=history, horizon="18 months")
    [row] = options(site).options
    assert row.feasible
    assert breaches(site, row.decision.every_dose) == []
