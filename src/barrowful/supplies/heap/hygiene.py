"""A heap's temperature log held against published time-temperature rules: met or not met."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from barrowful.catalogue.hygiene import Rule, rules
from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.catalogue.rates import heap_figures
from barrowful.measures.telling import TEMPERATURE, VOLUME, measured
from barrowful.site.ways import Make, Reading
from barrowful.supplies.heap.batch import Batch


class Verdict(NamedTuple):
    """What a log shows for a rule, and whether the rule is met."""

    rule: Rule
    days: int
    turns: int
    met: bool
    why_not: str


def spells(readings: tuple[Reading, ...], temperature: float) -> list[list[Reading]]:
    """Return runs of readings at or above a temperature with no gap longer than the longest allowed."""
    longest = judged_time("readings_apart")
    ordered = sorted(readings, key=lambda one: one.day)
    found: list[list[Reading]] = []
    for index, reading in enumerate(ordered):
        if reading.temperature < temperature:
            continue
        before = ordered[index - 1] if index else None
        lasted = (
            before is not None and before.temperature >= temperature and reading.day - before.day <= longest
        )
        if lasted:
            found[-1].append(reading)
        else:
            found.append([reading])
    return found


def days_of(spell: list[Reading]) -> int:
    """Return the days a run of readings spans, both ends counted."""
    return (spell[-1].day - spell[0].day).days + 1


def flags_of(way: Make, starting_cn: float | None, batches: Iterable[Batch]) -> frozenset[str]:
    """Return the flags that the compost of a heap has by the manure that goes into it."""
    of_manure = any(part.material.holds_manure for part in way.ingredients)
    flags = {"of_manure": of_manure, "raw": _stays_raw(way, starting_cn, batches)}
    return frozenset(flag for flag, holds in flags.items() if holds)


def _stays_raw(way: Make, starting_cn: float | None, batches: Iterable[Batch]) -> bool:
    """Say whether raw manure goes into a heap and nothing says that all of it gets hot.

    By its log one of the rules has to be met; without a log each batch is to be large enough, and turned.
    """
    if not any(part.material.has("raw") for part in way.ingredients):
        return False
    if way.readings:
        return not any(verdict.met for verdict in judge(way, starting_cn))
    return not all(batch.hot for batch in batches)


def judge(way: Make, starting_cn: float | None) -> list[Verdict]:
    """Return each rule's verdict on a heap's readings; a small heap is not credited with any."""
    return [_verdict(rule, way, starting_cn) for rule in rules()] if way.readings else []


def _verdict(rule: Rule, way: Make, starting_cn: float | None) -> Verdict:
    runs = spells(way.readings, rule.temperature)
    lengths = [days_of(run) for run in runs]
    days = max(lengths, default=0) if rule.in_a_row else sum(lengths)
    turned = [*(one.day for one in way.readings if one.turned), *way.turned_on]
    turns = sum(1 for day in turned if any(_within(day, run) for run in runs))
    counted = [max(runs, key=days_of)] if rule.in_a_row and runs else runs
    peak = max((one.temperature for run in counted for one in run), default=0.0)
    lacking = _lacking(rule, way, (days, turns, peak), starting_cn)
    return Verdict(rule, days, turns, not lacking, "; ".join(lacking))


def _degrees(temperature: float) -> str:
    return measured(temperature, TEMPERATURE, "g")


def _within(day: date, run: list[Reading]) -> bool:
    return run[0].day <= day <= run[-1].day


def _lacking(rule: Rule, way: Make, shown: tuple[int, int, float], starting_cn: float | None) -> list[str]:
    """Return what is missing for a rule, of the days, turnings and peak the log shows."""
    (days, turns, peak), found = shown, []
    least = heap_figures()["hot_volume"].low
    if way.bay < least * judgement("full_bay"):
        found.append(f"a heap under {measured(least, VOLUME, '.3g')} is not credited")
    if days < rule.days:
        found.append(f"{days} of {rule.days} days at or above {_degrees(rule.temperature)}")
    if turns < rule.turns:
        found.append(f"{turns} of {rule.turns} turnings while hot")
    if rule.peak is not None and peak <= rule.peak:
        found.append(f"never over {_degrees(rule.peak)}")
    if starting_cn is not None and not rule.least_cn <= starting_cn <= rule.most_cn:
        found.append(f"starting C:N {starting_cn:.0f} is outside {rule.least_cn:g} to {rule.most_cn:g}")
    return found
