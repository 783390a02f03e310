"""What waits for a harvest is done on safe days alone: what hours or today push past the last is put off."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from barrowful.catalogue.windows import windows
from barrowful.jobs.digging import undug
from barrowful.jobs.job import BRINGS, Job
from barrowful.jobs.levelling import in_order
from barrowful.jobs.puts import PutKey
from barrowful.jobs.year import Opening, Year, rich_in_nitrogen
from barrowful.needs.harvests import NEVER, RAW, Wait, waited
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site
from barrowful.soil.seasons import SOWN, season_end, season_of, spring_from

#: Jobs that are done for others alone.
ERRANDS = frozenset({"ask", "order", "test", *BRINGS})
#: What is said of a feed that comes too late in the year for what stands through the winter.
SOFT_GROWTH = "it is too late in the year: woody plants fed now grow shoots that frost takes; feed in spring"
#: What is said of a feed of beds and pots that comes ahead of winter (common practice, no source).
WASHED_OUT = (
    "It is late in the year: what is rich in nitrogen, a meal above all, gives it in warm weeks, and winter"
    " washes out what the crop has not taken up by then."
)
#: The condition of the window of such stuff.
RICH = "rich in nitrogen"
ONE_DAY = timedelta(days=1)


def put_of(job: Job) -> PutKey:
    """Return what a job puts on or digs in."""
    return job.place, job.need, job.way, job.day


@dataclass(eq=False)
class PutOff:
    """What missed its last safe day and waits until the crop is off, with the day on which it is not safe.

    What is ``begun`` keeps the window it was begun in, and the rest of it waits.
    """

    whole: dict[PutKey, date] = field(default_factory=dict)
    begun: dict[PutKey, date] = field(default_factory=dict)

    def rest_waits(self, jobs: Sequence[Job], site: Site) -> None:
        """Let the rest of what is begun wait, or leave it off where that is beyond the season it is for."""
        for job in jobs:
            day = self.begun.get(put_of(job))
            if job.done is None and job.opens is not None and day is not None:
                opens, last = job.opens(day), _last_of_season(job, site)
                if opens > last:
                    give_up(job, jobs, _too_late(job.wait_told, opens, last))
                else:
                    job.not_before(opens)

    def told(self, jobs: Iterable[Job]) -> list[tuple[Job, date]]:
        """Return what is put on later, and the last safe day it missed."""
        days = ((job, self.whole.get(put_of(job))) for job in jobs if job.stuff is not None)
        return [(job, _last_safe(job, day)) for job, day in days if day is not None]

    def takes(self, jobs: Sequence[Job], end: date) -> bool:
        """Take in what levelling set on days that are not safe; say if there is any.

        What is spread and dug in waits together. The rest of what is begun does not wait beyond an end.
        """
        caught: dict[PutKey, date] = {}
        for job in jobs:
            day = _unsafe(job)
            if day is not None:
                caught[put_of(job)] = max(day, caught.get(put_of(job), day))
        begun = _begun(jobs)
        self.whole |= {put: day for put, day in caught.items() if put not in begun}
        waits = {put: day for put, day in caught.items() if put in begun and day <= end}
        self.begun |= waits
        return bool(waits) or any(put not in begun for put in caught)


def _begun(jobs: Iterable[Job]) -> set[PutKey]:
    """Return what the history tells a part of."""
    return {put_of(job) for job in jobs if job.opens is not None and job.entries}


def _unsafe(job: Job) -> date | None:
    """Return the first day a job is set on that is not safe, where there is one."""
    if job.opens is None or job.done is not None:
        return None
    last = job.on if job.until == date.max else job.until
    for number in range((last - job.on).days + 1):
        day = job.on + timedelta(days=number)
        if job.opens(day) not in {day, NEVER}:
            return day
    return None


def _last_safe(job: Job, day: date) -> date:
    """Return the last day up to one on which a job may be done."""
    while job.opens is not None and job.opens(day) != day:
        day -= ONE_DAY
    return day


def beyond(wait: Wait, opening: Opening, soonest: date, last: date) -> str:
    """Return what is said of what may only go on after the last day on which it does, or on none."""
    opens = opening.first
    if wait.ceiling == RAW and waited(wait, soonest) == NEVER:
        return f"{wait.told}, and no day of the year is far enough ahead of it; give it something else"
    if opening.barred and opens <= soonest:
        return f"{wait.told}, and where that lets it on the ground does not; give it something else"
    if opens <= last:
        return ""
    return _too_late(wait.told, opens, last)


def _too_late(waits: str, opens: date, last: date) -> str:
    return f"{waits}, until {opens}, and {last} is the last day that does; give it something else"


def _last_of_season(job: Job, site: Site) -> date:
    """Return the last day that what is put on for a season does for it; of all else there is none."""
    of_season = job.stuff is not None and NEEDS[job.need].by_season
    return season_end(site, season_of(site, job.day)) if of_season else date.max


def give_up(job: Job, jobs: Iterable[Job], because: str) -> None:
    """Leave off the rest of a job that is begun; what is not begun is not done, with what digs it in."""
    digs = [of for of in jobs if job in of.after and put_of(of) == put_of(job)]
    if not job.entries:
        for other in (job, *digs):
            other.dropped = because
        return
    job.done, job.left_off = max(entry.day for entry in job.entries), because
    for dig in (of for of in digs if of.begun and not undug(of)):
        dig.done = max(entry.day for entry in dig.entries)


def lapse(jobs: Sequence[Job], site: Site, today: date) -> None:
    """Give up what was for a season that is over, or would set woody plants growing ahead of the frost."""
    now = season_of(site, today)
    frosts = Year(site).frosts is not None
    for job in jobs:
        late = job.done is None and job.stuff is not None and NEEDS[job.need].by_season
        if late and season_of(site, job.day) < now:
            give_up(job, jobs, "the season that it was for is over")
        elif late and frosts and _too_late_for_woody(job, site, today):
            give_up(job, jobs, SOFT_GROWTH)
        elif late and frosts and _ahead_of_winter(job, site, today):
            job.told = tuple(dict.fromkeys((*job.told, WASHED_OUT)))


def _too_late_for_woody(job: Job, site: Site, today: date) -> bool:
    """Say whether what is rich in nitrogen was for spring or summer, and comes to woody plants after it."""
    stuff, since = job.stuff, spring_from(site.hemisphere, job.day)
    if stuff is None or not rich_in_nitrogen(stuff) or site.place(job.place).kind in SOWN:
        return False
    return since == job.day <= today < spring_from(site.hemisphere, today)


def _ahead_of_winter(job: Job, site: Site, today: date) -> bool:
    """Say whether what is rich in nitrogen comes when its best time is over till spring."""
    stuff = job.stuff
    if stuff is None or not rich_in_nitrogen(stuff) or spring_from(site.hemisphere, today) == today:
        return False
    spans = (span for window in windows() if window.condition == RICH for span in window.spans)
    best = (
        days
        for span in spans
        for year in (today.year - 1, today.year)
        for days in Year(site).intervals(span, year)
    )
    return job.day <= today and not any(first <= today <= last for first, last in best)


def without_dropped(jobs: Sequence[Job]) -> tuple[list[Job], list[Job]]:
    """Return jobs less those that no safe day is left for and what is done for these alone, and these.

    What is begun is done to its end.
    """
    begun = _begun(jobs)
    dropped = (job for job in jobs if job.dropped and job.done is None and put_of(job) not in begun)
    gone, then = set(map(id, dropped)), defaultdict[int, list[Job]](list)
    for job in jobs:
        for before in job.after:
            then[id(before)].append(job)
    for job in reversed(in_order(jobs)) if gone else ():
        for_others = job.job in ERRANDS and not job.place and not job.entries and job.done is None
        if for_others and then[id(job)] and all(id(of) in gone for of in then[id(job)]):
            gone.add(id(job))
    left = [job for job in jobs if id(job) not in gone]
    for job in left:
        job.after = [before for before in job.after if id(before) not in gone]
    return left, [job for job in jobs if id(job) in gone]
