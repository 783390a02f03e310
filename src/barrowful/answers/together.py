"""Options carried out together: what each brings when several want of one stuff, and whether it suffices."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any, NamedTuple

from barrowful.answers.options import Answer, Option
from barrowful.needs.raising import larger
from barrowful.needs.registry import NEEDS
from barrowful.soil.application import Application
from barrowful.supplies.supply import Supply

#: Loose volumes [m3] by day.
Draws = dict[date, float]
#: Less than this [m3] is nothing: what is left where a dose was taken back.
DUST = 1e-9
#: A stuff on a place: what several needs want of it is the larger dose.
Shared = tuple[str, str]


class Change(NamedTuple):
    """What an option changes: groups and doses of a stuff on a place, draws on ways, as they are with it."""

    groups: dict[Shared, list[list[Application]]]
    doses: dict[Shared, list[Application]]
    draws: dict[str, Draws]


class Together:
    """Options carried out together, kept up as one after another is added.

    Of one stuff a place gets the larger dose, not the sum: compost that raises a bed feeds it too. Where
    the larger dose is another need's, it is dug in and held against the raise; if the target is not met
    so, the raise keeps its own doses and only what the other need still lacks is added. A fill is apart,
    it makes the bed; a plan's lines stand as they are written.
    """

    def __init__(self, answer: Answer, rows: Iterable[Option] = ()) -> None:
        self.answer = answer
        self.rows: list[Option] = []
        self._apart: list[Application] = []
        self._groups: dict[Shared, list[list[Application]]] = {}
        self._doses: dict[Shared, list[Application]] = {}
        self._draws: dict[str, Draws] = {}
        self._passed: dict[str, list[tuple[str, Draws]]] = {}
        for row in rows:
            self.add(row)

    def copy(self) -> Together:
        """Return another of the same options."""
        return Together(self.answer, self.rows)

    @property
    def doses(self) -> dict[str, list[Application]]:
        """Return the doses by way, with a way of each option even where it brings nothing."""
        doses: dict[str, list[Application]] = {row.way.name: [] for row in self.rows}
        for dose in self._apart:
            doses[dose.way].append(dose)
        for group in self._doses.values():
            for dose in group:
                doses[dose.way].append(dose)
        return doses

    def add(self, row: Option) -> None:
        """Add an option."""
        groups, doses, draws = self._with(row)
        self.rows.append(row)
        if not groups:
            self._apart += row.decision.doses
        self._groups.update(groups)
        self._doses.update(doses)
        self._draws.update(draws)
        self._passed.update(self._passed_on(draws))

    def fits(self, row: Option) -> bool:
        """Say whether no way brings more than it has with an option more; those there are do fit.

        What is bought is limited by money alone, and a larger dose of it asks less of other ways.
        """
        supply = self.answer.supplies[row.way.name]
        if not self.rows or not (supply.limited or supply.draws_on_others):
            return True
        return not self._short(self._with(row).draws)

    def short(self) -> list[str]:
        """Return, for each way that is asked for more than it has brought, what is asked."""
        return self._short(self._draws)

    def _with(self, row: Option) -> Change:
        """Return the groups, doses and draws that an option changes, as they are with it."""
        if row.decision.as_written or NEEDS[row.need].makes_ground:
            return Change({}, {}, self._changed([], row.decision.doses))
        stuff = self.answer.supplies[row.way.name].stuff
        own: dict[Shared, list[Application]] = {}
        for dose in row.decision.doses:
            own.setdefault((stuff, dose.place.name), []).append(dose)
        groups = {key: [*self._groups.get(key, ()), doses] for key, doses in own.items()}
        doses = {key: self._larger(group) for key, group in groups.items()}
        before = [dose for key in groups for dose in self._doses.get(key, ())]
        after = [dose for group in doses.values() for dose in group]
        return Change(groups, doses, self._changed(before, after))

    def _larger(self, groups: list[list[Application]]) -> list[Application]:
        """Return what a place gets of a stuff that several options bring it."""
        supply = self.answer.supplies[groups[0][0].way]
        return list(larger(self.answer.site, supply, groups))

    def _changed(self, before: Iterable[Application], after: Iterable[Application]) -> dict[str, Draws]:
        """Return the draws of ways with some doses in place of others."""
        draws: dict[str, Draws] = {}
        for sign, doses in ((-1.0, before), (1.0, after)):
            for dose in doses:
                days = draws.setdefault(dose.way, dict(self._draws.get(dose.way, {})))
                days[dose.day] = days.get(dose.day, 0.0) + sign * dose.loose
                if sign < 0 and days[dose.day] <= DUST:
                    del days[dose.day]
        return draws

    def _passed_on(self, changed: dict[str, Draws]) -> dict[str, list[tuple[str, Draws]]]:
        """Return what changed draws on ways draw on others."""
        supplies = self.answer.supplies
        return {way: supplies[way].passed_on(days) if days else [] for way, days in changed.items()}

    def _short(self, changed: dict[str, Draws]) -> list[str]:
        """Return, for each way, what more is asked of it than it has brought, with some draws changed."""
        supplies = self.answer.supplies
        passed = {**self._passed, **self._passed_on(changed)}
        wanted = {way: dict(days) for way, days in {**self._draws, **changed}.items()}
        for parts in passed.values():
            for way, days in parts:
                asked = wanted.setdefault(way, {})
                for day, loose in days.items():
                    asked[day] = asked.get(day, 0.0) + loose
        said = (_short_of(supplies[way], days) for way, days in wanted.items() if days)
        return [sentence for sentence in said if sentence]


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
            by = "by" if supply.keeps else "on"
            return f"{supply.way.name} is to bring {wanted:.2f} m3 {by} {day}, but brings only {there:.2f}"
    return ""


def all_doses(answer: Answer, rows: Iterable[Option]) -> list[Application]:
    """Return the doses of options carried out together, of every way."""
    return [dose for doses in doses_of(answer, rows).values() for dose in doses]


def overdrawn(answer: Answer, rows: Iterable[Option]) -> list[str]:
    """Return, for each way that options together ask more of than it has brought, what they ask."""
    return Together(answer, rows).short()


def doses_of(answer: Answer, rows: Iterable[Option]) -> dict[str, list[Application]]:
    """Return the doses of options carried out together, by way."""
    return Together(answer, rows).doses
