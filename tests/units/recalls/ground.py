"""Invented notices in the published forms, and a way to load them."""

import csv
import io
import json

from tests.factories.units import MORNING
from units.recalls.domain.notice import Notice
from units.recalls.domain.published_csv import HEADINGS
from units.recalls.domain.reading import read_notices
from units.recalls.models import RecallLoad
from units.recalls.services import load_recalls

PROSE = (
    "This recall involves Corvane treadmills with model numbers TR-90 & TR-95. Serial numbers "
    "from CV120000 through CV129999 are included. The model and serial numbers are printed on a "
    "label at the front of the frame."
)


def record(number="26645", text=PROSE, **changes) -> dict:
    """A record of the JSON form; ``Products[].Model`` is empty, as it is in practice."""
    return {
        "RecallID": 10001,
        "RecallNumber": number,
        "RecallDate": "2026-07-30T00:00:00",
        "Description": text,
        "URL": "https://recalls.example/2026/corvane-treadmills",
        "Title": "Corvane Recalls Treadmills Due to Fall Hazard",
        "ConsumerContact": "Corvane at 202-555-0142 from 9 a.m. to 5 p.m.",
        "LastPublishDate": "2026-07-30T00:00:00",
        "Products": [
            {
                "Name": "Corvane treadmills",
                "Description": "",
                "Model": "",
                "Type": "",
                "CategoryID": "0",
                "NumberOfUnits": "About 19,900 (In addition, about 17 in Canada)",
            }
        ],
        "Inconjunctions": [],
        "Images": [],
        "Injuries": [{"Name": "None reported"}],
        "Manufacturers": [{"Name": "Corvane Fitness Inc., of Aldermere", "CompanyID": ""}],
        "Retailers": [],
        "Importers": [],
        "Distributors": [],
        "SoldAtLabel": None,
        "ManufacturerCountries": [],
        "ProductUPCs": [],
        "Hazards": [
            {"Name": "The belt can start by itself.", "HazardType": "", "HazardTypeID": "0"}
        ],
        "Remedies": [{"Name": "Stop using it and ask for a free repair."}],
        "RemedyOptions": [{"Option": "Repair"}],
    } | changes


def as_json(*records) -> bytes:
    return json.dumps(list(records), indent=1).encode()


def row(number="26645", text=PROSE, **changes) -> dict:
    """A row of the CSV form, by its headings."""
    return dict.fromkeys(HEADINGS, "") | {
        "Recall Number": number,
        "Date": "July 30, 2026",
        "Recall Heading": "Corvane Recalls Treadmills Due to Fall Hazard",
        "Name of product": "Corvane treadmills",
        "Description": text,
        "Units": "About 19,900",
        "Manufacturers": "Corvane Fitness Inc., of Aldermere",
    } | changes  # fmt: skip


def as_csv(*rows, newline="\n") -> bytes:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, HEADINGS, lineterminator=newline)
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue().encode()


def notice(text=PROSE, **changes) -> Notice:
    (found,) = read_notices(as_json(record(text=text, **changes)))
    return found


def load(*records, by=None, at=MORNING) -> RecallLoad:
    return load_recalls(content=as_json(*records), name="recalls.json", by=by, at=at)
