"""The public recall data, as its schema is published (REFERENCE section 8), with invented makers.

Keys of the JSON records, headings of the CSV listing, forms of days, numbers and quantities, the
record that carries an error, and the nesting of some copies.
"""

from datetime import date

import pytest

from tests.units.recalls.ground import as_csv, as_json, record, row
from units.recalls.domain.published_csv import HEADINGS
from units.recalls.domain.reading import read_notices
from units.recalls.domain.texts import RecallFileError

KEYS = """RecallID RecallNumber RecallDate Description URL Title ConsumerContact LastPublishDate
    Products Inconjunctions Images Injuries Manufacturers Retailers Importers Distributors
    SoldAtLabel ManufacturerCountries ProductUPCs Hazards Remedies RemedyOptions"""
COLUMNS = (
    "Recall Number,Product Safety Warning Number,Date,Product Safety Warning Date,Recall Heading,"
    "Name of product,Description,Hazard Description,Consumer Action,Original Product Safety "
    "Warning Announcement,Remedy Type,Units,Incidents,Remedy,Sold At Label,Sold At,Importers,"
    "Manufacturers,Distributors,Manufactured In,Custom Label,Custom Field"
)


def one(content: bytes):
    (notice,) = read_notices(content)
    return notice


def test_a_record_with_every_published_key_is_read():
    assert set(record()) == set(KEYS.split())
    assert one(as_json(record())).key == "26645"


def test_the_csv_listing_has_its_22_columns():
    assert ",".join(HEADINGS) == COLUMNS
    assert len(HEADINGS) == 22
    assert one(as_csv(row())).key == "26645"


@pytest.mark.parametrize("text", ["2026-07-30T00:00:00", "2026-07-30"])
def test_both_forms_of_a_day_in_json_are_one_day(text):
    assert one(as_json(record(RecallDate=text))).announced_on == date(2026, 7, 30)


def test_the_form_of_a_day_in_csv_is_read():
    assert one(as_csv(row(Date="January 15, 2024"))).announced_on == date(2024, 1, 15)


@pytest.mark.parametrize(
    ("number", "key"), [("26645", "26645"), ("18-764", "18764"), ("Release #12-052", "12052")]
)
def test_numbers_are_compared_by_digits_only(number, key):
    assert one(as_json(record(number=number))).key == key


@pytest.mark.parametrize(
    "text", ["About 1.2 million", "About 19,900 (In addition, about 17 in Canada)"]
)
def test_quantities_stay_the_text_that_they_are(text):
    products = [{"Name": "treadmill", "NumberOfUnits": text}]
    assert one(as_json(record(Products=products))).products[0].units == text


def test_an_error_arrives_as_a_record_and_is_no_notice():
    content = as_json({"RecallID": 0, "Title": "Error retrieving Recalls: no connection"})
    with pytest.raises(RecallFileError, match="Error retrieving Recalls: no connection"):
        read_notices(content)


def test_some_copies_nest_their_products():
    content = as_json(record(Products={"Product": {"Name": "treadmill", "Model": ""}}))
    assert one(content).products[0].name == "treadmill"
