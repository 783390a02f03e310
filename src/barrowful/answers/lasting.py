"""What is to be said of courses: a target that is never met, and a gain that is on its way down again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from barrowful.answers.course import Course
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place
from barrowful.soil.present import how_kept


def lasting(courses: Iterable[Course]) -> list[str]:
    """Return the sentences under some courses: of each, and of the humus that was there before."""
    shown = list(courses)
    places = {course.place.name: course.place for course in shown}
    return [sentence for course in shown for sentence in _of_course(course)] + [
        *how_kept(places.values()),
        *(need.not_followed for kind, need in NEEDS.items() if need.not_followed and _wanted(kind, places)),
    ]


def _wanted(kind: str, places: Mapping[str, Place]) -> bool:
    """Say whether any of some places has a kind of need."""
    return any(place.need(kind) for place in places.values())


def _of_course(course: Course) -> list[str]:
    label = f"{course.title}, {course.place.name}"
    sentences = [f"{label}: {course.remark}."] if course.remark else []
    gains = [point.matter[1] for point in course.points if point.matter is not None and not point.past]
    if gains and max(gains) > gains[-1] + 1e-4 and course.place.need("raise"):
        sentences.append(
            f"{label}: soil organic matter peaks at {max(gains):.1%} and is back to "
            f"{gains[-1]:.1%} at the end; a dose put on once does not last."
        )
    return sentences
