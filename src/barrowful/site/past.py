"""What was done: from checked sections to the entries of the history, and what they tell of ways."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.ground.amount import volume
from barrowful.ground.sizes import Size
from barrowful.measures.dates import year_after
from barrowful.measures.problems import Problem
from barrowful.measures.text import written_amount
from barrowful.site.checks import check_density
from barrowful.site.depths import TypedAmount
from barrowful.site.job_names import BROUGHT, DEEDS, PLANTED, TURNED, base_of, first_word, is_fill, number_of
from barrowful.site.keeping import left_over_keeps
from barrowful.site.pairs import record
from barrowful.site.records import HistoryEntry, Place
from barrowful.site.ways import Buy, Make, Reading, Way
from barrowful.sitefile.language.context import ReadContext, Section

#: The code of a warning of an entry whose day is long after all others.
FAR = "far-date"
#: The code of a warning of a heap that is larger than its bay.
OVER_BAY = "over-bay"
#: First words of jobs that are all of a way: something came, a heap was built or turned, or a stand planted.
OF_A_WAY = BROUGHT | PLANTED | DEEDS.keys()
#: Keys that say something of the ground of a place, and what they say.
OF_A_PLACE = {
    "depth": "how deep it lies there",
    "dug": "whether it was dug in there",
    "organic_matter": "what a soil test found there",
}


def entries_of(
    sections: Sequence[Section],
    places: Mapping[str, Place],
    ways: Sequence[Way],
    context: ReadContext,
) -> list[HistoryEntry]:
    """Return the entries of the history, in the order of the file."""
    by_name = {way.name: way for way in ways}
    return [
        _entry(section, places.get(section.get("place", "")), by_name.get(_way_of(section, by_name)), context)
        for section in sections
    ]


#: The code of the warning that a heap is told of twice.
BUILT_TWICE = "built-twice"


def told_once(
    sections: Sequence[Section], history: Sequence[HistoryEntry], context: ReadContext
) -> list[HistoryEntry]:
    """Return entries of which those that tell again of a heap that was built are marked, warning of each.

    A heap built on a day is told of by the season's name with its number, and by "built": that is one heap.
    The entry with the amount tells of it.
    """
    built: dict[tuple[str, date], tuple[list[int], list[int]]] = defaultdict(lambda: ([], []))
    for number, entry in enumerate(history):
        if entry.way and entry.built:
            built[entry.way, entry.day][not number_of(entry.job)].append(number)
    once = list(history)
    for (way, day), (named, plain) in built.items():
        for pair in zip(named, plain, strict=False):
            again = pair[1] if once[pair[0]].loose or not once[pair[1]].loose else pair[0]
            once[again] = replace(once[again], again=True)
            told = " and ".join(f'"{once[number].job}"' for number in pair)
            context.warning(
                sections[max(pair)].mark,
                BUILT_TWICE,
                f"history: {way} is told to be built on {day} twice, as {told}: it is taken as one heap; take"
                " one of them out, or give another heap the number that season has for it",
            )
    return once


def told_twice(warnings: Iterable[Problem]) -> list[str]:
    """Return the warnings of heaps that are told of twice."""
    return [warning.message for warning in warnings if warning.code == BUILT_TWICE]


def of_ways(sections: Iterable[Section], names: Container[str], made: Container[str]) -> Iterator[Section]:
    """Yield the entries that name no way but those that are ``made``, of all ``names`` of ways."""
    return (section for section in sections if (way := _way_of(section, names)) in made or not way)


def _way_of(section: Section, ways: Container[str]) -> str:
    """Return the name of the way of an entry; of what is all of a way that of its job, as season names it."""
    named: str = section.get("way", "")
    job: str = section.get("job", "")
    if named or section.get("place") or first_word(job) not in OF_A_WAY:
        return named
    told = job.partition(", ")[2]
    return next((name for name in (told, base_of(told)) if name in ways), "")


def check_history(entries: Sequence[Section], start: date, context: ReadContext) -> None:
    """Warn of the first entry that is later than the start, and of those long after all that was before."""
    late = [entry for entry in entries if entry["date"] > start]
    if late:
        context.warning(
            late[0].place("date"),
            "late-history",
            f"history: {late[0]['date']} is later than start: only season takes all of it as done, all else"
            " is told from the start on, a plan's lines, covers, dressings and fills whole;"
            ' "barrowful season --today DAY" tells what is left to do, and "barrowful begin --from'
            ' FILE --start DAY" makes the file to plan from a later day',
        )
    before = start
    for entry in sorted(late, key=lambda entry: entry["date"]):
        day: date = entry["date"]
        if day.toordinal() > year_after(before.toordinal()):
            told = f"{day} is more than a year after {before}, the last day before it; is the year right?"
            context.warning(entry.place("date"), FAR, f"{entry.path}.date: {told}")
        before = day


def spread_on(
    sections: Sequence[Section], history: Sequence[HistoryEntry], places: Mapping[str, Place]
) -> Iterator[TypedAmount]:
    """Yield what each entry of the history put on its place."""
    for section, entry in zip(sections, history, strict=True):
        if entry.place:
            yield TypedAmount(
                where=section.path,
                mark=section.place("amount" if "amount" in section else "depth"),
                place=places[entry.place],
                loose=entry.loose,
                fills=is_fill(entry.job) or places[entry.place].need("fill") is not None,
            )


def with_logs(ways: Sequence[Way], history: Sequence[HistoryEntry], start: date) -> tuple[Way, ...]:
    """Return ways with what the history tells of them.

    Each heap has its temperatures and its turnings, and what is left of what was bought the day it came.
    """
    telling = (of for of in history if of.brought or of.temperature is not None or of.deed == TURNED)
    told = {entry.way for entry in telling}
    return tuple(_logged(way, history, start) if way.name in told else way for way in ways)


def _logged(way: Way, history: Sequence[HistoryEntry], start: date) -> Way:
    own = [entry for entry in history if entry.way == way.name]
    if isinstance(way, Buy) and way.left:
        return replace(way, left_on=_came_on(own, start, left_over_keeps(way.material)))
    if not isinstance(way, Make):
        return way
    readings = [
        Reading(day=entry.day, temperature=entry.temperature, turned=entry.deed == TURNED)
        for entry in own
        if entry.temperature is not None
    ]
    turned = [entry.day for entry in own if entry.temperature is None and entry.deed == TURNED]
    return replace(way, readings=(*way.readings, *readings), turned_on=tuple(turned))


def _came_on(own: Sequence[HistoryEntry], start: date, keeps: timedelta) -> date:
    """Return the day that what is left at the start came; the start where it is not known to keep since."""
    came = [entry.day for entry in own if entry.brought and entry.day < start]
    last = max(came, default=start)
    return last if start - last <= keeps else start


def _entry(section: Section, place: Place | None, way: Way | None, context: ReadContext) -> HistoryEntry:
    material = _material(section, way, context)
    amount: Size | None = section.get("amount")
    entry = record(
        section,
        HistoryEntry,
        way=section.get("way") or (way.name if way else ""),
        material=material,
        loose=_loose(section, place, material),
        weighed=amount is not None and bool(amount.mass),
        ends=_is_nothing(amount),
    )
    _check_ground(section, place, context)
    if isinstance(way, Make):
        _check_heap(section, entry, context)
        _ask_of_bay(section, entry, way, context)
        entry = replace(entry, material=None) if entry.built else entry
    elif entry.temperature is not None:
        sentence = f"{section.path}.temperature: it is that of a heap; name the heap as the way"
        context.problem(section.place("temperature"), "no-heap", sentence)
    _check_amount(section, entry, context)
    return entry


def _material(section: Section, way: Way | None, context: ReadContext) -> Material | None:
    """Return what was put on or taken: as stated, else what the way brings; of hours alone nothing."""
    stated: Material | None = section.get("material")
    if way is None:
        return stated
    if stated is not None and stated.name != way.material.name:
        sentence = (
            f"{section.path}.material: {way.name} brings {way.material.name}, not {stated.name}; leave"
            ' "material" out, or name the way that brought it'
        )
        context.problem(section.place("material"), "other-material", sentence)
    put_on = section.get("amount") is not None or section.get("depth") is not None
    return way.material if put_on or stated is not None else None


def _loose(section: Section, place: Place | None, material: Material | None) -> float:
    """Return the loose volume [m3] of what was put on or taken, by its depth or as an amount."""
    amount: Size | None = section.get("amount")
    if section.get("depth") is not None and place is not None:
        return volume(place.total_area, section["depth"])
    density = material.get("density") if material else None
    return 0.0 if amount is None else amount.loose(density or 1.0)


def _check_ground(section: Section, place: Place | None, context: ReadContext) -> None:
    """Refuse what is said of the ground of no place."""
    for key, told in OF_A_PLACE.items() if place is None else ():
        if section.get(key) is not None:
            sentence = f'{section.path}.{key}: it says {told}; name the place, or leave "{key}" out'
            context.problem(section.place(key), "no-place", sentence)


def _check_heap(section: Section, entry: HistoryEntry, context: ReadContext) -> None:
    """Refuse a heap that was built or turned on a place, and one that is told by its weight."""
    if entry.deed and entry.place:
        sentence = f'{section.path}.place: a heap is {entry.deed} on no place; leave "place" out'
        context.problem(section.place("place"), "heap-on-a-place", sentence)
    amount: Size | None = section.get("amount")
    if entry.built and amount is not None and amount.volume is None:
        sentence = f'{section.path}.amount: give the volume it was built to, such as "1 m3"'
        context.problem(section.place("amount"), "wrong-dimension", sentence)
    if entry.deed == TURNED and amount is not None:
        sentence = f'{section.path}.amount: turning takes nothing off a heap; leave "amount" out'
        context.problem(section.place("amount"), "heap-turned", sentence)


def _ask_of_bay(section: Section, entry: HistoryEntry, way: Make, context: ReadContext) -> None:
    """Ask about a heap that was built to more than its bay holds, heaped up a little."""
    if entry.built and entry.loose > (2 - judgement("as_good_as_done")) * way.bay:
        context.warning(
            section.place("amount"),
            OVER_BAY,
            f"{section.path}.amount: {written_amount(entry.loose, None)} was built on {entry.day} in a bay of"
            f" {written_amount(way.bay, None)}; is the amount right?",
        )


def _is_nothing(amount: Size | None) -> bool:
    """Say whether an amount is there and is none."""
    return amount is not None and not amount.volume and not amount.mass


def _check_amount(section: Section, entry: HistoryEntry, context: ReadContext) -> None:
    """What was put on is told by an amount or a depth; a mass needs a density."""
    amount, depth = section.get("amount"), section.get("depth")
    if entry.ends and not entry.brought:
        sentence = "give more than nothing, or leave it out; 0 is of a delivery of which no more comes"
        context.problem(section.place("amount"), "out-of-range", f"{section.path}.amount: {sentence}")
    if entry.built or entry.deed == TURNED:
        return
    if (amount is None) == (depth is None) and (entry.material or amount or _came(entry)):
        context.problem(section.mark, "one-of", f"{section.path}: give exactly one of amount and depth")
    if _is_of_nothing(section, entry):
        sentence = 'say of what so much was put on: give "way" or "material"'
        context.problem(section.mark, "no-material", f"{section.path}: {sentence}")
        return
    weighed = depth is None and amount is not None and amount.volume is None
    if weighed and (entry.material is None or entry.material.get("density") is None):
        sentence = f"{section.path}: a mass needs the material's density"
        context.problem(section.mark, "missing-figure", sentence)
    if entry.material is not None and not weighed:
        check_density(entry.material, section, "material", context)


def _is_of_nothing(section: Section, entry: HistoryEntry) -> bool:
    """Say whether so much was put on a place, and nothing tells what: no way, stuff or job of a season."""
    much = section.get("amount") is not None or section.get("depth") is not None
    return bool(entry.place) and much and entry.material is None and not number_of(entry.job)


def _came(entry: HistoryEntry) -> bool:
    """Say whether something of a way was put on a place: it says both, and no job that may be another."""
    return bool(entry.place and entry.way and not entry.job)
