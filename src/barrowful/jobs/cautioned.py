"""Cautions where they belong: which of them a job calls for, the gravest first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from types import MappingProxyType
from typing import Any

from barrowful.answers.cautions import Laid, Scene, applies, laid_by
from barrowful.answers.option import Option
from barrowful.answers.options import Answer
from barrowful.catalogue.cautions import Caution, cautions
from barrowful.jobs.job import Job
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.supply import Supply

#: What tells jobs apart whose cautions may differ: word, way, need, sort of place, the ways that anything of
#: goes on it, amount.
Key = tuple[str, str, str, int, frozenset[str], float]


class Cautioned:
    """The scenes of what is followed, and the cautions of jobs in them; alike jobs are asked once."""

    def __init__(
        self,
        answer: Answer,
        chosen: Sequence[Option],
        as_built: Mapping[str, Supply[Any]] = MappingProxyType({}),
    ) -> None:
        self.answer, self.as_built = answer, as_built
        self.laid = laid_by(dose for option in chosen for dose in option.decision.every_dose)
        self.scenes = [_Divided(scene) for scene in _scenes(answer, chosen, self.laid, as_built)]
        self._known: dict[Key, tuple[Caution, ...]] = {}

    def of(self, job: Job) -> tuple[Caution, ...]:
        """Return the cautions of a job."""
        site = self.answer.site
        place = site.place(job.place) if job.place else None
        sort = site.sorts[place.name] if place else -1
        amount, beside = job.loose or 0.0, frozenset(dose.way for dose in self.laid.get(job.place, ()))
        key = job.job, job.way, job.need, sort, beside, amount
        if key not in self._known:
            scenes = [near for scene in self.scenes for near in scene.of(job)]
            found = (caution for caution in of_word(job.job) if any(applies(caution, at) for at in scenes))
            self._known[key] = tuple(found)
        return self._known[key]


class _Divided:
    """A scene with its places and doses by the names of places."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.places = {place.name: place for place in scene.places}
        self.doses: dict[str, list[Application]] = defaultdict(list)
        for dose in scene.doses:
            self.doses[dose.place.name].append(dose)

    def of(self, job: Job) -> Iterator[Scene]:
        """Yield the scene as a job has it: of its way, its need and its place alone."""
        scene, place = self.scene, self.places.get(job.place)
        if job.way not in {"", scene.supply.name} or job.need not in {"", scene.option.need}:
            return
        if not job.place:
            yield scene
        elif place is not None:
            option = replace(scene.option, places=(place,))
            yield Scene(scene.site, option, scene.supply, self.doses[place.name], scene.laid)


@cache
def of_word(job: str) -> tuple[Caution, ...]:
    """Return the cautions that belong to jobs of a word."""
    return tuple(caution for caution in cautions() if job in caution.jobs)


def _scenes(
    answer: Answer, chosen: Iterable[Option], laid: Laid, as_built: Mapping[str, Supply[Any]]
) -> Iterator[Scene]:
    """Yield the scenes of options: of each way that is put on, and of what that draws on."""
    for option in chosen:
        for supply, doses in option.supply.divide(option.decision.every_dose):
            yield Scene(answer.site, option, as_built.get(supply.name, supply), doses, laid)
            for name, _ in supply.passed_on(draws_of(doses)) if doses else ():
                yield Scene(answer.site, option, answer.supplies[name], (), laid)
