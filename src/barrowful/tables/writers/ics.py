"""Calendars: whole-day events in the form of RFC 5545, for any calendar program."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple

from barrowful import __version__
from barrowful.tables.cells import clean

#: Octets of a line, its end not counted.
MOST_OCTETS = 75
#: Hours before the end of an event's last day at which it is told of: nine in the morning.
BEFORE_END = 15


class Event(NamedTuple):
    """Something that takes whole days, both ends included; ``sequence`` rises when it is told anew."""

    uid: str
    summary: str
    first: date
    last: date
    description: str = ""
    location: str = ""
    alarm: str = ""  #: what is said on the morning of its last day
    sequence: int = 0


def write_ics(name: str, events: Iterable[Event], stamp: datetime) -> str:
    """Return a calendar of events, told at a moment of universal time.

    >>> print(write_ics("Site", [Event("1", "order", date(2027, 3, 1), date(2027, 3, 1))],
    ...     datetime(2027, 1, 1, tzinfo=UTC)).split("\\r\\n")[8])
    DTSTART;VALUE=DATE:20270301
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//barrowful//barrowful {__version__}//EN",
        f"X-WR-CALNAME:{_text(name)}",
        *(line for event in events for line in _event(event, stamp.astimezone(UTC))),
        "END:VCALENDAR",
    ]
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def _event(event: Event, stamp: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{_text(event.uid)}"
    yield f"DTSTAMP:{_day(stamp)}T{stamp:%H%M%SZ}"
    yield f"SEQUENCE:{event.sequence}"
    yield f"DTSTART;VALUE=DATE:{_day(event.first)}"
    yield f"DTEND;VALUE=DATE:{_day(event.last + timedelta(days=1))}"
    yield f"SUMMARY:{_text(event.summary)}"
    if event.location:
        yield f"LOCATION:{_text(event.location)}"
    if event.description:
        yield f"DESCRIPTION:{_text(event.description)}"
    yield "TRANSP:TRANSPARENT"
    if event.alarm:
        yield "BEGIN:VALARM"
        yield "ACTION:DISPLAY"
        yield f"DESCRIPTION:{_text(event.alarm)}"
        yield f"TRIGGER;RELATED=END:-PT{BEFORE_END}H"
        yield "END:VALARM"
    yield "END:VEVENT"


def _day(day: date) -> str:
    return f"{day.year:04d}{day.month:02d}{day.day:02d}"


def _text(text: str) -> str:
    """Return a text with what a value may not hold written otherwise; its lines stay lines."""
    lines = (clean(line) for line in text.split("\n"))
    escaped = (line.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,") for line in lines)
    return "\\n".join(escaped)


def _folded(line: str) -> Iterator[str]:
    """Yield a line in pieces of so many octets, none of which parts a letter; each but the first is set in.

    >>> [len(piece.encode()) for piece in _folded("é" * 60)]
    [74, 47]
    """
    piece, octets = "", 0
    for letter in line:
        size = len(letter.encode())
        if octets + size > MOST_OCTETS:
            yield piece
            piece, octets = " ", 1
        piece, octets = piece + letter, octets + size
    yield piece
