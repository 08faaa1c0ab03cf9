"""What independent readers find in the feeds of tests/data/calendar.

Three ways: `icalendar` with the zone's own data, `icalendar` with nothing but the feed's VTIMEZONE, and
`recurring-ical-events`, which is asked for everything in the feed's span.
"""

import json
from datetime import timedelta, timezone
from pathlib import Path

import recurring_ical_events
from icalendar import Calendar

FEEDS = Path(__file__).resolve().parent.parent / "data" / "calendar"
LIBRARIES = ["icalendar", "recurring-ical-events", "tzdata"]
HEADER = ["reader", "feed", "start", "uid", "end", "sequence", "status", "alarm"]


def utc(moment):
    return moment.astimezone(timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")


def length(event):
    """The length: exact, also across a clock change. What lays events out writes their ends instead."""
    if "DURATION" in event:
        return event["DURATION"].dt
    return event["DTEND"].dt.astimezone(timezone.utc) - event["DTSTART"].dt.astimezone(timezone.utc)


def alarm(event):
    """When the event's alarm rings, in minutes from its start; empty where it has none."""
    alarms = event.walk("VALARM")
    assert len(alarms) <= 1
    return "".join(str(int(one["TRIGGER"].dt / timedelta(minutes=1))) for one in alarms)


def row(reader, feed, event, start):
    end = start.astimezone(timezone.utc) + length(event)
    return [
        reader,
        feed,
        utc(start),
        str(event["UID"]),
        utc(end),
        int(event["SEQUENCE"]),
        str(event["STATUS"]),
        alarm(event),
    ]


def rows_of(path):
    calendar = Calendar.from_ical(path.read_bytes())
    assert not calendar.errors and "METHOD" not in calendar
    zones = {
        str(zone["TZID"]): zone.to_tz(lookup_tzid=False) for zone in calendar.walk("VTIMEZONE")
    }
    events = calendar.walk("VEVENT")
    for event in events:
        assert not event.errors, event.errors
        start = event["DTSTART"].dt
        yield row("icalendar", path.stem, event, start)
        named = event["DTSTART"].params.get("TZID")
        by_feed = start.replace(tzinfo=zones[named]) if named else start
        yield row("vtimezone", path.stem, event, by_feed)
    starts = [event["DTSTART"].dt.astimezone(timezone.utc) for event in events]
    day = timedelta(days=1)
    for event in recurring_ical_events.of(calendar).between(min(starts) - day, max(starts) + day):
        yield row("recurring-ical-events", path.stem, event, event["DTSTART"].dt)


def words_of(path):
    calendar = Calendar.from_ical(path.read_bytes())
    # The library does not know that NAME is a text and leaves it as it is written: it reads it under another name.
    renamed = path.read_bytes().replace(b"\r\nNAME:", b"\r\nSUMMARY:")
    yield "name", str(Calendar.from_ical(renamed)["SUMMARY"])
    for event in calendar.walk("VEVENT"):
        for name in ["SUMMARY", "LOCATION", "DESCRIPTION"]:
            yield name.lower(), str(event[name])


def tables():
    """The tables: name -> (source, header, rows)."""
    feeds = sorted(FEEDS.glob("*.ics"))
    assert feeds, "no feeds"
    rows = sorted(one for path in feeds for one in rows_of(path))
    words = sorted({one for path in feeds for one in words_of(path)})
    # As JSON, so that a line break stands in one line.
    texts = [(what, json.dumps(text, ensure_ascii=False)) for what, text in words]
    source = ("The feeds of tests/data/calendar", LIBRARIES)
    return {
        "calendar_events": (source, HEADER, rows),
        "calendar_words": (source, ["what", "text"], texts),
    }
