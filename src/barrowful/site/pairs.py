"""Every section of the site file with the record it becomes, and what is not a key as it stands.

A key goes to the field of its name. What is renamed goes to a field of another name. What is worked out
is a key that goes into something else, or a field that comes of something else: whoever builds the record
gives it by name.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Any, TypeVar

from barrowful.measures.fixed import fixed
from barrowful.site import needs, records, ways
from barrowful.sitefile.keys.heap import INGREDIENT, READING
from barrowful.sitefile.keys.need import NEED
from barrowful.sitefile.keys.place import PLACE, PRACTICE, SOIL
from barrowful.sitefile.keys.site import CLIMATE, HISTORY, LABOUR, LIMITS, PLAN, SITE
from barrowful.sitefile.keys.way import SAMPLE, WAY
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.language.context import Section

Record = TypeVar("Record")

#: The section of every record; kinds of way and need are found by the word they share.
SECTIONS: dict[type[Any], Group] = {
    records.Site: SITE,
    records.Climate: CLIMATE,
    records.Soil: SOIL,
    records.Place: PLACE,
    records.Labour: LABOUR,
    records.Limits: LIMITS,
    records.Practice: PRACTICE,
    records.PlanLine: PLAN,
    records.HistoryEntry: HISTORY,
    ways.Ingredient: INGREDIENT,
    ways.Reading: READING,
    ways.Sample: SAMPLE,
    **{need: NEED.below(word) for word, need in needs.NEEDS.items()},
    **{way: WAY.below(word) for word, way in ways.WAYS.items()},
}
#: Keys that go to a field of another name.
RENAMED: dict[type[Any], dict[str, str]] = {
    records.Site: {"site": "name"},
    records.Climate: {"rain_less_evaporation": "balance"},
    records.HistoryEntry: {"date": "day", "organic_matter": "tested"},
    records.PlanLine: {"date": "day"},
    ways.Reading: {"date": "day"},
    ways.Grow: {"seed": "seed_price"},
}
#: Keys that go into something else, and fields that come of something else.
WORKED_OUT: dict[type[Any], str] = {
    records.Site: "measures climate soil labour places ways materials limits plan history",
    records.Climate: "monthly_mean annual_mean temperatures assumed",
    records.Place: "shape area ring needs soil limits choice",
    records.Labour: "barrow",
    records.HistoryEntry: "amount depth loose weighed material ends again",
    needs.Cover: "depth",
    needs.Fill: "mix",
    needs.Feed: "for crop nitrogen phosphorus potassium taken farm_most",
    ways.Buy: "price selling bag load bag_mass left_on",
    ways.Make: "from ingredients readings material turned_on",
    ways.Ingredient: "material mass volume amount once price selling from_site",
    ways.Grow: "material planted sample fixed_share",
    ways.Sample: "area fresh dry dry_share moisture",
}


@fixed
class Pair:
    """A section of the site file and the record it becomes."""

    group: Group
    record: type[Any]
    renamed: Mapping[str, str]
    worked_out: frozenset[str]

    @cached_property
    def fields(self) -> Mapping[str, str]:
        """Return each key that gives a field of the record by itself, with the field's name."""
        return {key: self.renamed.get(key, key) for key in self.group.by_key if key not in self.worked_out}


#: Every record with its section. A way's name stands beside its section, so it is worked out for each.
PAIRS: Mapping[type[Any], Pair] = MappingProxyType(
    {
        record: Pair(
            group=group,
            record=record,
            renamed=RENAMED.get(record, {}),
            worked_out=frozenset(
                (*WORKED_OUT.get(record, "").split(), *(("name",) if issubclass(record, ways.Way) else ()))
            ),
        )
        for record, group in SECTIONS.items()
    }
)


def given(section: Section, kind: type[Any]) -> dict[str, Any]:
    """Return the fields of a record that a section gives; what it leaves out is not among them."""
    fields = PAIRS[kind].fields
    return {fields[key]: value for key, value in section.items() if value is not None and key in fields}


def record(section: Section, kind: type[Record], **worked_out: Any) -> Record:
    """Return the record of a section; what it leaves out takes the record's own default."""
    return kind(**{**given(section, kind), **worked_out})
