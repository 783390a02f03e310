"""The next season's file: what of this one is written anew, and what the grower should know of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from collections.abc import Mapping as Map
from dataclasses import field, replace
from datetime import date, timedelta

from barrowful.measures.fixed import fixed
from barrowful.measures.problems import WrongUse
from barrowful.measures.text import in_figures
from barrowful.needs.carrying import since_start
from barrowful.needs.doses import SLACK_SHARE
from barrowful.needs.layers import Layers, covers
from barrowful.needs.registry import NEEDS
from barrowful.site.carried import DIGITS, Carried
from barrowful.site.job_names import FILL, JOINT
from barrowful.site.needs import Need
from barrowful.site.records import Place, PlanLine, Site
from barrowful.sitefile.text.nodes import Document, Listing, Mapping, Node, Scalar
from barrowful.sitefile.text.revise import Path
from barrowful.soil.history import did_fill, done, was_dug
from barrowful.supplies.lot import YEAR
from barrowful.supplies.registry import supplies

#: Figures of a soil that hold for a day.
OF_A_DAY = ("organic_matter", "ph")
#: Kinds of need that are met once for all, of which nothing else is told; and places that are named.
FOR_ONCE, MOST_NAMED = ("dress", "fill", "raise"), 4


@fixed(kw_only=False)
class NextSeason:
    """What to write at each path of the file, None for what goes, and sentences for the grower."""

    edits: dict[Path, str | None] = field(default_factory=dict)
    told: list[str] = field(default_factory=list)

    def take(self, path: Path, carried: Carried) -> None:
        """Note what becomes of the section at a path."""
        if carried.gone:
            self.edits[path] = None
        self.edits.update({(*path, key): text for key, text in carried.keys.items()})
        self.told.extend(filter(None, [carried.told]))


#: What is left to do of lines of a plan [m3], by place, need, way and day.
Left = Map[tuple[str, str, str, date], float]


def next_season(site: Site, document: Document, day: date, left: Callable[[], Left] = dict) -> NextSeason:
    """Return what makes of a site file the one for the season from a day on.

    What is ``left`` of lines of its plan that may still be done on that day stays in it. Raises
    :class:`WrongUse` for a day on which it cannot begin.
    """
    if because := season_over(site, day):
        raise WrongUse(because)
    season = NextSeason({("start",): day.isoformat()})
    season.edits.update({path: _eve(site).isoformat() for path in _undated(document)})
    places = tuple(_dated(place, site) for place in site.places)
    new = replace(site, start=day, places=places, plan=())
    for number, place in enumerate(places):
        _carry_place(season, site, new, place, number)
    for number, (name, supply) in enumerate(supplies(site).items()):
        season.take(("ways", number, site.way(name).kind), supply.carried_on(day))
    _say_done(season, site)
    _drop_past(season, site, day, left())
    _say_past(season, site, document, day)
    return NextSeason(_collapsed(season.edits, document), season.told)


def season_over(site: Site, day: date) -> str:
    """Return why the next season cannot begin on a day, or nothing."""
    if day <= site.start:
        return (
            f"{day} is not after the season that the file is for, which starts on {site.start};"
            f" give a later day, such as {YEAR.after(site.start)}"
        )
    last = max((entry.day for entry in site.history), default=site.start)
    if day < last:
        return (
            f"{day} is before the last entry of the history, of {last}; give that day or a later one."
            f' What is left to do of this season "barrowful season --today DAY" tells'
        )
    return ""


def _eve(site: Site) -> date:
    """Return the day before the season, whose soil a soil section without a date of its test is told of."""
    return site.start - timedelta(days=1)


def _undated(document: Document) -> Iterator[Path]:
    """Yield where the date of its test is to be added to a soil, so that what was put on since counts on."""
    whole = _at(document.top, ("soil",))
    if _has(whole, "tested"):
        return
    if _tells(whole):
        yield ("soil", "tested")
        return
    places = _at(document.top, ("places",))
    for number in range(len(places.items) if isinstance(places, Listing) else 0):
        soil = _at(document.top, ("places", number, "soil"))
        if _tells(soil) and not _has(soil, "tested"):
            yield ("places", number, "soil", "tested")


def _dated(place: Place, site: Site) -> Place:
    """Return a place whose soil has a date of its test."""
    return replace(place, soil=replace(place.soil, tested=place.soil.tested or _eve(site)))


def _carry_place(season: NextSeason, old: Site, new: Site, place: Place, number: int) -> None:
    """Note what becomes of the needs of a place, and of the layer that was stated to lie there."""
    for at, need in enumerate(place.needs):
        carried, item = NEEDS[need.kind].carried_on(old, new, place), ("places", number, "needs", at)
        season.take(item if carried.gone else (*item, need.kind), carried)
    if place.new and since_start(old, place):
        season.edits["places", number, "new"] = None
    if place.layer_now:
        season.take(("places", number), _layer(old, place, new.start))


def _say_done(season: NextSeason, site: Site) -> None:
    """Tell which needs that are for once are done, and so left out: the file does not tell it."""
    done_of: dict[str, list[str]] = {}
    for number, place in enumerate(site.places):
        for at, need in enumerate(place.needs):
            gone = season.edits.get(("places", number, "needs", at), "") is None
            if gone and need.kind in FOR_ONCE:
                done_of.setdefault(need.kind, []).append(place.name)
    for kind, names in done_of.items():
        more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
        season.told.append(
            f"{', '.join(names[:MOST_NAMED])}{more}: the {kind} is done and left out; write it again under"
            " needs to have it once more"
        )


def _layer(site: Site, place: Place, day: date) -> Carried:
    """Return the layer that lies on a place on a day: of what was stated, and what was put on before it."""
    past = replace(site, history=tuple(entry for entry in site.history if entry.day < day))
    own = [dose.material for dose in done(past, place) if dose.day >= site.start and covers(dose)]
    ways = [
        supply.material
        for supply in supplies(site).values()
        if supply.serves(place, "cover") and not supply.material.lacks("lasts", "density", "decay")
    ]
    if not (own or ways):
        told = f"{place.name}: what is left of the layer is not known; measure it, and change layer_now"
        return Carried(told=told)
    lies = Layers(past, place, (), [*own, *ways][0]).on(day.toordinal())
    return Carried(keys={"layer_now": f"{in_figures(1000 * lies, DIGITS)} mm"})


def _say_past(season: NextSeason, site: Site, document: Document, day: date) -> None:
    """Write of what was put on that it was dug in or filled a place, where a need that goes alone told it."""
    history = _at(document.top, ("history",))
    lines = history.items if isinstance(history, Listing) else []
    in_turn = sorted(range(len(lines)), key=lambda number: _text(lines[number], "date"))
    there = {place.name: place for place in site.places}
    left = {
        place.name: replace(place, needs=tuple(_left(season, number, place)))
        for number, place in enumerate(site.places)
    }
    for number, entry in zip(in_turn, site.history, strict=True):
        if entry.material is None or not entry.place:
            continue
        fills = did_fill(entry, there[entry.place], site.start)
        if fills and not did_fill(entry, left[entry.place], day):
            season.edits["history", number, "job"] = JOINT.join(filter(None, (FILL, entry.job)))
        told, tells = (was_dug(entry.dug, entry.material, of[entry.place]) for of in (there, left))
        if told and not tells and not fills:
            season.edits["history", number, "dug"] = "true"


def _left(season: NextSeason, number: int, place: Place) -> Iterator[Need]:
    """Yield the needs of a place that do not go."""
    for at, need in enumerate(place.needs):
        if season.edits.get(("places", number, "needs", at), "") is not None:
            yield need


def _text(node: Node, key: str) -> str:
    """Return the text of a key of a section."""
    value = _at(node, (key,))
    return value.text.strip() if isinstance(value, Scalar) else ""


def _drop_past(season: NextSeason, site: Site, day: date, left: Left) -> None:
    """Leave out lines of a plan that are past or for a need that is gone, and a limit that is past.

    Of a past line that may still be done what is left goes on from the start.
    """
    kinds = {
        (place.name, need.kind): ("places", number, "needs", at)
        for number, place in enumerate(site.places)
        for at, need in enumerate(place.needs)
    }
    kept = []
    for number, line in enumerate(site.plan):
        gone = season.edits.get(kinds[line.place, line.need], "") is None
        rest = 0.0 if line.day is None else left.get((line.place, line.need, line.way, line.day), 0.0)
        if gone or line.day is None or (line.day < day and not rest):
            season.edits["plan", number] = None
        elif line.day < day:
            kept.append(f"{line.need} {line.place} by {line.way}")
            season.edits.update(_from_start(site, line, ("plan", number), day, rest))
    if kept:
        more = f" and {len(kept) - MOST_NAMED} more" if len(kept) > MOST_NAMED else ""
        season.told.append(
            f"plan: {', '.join(kept[:MOST_NAMED])}{more}: still to be done, as your history does not have it;"
            f" it stays in your plan, from {day} on"
        )
    if site.limits.by is not None and site.limits.by < day:
        told = f"limits: {site.limits.by} is past and is left out; give a new day by which all is to be met"
        season.take(("limits",), Carried(keys={"by": None}, told=told))


def _from_start(site: Site, line: PlanLine, path: Path, day: date, rest: float) -> dict[Path, str | None]:
    """Return what a line becomes that goes on on the new start, with what is left of it [m3]."""
    edits: dict[Path, str | None] = {(*path, "date"): day.isoformat()}
    stuff = site.way(line.way).material
    if line.amount is None or rest >= line.amount.loose(stuff.get("density") or 1.0) * (1 - SLACK_SHARE):
        return edits
    told = f"{stuff.wet_mass(rest):.9g} kg" if line.amount.volume is None else f"{rest:.9g} m3"
    return edits | {(*path, "amount"): told}


def _collapsed(edits: dict[Path, str | None], document: Document) -> dict[Path, str | None]:
    """Return edits without those that take out what is not there; what loses all it has goes whole."""
    kept = {path: text for path, text in edits.items() if text is not None or _at(document.top, path)}
    for path in sorted({path[:-1] for path, text in kept.items() if text is None}, key=len, reverse=True):
        below = _below(_at(document.top, path), path)
        added = any(edit[: len(path)] == path and text is not None for edit, text in kept.items())
        if path and not added and all(kept.get(each, "") is None for each in below):
            kept = {edit: text for edit, text in kept.items() if edit[: len(path)] != path}
            kept[path] = None
    return kept


def _below(node: Node | None, path: Path) -> list[Path]:
    """Return the paths of what stands right below a node."""
    if isinstance(node, Listing):
        return [(*path, number) for number in range(len(node.items))]
    return [(*path, key) for key in node.entries] if isinstance(node, Mapping) else []


def _at(node: Node, path: Path) -> Node | None:
    """Return what stands at a path, or None."""
    for step in path:
        if isinstance(node, Listing) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
        elif isinstance(node, Mapping) and step in node.entries:
            node = node.entries[str(step)][1]
        else:
            return None
    return node


def _has(node: Node | None, key: str) -> bool:
    return isinstance(node, Mapping) and key in node.entries


def _tells(soil: Node | None) -> bool:
    """Say whether a soil section tells a figure that holds for a day."""
    return any(_has(soil, key) for key in OF_A_DAY)
