"""Ways that are asked for more than they have brought, by themselves and through what draws on them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from barrowful.measures.telling import VOLUME, in_told, measured
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.supply import Supply

#: Loose volumes [m3] by day.
Draws = dict[date, float]


def overdrawn(supplies: Mapping[str, Supply[Any]], doses: Iterable[Application]) -> list[str]:
    """Return, for each way that doses together ask more of than it has brought, what they ask."""
    return list(overdrawn_ways(supplies, doses).values())


def overdrawn_ways(supplies: Mapping[str, Supply[Any]], doses: Iterable[Application]) -> dict[str, str]:
    """Return the same by the name of the way."""
    own: dict[str, list[Application]] = {}
    for dose in doses:
        own.setdefault(dose.way, []).append(dose)
    wanted: dict[str, Draws] = {}
    for way, of_way in own.items():
        draws = draws_of(of_way)
        for drawn, days in ((way, draws), *supplies[way].passed_on(draws)):
            asked = wanted.setdefault(drawn, {})
            for day, loose in days.items():
                asked[day] = asked.get(day, 0.0) + loose
    said = {way: _short_of(supplies[way], days) for way, days in wanted.items() if days}
    return {way: sentence for way, sentence in said.items() if sentence}


def _short_of(supply: Supply[Any], draws: Draws) -> str:
    """Return what is asked of a supply by the first day it has not brought as much, or nothing."""
    if not supply.limited:
        return ""
    wanted = there = 0.0
    lots = sorted(supply.lots(max(draws)), key=lambda lot: lot.day, reverse=True)
    for day, loose in sorted(draws.items()):
        if not supply.keeps:
            wanted = there = 0.0
            lots = [lot for lot in lots if lot.day >= day]
        while lots and lots[-1].day <= day:
            there += lots.pop().loose
        wanted += loose
        if wanted > there * (1 + 1e-6) + 1e-9:
            told, (brought, _) = measured(wanted, VOLUME, ".2f"), in_told(there, VOLUME)
            by = "by" if supply.keeps else "on"
            return f"{supply.way.name} is to bring {told} {by} {day}, but brings only {brought:.2f}"
    return ""
