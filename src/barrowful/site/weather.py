"""What a climate can hardly be: frosts and months of the other hemisphere, a warmth that was never tried."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barrowful.catalogue.judgements import judgement
from barrowful.ground.climate import mean_amg_temperature_factor, mean_temperature_factor
from barrowful.measures.telling import TEMPERATURE, either, measured
from barrowful.sitefile.language.context import ReadContext, Section

#: The longest day of each hemisphere, which is the shortest of the other; month and day.
MIDSUMMER = {"north": (6, 21), "south": (12, 21)}
#: The months of autumn and of summer in each hemisphere; its spring and winter are those of the other.
AUTUMN = {"north": (9, 10, 11), "south": (3, 4, 5)}
SUMMER = {"north": (6, 7, 8), "south": (12, 1, 2)}
OTHER = {"north": "south", "south": "north"}


def check_frosts(section: Section, hemisphere: str, context: ReadContext) -> None:
    """Refuse frosts between which nothing could grow: on one day, or winter between last and first.

    From the last frost to the first it is summer; in the south that crosses the new year. Where it holds
    midwinter and the other part of the year midsummer, the two are swapped, or of the other hemisphere.
    """
    last, first = section.get("last_frost"), section.get("first_frost")
    other = OTHER[hemisphere]
    _doubt_frosts(
        section, {"last_frost": AUTUMN[hemisphere], "first_frost": AUTUMN[other]}, hemisphere, context
    )
    if last is None or first is None:
        return
    midsummer, midwinter = MIDSUMMER[hemisphere], MIDSUMMER[other]
    if last == first:
        told = (
            f"it is the day of last_frost too, {_written(last)}, and nothing could grow between; give the"
            " usual last frost in spring as last_frost, and the first in autumn as first_frost"
        )
    elif _between(last, midwinter, first) and _between(first, midsummer, last):
        told = (
            f"from last_frost {_written(last)} to first_frost {_written(first)} it is winter in the"
            f' {hemisphere}; give "last_frost: {_written(first)}" and "first_frost: {_written(last)}", or'
            f' "hemisphere: {other}" if you are there'
        )
    else:
        return
    context.problem(section.place("first_frost"), "frosts", f"{section.path}.first_frost: {told}")


def _doubt_frosts(
    section: Section, odd: Mapping[str, Sequence[int]], hemisphere: str, context: ReadContext
) -> None:
    """Ask about a frost in months that are no time for it in the hemisphere."""
    for key, months in odd.items():
        frost = section.get(key)
        if frost is not None and frost[0] in months:
            season = "autumn" if months == AUTUMN[hemisphere] else "spring"
            sentence = (
                f'{_written(frost)} is in the {season} of the {hemisphere}; look at it, and at "hemisphere"'
            )
            context.warning(section.place(key), "frosts", f"{section.path}.{key}: {sentence}")


def _between(begin: tuple[int, int], day: tuple[int, int], end: tuple[int, int]) -> bool:
    """Say whether a day lies between two others and is neither, past the new year too."""
    return begin < day < end if begin <= end else day > begin or day < end


def _written(day: tuple[int, int]) -> str:
    """Return a day of the year as a site file has it.

    >>> _written((4, 20))
    '04-20'
    """
    return f"{day[0]:02}-{day[1]:02}"


def check_warmth(section: Section, temperatures: Sequence[float], context: ReadContext) -> None:
    """Say where the mean of the months is warmer than any trial, and how far two published curves differ."""
    mean = sum(temperatures) / len(temperatures)
    if mean <= judgement("tried_warmth"):
        return
    warm, tried = (measured(of, TEMPERATURE, ".0f") for of in (mean, judgement("tried_warmth")))
    usual = either("{15 degC|59 degF}")
    used, other = mean_temperature_factor(temperatures), mean_amg_temperature_factor(temperatures)
    context.warning(
        section.mark,
        "untried",
        f"{section.path}: a yearly mean of {warm} is above {tried}, and the"
        f" soil model was tried on no ground so warm; decay is taken {used:.1f} times as fast as at {usual}"
        f" (RothC's curve), another published curve has {other:.1f} (AMG's)",
    )


def check_months(section: Section, hemisphere: str, context: ReadContext) -> None:
    """Ask about months of which one of summer is the coldest, where it is cold enough for frost."""
    months: Sequence[float] = section.get("monthly_mean") or ()
    cold = min(months, default=judgement("no_frost"))
    if cold < judgement("no_frost") and months.index(cold) + 1 in SUMMER[hemisphere]:
        context.warning(
            section.place("monthly_mean"),
            "months",
            f"{section.path}.monthly_mean: the coldest month, number {months.index(cold) + 1}, is one of"
            f' summer in the {hemisphere}; the first is January, or write "hemisphere: {OTHER[hemisphere]}"',
        )
