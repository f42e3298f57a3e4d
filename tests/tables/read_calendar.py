"""Reads calendar.ics, which the program wrote, with the Python package `icalendar`, and writes down what it found.

    python3 -m venv VENV && VENV/bin/pip install icalendar && VENV/bin/python tests/tables/read_calendar.py

Writes calendar.tsv (one event a line: UID, DTSTAMP, SEQUENCE, DTSTART, DTEND, SUMMARY, DESCRIPTION, TRANSP, alarms as
`minutes text` with `|` between) and calendar-rewritten.ics (the same calendar as `icalendar` writes it). The test
`calendar_is_read_by_others_as_it_was_meant` compares both with the program's own reading.
"""

from importlib.metadata import version
from pathlib import Path

from icalendar import Calendar

HERE = Path(__file__).parent
calendar = Calendar.from_ical((HERE / "calendar.ics").read_bytes())
assert not calendar.errors, calendar.errors


def utc(event, name):
    if name not in event:
        return ""
    when = event.decoded(name)
    assert when.utcoffset().total_seconds() == 0, when
    return when.strftime("%Y%m%dT%H%M%SZ")


def text(component, name):
    return str(component.get(name, "")).replace("\n", "<LF>")


rows = [f"# icalendar {version('icalendar')}"]
for event in calendar.walk("VEVENT"):
    assert not event.errors, event.errors
    alarms = []
    for alarm in event.walk("VALARM"):
        assert alarm["ACTION"] == "DISPLAY"
        minutes, rest = divmod(alarm.decoded("TRIGGER").total_seconds(), 60)
        assert rest == 0
        alarms.append(f"{int(minutes)} {text(alarm, 'DESCRIPTION')}")
    rows.append("\t".join([
        text(event, "UID"), utc(event, "DTSTAMP"), str(int(event["SEQUENCE"])), utc(event, "DTSTART"), utc(event, "DTEND"),
        text(event, "SUMMARY"), text(event, "DESCRIPTION"), text(event, "TRANSP"), "|".join(alarms),
    ]))
(HERE / "calendar.tsv").write_text("\n".join(rows) + "\n", encoding="utf-8")
(HERE / "calendar-rewritten.ics").write_bytes(calendar.to_ical(sorted=False))
print(len(rows) - 1, "events")
