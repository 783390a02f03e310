"""What is to be said of courses: a target that is never met, and a gain that is on its way down again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from barrowful.answers.course import Course
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place
from barrowful.soil.present import how_kept
from barrowful.soil.trajectory import Point


def lasting(courses: Iterable[Course]) -> list[str]:
    """Return the sentences under some courses: of each, and of the humus that was there before."""
    shown = list(courses)
    places = {course.place.name: course.place for course in shown}
    return [sentence for course in shown for sentence in _of_course(course)] + [
        *dict.fromkeys(said for course in shown for said in _of_test(course)),
        *how_kept(places.values()),
        *_counts_as_own(shown),
        *(need.not_followed for kind, need in NEEDS.items() if need.not_followed and _wanted(kind, places)),
    ]


def _wanted(kind: str, places: Mapping[str, Place]) -> bool:
    """Say whether any of some places has a kind of need."""
    return any(place.need(kind) for place in places.values())


def _of_course(course: Course) -> list[str]:
    label = f"{course.title}, {course.place.name}"
    sentences = [f"{label}: {course.remark}."] if course.remark else []
    if course.place.need("raise") and (decline := _decline(course.points)):
        sentences.append(f"{label}: {decline}")
    return sentences


def _decline(points: Sequence[Point]) -> str:
    """Return that a gain is on its way down at the end, since the last soil test shown, or nothing."""
    tests = [number for number, point in enumerate(points) if point.tested is not None]
    since = points[tests[-1] :] if tests else points
    gains = [point.matter[1] for point in since if point.matter is not None and not point.past]
    if not gains or max(gains) <= gains[-1] + 1e-4:
        return ""
    peak, end = f"{max(gains):.1%}", f"{gains[-1]:.1%}"
    if peak == end:
        peak, end = f"{max(gains):.2%}", f"{gains[-1]:.2%}"
    return (
        f"soil organic matter peaks at {peak} and is back to {end} at the end; what is dug in does not last."
    )


def _of_test(course: Course) -> Iterator[str]:
    """Yield what the last soil test found beside what was reckoned for it, where no row shows it."""
    test = course.tested
    if test is not None and test.day < course.points[0].day:
        yield (
            f"{course.place.name}: the soil test of {test.day} found {test.found:.2%} of organic matter;"
            f" {test.expected:.2%} was reckoned for that day. From then on the test counts."
        )


def _counts_as_own(courses: Iterable[Course]) -> list[str]:
    """Return how what was dug in before a soil test counts, once."""
    if not any(course.tested for course in courses):
        return []
    return [
        "What was dug in before a soil test is in what the test found, and counts as the soil's own: fresh C"
        " and humus show it still, soil organic matter does not fall with it."
    ]
