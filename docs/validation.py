"""Reckon docs/validation.toml with the program's own code, and write the page of it; generate.py asks."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import fmean, median
from typing import Any

from barrowful.catalogue.materials import Material, material
from barrowful.measures.dates import DAYS_PER_YEAR, Step, years_between
from barrowful.site.records import Climate, Soil
from barrowful.soil.pools import CarbonPool, Triple
from barrowful.soil.present import present_kept
from barrowful.soil.turnover import turnovers_of

DATA = Path(__file__).with_name("validation.toml")
#: A miss is never counted as more than so many times: a setting of the page.
MOST = 10.0
PHASES = ("build-up", "plateau", "afterlife", "bags")
UNITS = {
    "gain": "t/ha gained",
    "share": "% of what was put on",
    "humus": "% of what was put on, as humus",
    "kg a tonne": "kg of carbon a year for each t dry",
    "bag": "% left in the bag",
    "rate": "a year lost",
    "present": "t/ha",
}


@dataclass(frozen=True, kw_only=True)
class Row:
    """An observation, and what the program makes of it."""

    experiment: str
    fitted: bool
    what: str
    on: date
    phase: str
    sort: str
    seen: float
    error: float | None
    at_most: bool
    model: Triple

    @property
    def inside(self) -> bool:
        """Say whether what was seen, its error apart, lies within low and high."""
        return self.model[0] <= self.seen and (self.at_most or self.seen <= self.model[2])

    @property
    def miss(self) -> float:
        """Return the natural logarithm of likely over seen, held within :data:`MOST` times."""
        off = math.log(max(self.model[1], self.seen / MOST**2) / self.seen)
        return max(0.0 if self.at_most else -math.log(MOST), min(math.log(MOST), off))

    @property
    def width(self) -> float:
        """Return high over low."""
        return self.model[2] / self.model[0]


def rows() -> tuple[list[Row], list[Row]]:
    """Return the observations of what was put on, and those of what was there."""
    written = tomllib.loads(DATA.read_text("utf-8"))
    put = [row for one in written["experiment"] for row in _of_experiment(one, written["climates"])]
    there = [row for one in written["present"] for row in _of_present(one, written["climates"])]
    return put, there


def _ground(one: dict[str, Any], climates: dict[str, Any]) -> tuple[Climate, Soil]:
    climate = Climate(
        temperatures=tuple(map(float, climates[one["climate"]]["months"])),
        assumed=False,
        balance=one.get("balance"),
    )
    clay = one["clay"] / 100 if "clay" in one else None
    return climate, Soil(clay=clay, managed=one.get("managed", ""))


def _of_experiment(one: dict[str, Any], climates: dict[str, Any]) -> Iterator[Row]:
    climate, soil = _ground(one, climates)
    for treatment in one["treatment"]:
        stuff = material(treatment["material"])
        if stuff is None:
            raise ValueError(f"{one['name']}: there is no material {treatment['material']}")
        for seen in treatment["rows"]:
            yield Row(
                experiment=one["name"],
                fitted=one["fitted"],
                what=treatment["what"],
                on=seen["on"],
                phase=seen["phase"],
                sort=treatment["sort"],
                seen=float(seen["seen"]),
                error=seen.get("error"),
                at_most=seen.get("at_most", False),
                model=_reckoned(treatment, stuff, climate, soil, seen["on"]),
            )


def _reckoned(treatment: dict[str, Any], stuff: Material, climate: Climate, soil: Soil, on: date) -> Triple:
    """Return low, likely and high of what a row asks for, in the row's unit."""
    dug, sort = treatment.get("manner") != "on top", treatment["sort"]
    if sort in {"bag", "rate"}:
        return _in_bag(stuff, climate, soil, dug, treatment["first"], on, sort)
    put, pool = _followed(treatment, stuff, climate, soil, dug, on)
    there = pool.humus if sort == "humus" else pool.whole
    each = {"gain": 1.0, "kg a tonne": 1000 * stuff["carbon"] / put}.get(sort, 100 / put)
    low, likely, high = (each * carbon for carbon in there)
    return low, likely, high


def _followed(
    treatment: dict[str, Any], stuff: Material, climate: Climate, soil: Soil, dug: bool, on: date
) -> tuple[float, CarbonPool]:
    """Return the carbon put on up to a day, and the program's pool of it on that day."""
    days = [day.toordinal() for day in _days(treatment, on)]
    pool = CarbonPool(turnovers_of(stuff, climate, soil, dug), dug, days[0])
    for day in days:
        pool.carry(day)
        pool.add(float(treatment["carbon"]))
    pool.carry(on.toordinal())
    return len(days) * float(treatment["carbon"]), pool


def _days(treatment: dict[str, Any], on: date) -> Iterator[date]:
    """Yield the days something is put on, up to the last or the day looked at."""
    first, last = treatment["first"], min(treatment.get("last", on), on)
    yield first
    years = treatment.get("every", 0)
    count = 1
    while years and (day := Step(months=12 * years * count).after(first)) <= last:
        yield day
        count += 1


def _in_bag(
    stuff: Material, climate: Climate, soil: Soil, dug: bool, first: date, on: date, sort: str
) -> Triple:
    """Return what is left in a bag, or its yearly rate, at the ends of the material's decay rate."""
    decays, found = stuff.figures["decay"], []
    for end in (decays.low, decays.likely, decays.high):
        at_end = stuff.with_figures({"decay": decays._replace(likely=end)})
        turnover = turnovers_of(at_end, climate, soil, dug).likely
        found.append(turnover.fresh if sort == "rate" else 100 * turnover.left(years_between(first, on)))
    low, likely, high = sorted(found)
    return low, likely, high


def _of_present(one: dict[str, Any], climates: dict[str, Any]) -> Iterator[Row]:
    climate, soil = _ground(one, climates)
    for seen in one["rows"]:
        years = (seen["on"] - one["start"]).days / DAYS_PER_YEAR
        low, likely, high = (one["carbon"] * kept for kept in present_kept(climate, soil, years))
        yield Row(
            experiment=one["name"],
            fitted=one["fitted"],
            what=f"managed: {one['managed']}",
            on=seen["on"],
            phase="present",
            sort="present",
            seen=float(seen["seen"]),
            error=None,
            at_most=False,
            model=(low, likely, high),
        )


def page() -> str:
    """Return the page that holds the soil model against field results, misses and all."""
    written = tomllib.loads(DATA.read_text("utf-8"))
    put, there = rows()
    soil = [row for row in put if row.phase != "bags"]
    unfitted, fitted = [row for row in put if not row.fitted], [row for row in put if row.fitted]
    return "".join(
        [
            HEAD,
            _totals({"all": put, "all but bags": soil, "not fitted": unfitted, "fitted": fitted}),
            PHASE_HEAD,
            _by_phase(put),
            "\n## Not fitted\n\n",
            _listed(unfitted),
            "\n## Fitted\n\n",
            _listed(fitted),
            PRESENT_HEAD,
            _present_totals(there),
            _listed(there),
            "\n## Seen and not reckoned\n\n",
            *(f"- {one['what']}: {one['why']}. {one['source']}.\n" for one in written["left_out"]),
            "\n## Where each comes from\n\n",
            *_sources(written),
        ]
    )


HEAD = """# The soil model against field results

This page is generated from `docs/validation.toml`; what the model says is reckoned with the program's own
code, from months and clay as a user would give them. Every observation at hand stands here.

"Inside" means that the value seen, its error apart, lies between the printed low and high. A range has
humification and the slow share low with the rates of humus high, and the reverse. "Off by" is how many
times too much (or too little) the likely value is, as a root mean square in which each experiment counts
once, whatever its dates and treatments; a miss counts as ten times at most.

**None of this is blind.** The ends of the ranges were set with all of these in view, so the share inside is
what they were made to have; how it fares when each experiment in turn is left out stands in
[method.md](method.md). "Fitted" marks the experiments that a likely value or an end was taken from, or
was moved for; the others were only looked at.

| | experiments | observations | inside | each experiment once | median high/low | off by |
| --- | --- | --- | --- | --- | --- | --- |
"""
PHASE_HEAD = """
By phase, each experiment once: how far off, and whether too high (+) or too low (-) on the whole.

| phase | experiments | observations | inside | off by | on the whole |
| --- | --- | --- | --- | --- | --- |
"""
PRESENT_HEAD = """
## Present humus, where `soil: managed` lets it fall

Without that key it is held as it is. 30 % (20 to 40) goes at the rate of active humus, the rest at that of
slow humus; cropped ground loses half (0.2 to 0.8) of what bare ground does. The rates were set with these
two bare plots in view, and the half with the three cropped ones.

"""


def _totals(groups: dict[str, list[Row]]) -> str:
    lines = []
    for name, some in groups.items():
        each = _by_experiment(some).values()
        once = fmean(fmean(row.inside for row in one) for one in each)
        lines.append(
            f"| {name} | {len(each)} | {len(some)} | {_inside(some)} | {once:.0%} |"
            f" {median(row.width for row in some):.1f} | {_times(_rms(some))} |\n"
        )
    return "".join(lines)


def _by_phase(some: Sequence[Row]) -> str:
    lines = []
    for phase in PHASES:
        of_it = [row for row in some if row.phase == phase]
        each = _by_experiment(of_it).values()
        bias = fmean(fmean(row.miss for row in one) for one in each)
        lines.append(
            f"| {phase} | {len(each)} | {len(of_it)} | {_inside(of_it)} | {_times(_rms(of_it))} |"
            f" {math.expm1(bias):+.0%} |\n"
        )
    return "".join(lines)


def _present_totals(there: Sequence[Row]) -> str:
    lines = ["| plot | root mean square miss, t/ha |\n| --- | --- |\n"]
    for name, some in _by_experiment(there).items():
        miss = math.sqrt(fmean((row.model[1] - row.seen) ** 2 for row in some))
        lines.append(f"| {name} | {miss:.1f} |\n")
    return "".join([*lines, "\n"])


def _by_experiment(some: Iterable[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in some:
        found.setdefault(row.experiment, []).append(row)
    return found


def _inside(some: Sequence[Row]) -> str:
    return f"{sum(row.inside for row in some)} ({fmean(row.inside for row in some):.0%})"


def _rms(some: Sequence[Row]) -> float:
    """Return the root mean square of the misses, each experiment once."""
    each = _by_experiment(some).values()
    return math.sqrt(fmean(fmean(row.miss**2 for row in one) for one in each))


def _times(miss: float) -> str:
    return f"x {math.exp(miss):.2f}"


def _listed(some: Sequence[Row]) -> str:
    lines = [
        "| experiment | what | seen on | seen | model: likely (low to high) | inside | likely is off by |\n"
    ]
    lines.append("| --- | --- | --- | --- | --- | --- | --- |\n")
    for row in some:
        error = f" +- {row.error:g}" if row.error else ""
        low, likely, high = row.model
        off = "-" if row.at_most and likely <= row.seen else f"{likely / row.seen - 1:+.0%}"
        lines.append(
            f"| {row.experiment} | {row.what} | {row.on.year} |"
            f" {'at most ' if row.at_most else ''}{row.seen:g}{error} {UNITS[row.sort]} |"
            f" {likely:.3g} ({low:.3g} to {high:.3g}) | {'yes' if row.inside else '**no**'} | {off} |\n"
        )
    return "".join(lines)


def _sources(written: dict[str, Any]) -> Iterator[str]:
    for one in (*written["experiment"], *written["present"]):
        where = written["climates"][one["climate"]]["source"]
        note = f" {one['note']}" if "note" in one else ""
        yield f"- {one['name']}: {one['source']}. Months: {where}.{note}\n"
