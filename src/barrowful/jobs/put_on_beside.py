"""What was put on beside the jobs of a season: what they are for is met by it too, and they put on less."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from barrowful.catalogue.judgements import judgement
from barrowful.jobs.job import Job
from barrowful.jobs.safe import give_up
from barrowful.measures.text import all_of
from barrowful.needs.decision import CannotServe, Judged
from barrowful.needs.registry import NEEDS
from barrowful.site.records import HistoryEntry, Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done

#: Halvings in which the share of a job is found that is still wanted: to a thousandth.
HALVINGS = 10
#: What rounding may lose of a share.
SLACK = 1e-9


def count_beside(jobs: Sequence[Job], before: Site, site: Site) -> None:
    """Let jobs put on no more than their needs lack beside what a history has put on that is of no job.

    ``before`` is the site as the season was decided on. What covers is left as it is: a layer of other stuff
    is there for a while only.
    """
    told = {id(entry) for job in jobs if job.stuff is not None for entry in job.entries}
    beside: dict[str, list[HistoryEntry]] = defaultdict(list)
    for entry in site.history:
        put_on = entry.place and entry.material is not None and entry.loose > 0
        if put_on and entry.day >= site.start and id(entry) not in told:
            beside[entry.place].append(entry)
    for name, entries in beside.items():
        place = site.place(name)
        there = done(replace(site, history=tuple(entries)), place)
        puts = [job for job in jobs if job.place == name and job.stuff is not None and not job.dropped]
        kinds = dict.fromkeys(job.need for job in puts if job.done is None)
        for kind in (kind for kind in kinds if len(set(NEEDS[kind].jobs)) == 1):  # what is topped up rots
            _Lacking(before, place, kind, puts, there).lessen(jobs)


class _Lacking:
    """What a need of a place lacks of its jobs that are to do, beside all that was put on."""

    def __init__(
        self, site: Site, place: Place, kind: str, puts: Sequence[Job], beside: Sequence[Application]
    ) -> None:
        self.site, self.place, self.kind, self.beside = site, place, kind, beside
        self.shares = {id(job): 1.0 for job in puts}
        self.puts = sorted(puts, key=lambda job: job.day)

    def lessen(self, jobs: Sequence[Job]) -> None:
        """Let each job of the need, the first first, put on only what leaves the need as far met as it is."""
        if self._judged() is None:
            return
        for job in self.puts:
            if job.need != self.kind or job.done is not None or job.dropped:
                continue
            self.shares[id(job)] = self._least(job)
            names = dict.fromkeys(dose.material.name for dose in self.beside)
            _put_on_less(job, jobs, self.shares[id(job)], all_of([*names]))
            self.shares[id(job)] = 0.0 if job.dropped or job.done is not None else 1.0

    def _least(self, job: Job) -> float:
        """Return the least share of a job that leaves the need as far met as all of it, by halves."""
        whole, low, high = self._judged(), 0.0, 1.0
        if self._is_as_good(job, 0.0, whole):
            return 0.0
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if self._is_as_good(job, middle, whole) else (middle, high)
        return high

    def _is_as_good(self, job: Job, share: float, whole: Judged | None) -> bool:
        """Say whether a need is as far met with a share of a job as with all of it."""
        self.shares[id(job)] = share
        judged = self._judged()
        self.shares[id(job)] = 1.0
        if judged is None or whole is None:
            return False
        return judged.share >= whole.share - SLACK and bool(judged.why_not) <= bool(whole.why_not)

    def _judged(self) -> Judged | None:
        """Return how far all that was put on, and is to be, meets the need; None where it cannot be said."""
        need, own = NEEDS[self.kind], self.place.need(self.kind)
        counted = [
            dose if need.why_unsuited(self.place, dose.material) else replace(dose, need=own)
            for dose in self.beside
        ]
        try:
            return need.judge(self.site, self.place, [*counted, *self._of_jobs()])
        except CannotServe:
            return None

    def _of_jobs(self) -> Iterable[Application]:
        """Yield what jobs have put on, and are to put on."""
        for job in self.puts:
            assert job.stuff is not None
            dose = Application(
                place=self.place,
                day=job.day,
                material=job.stuff,
                loose=0.0,
                dug=bool(job.dug),
                need=self.place.need(job.need),
                way=job.way,
            )
            for entry in job.entries:
                yield replace(dose, day=entry.day, loose=entry.loose)
            told = any(entry.loose for entry in job.entries)
            if job.done is None:
                yield replace(dose, loose=(job.left or 0.0) * self.shares[id(job)])
            elif not told:
                yield replace(dose, day=job.done, loose=job.loose or 0.0)


def _put_on_less(job: Job, jobs: Sequence[Job], share: float, what: str) -> None:
    """Let a job put on a share of what it has left; none of it where it is as good as done without."""
    good = judgement("as_good_as_done")
    if share <= 1 - good:
        give_up(job, jobs, f"what your history has put on beside ({what}) meets it")
    if share <= 1 - good or share >= good:
        return
    whole, left = job.loose or 0.0, job.left or 0.0
    job.loose = whole - left * (1 - share)
    job.hours = job.hours.times(share) if job.hours else None
    less = f"{left * (1 - share) / whole:.0%} less, as {what} was put on here beside"
    other = '; "barrowful orders" looks whether another way brings the rest for less' if job.bought else ""
    job.told = (*job.told, f"{less}{other}.")
