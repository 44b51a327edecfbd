"""The JSON form: a bare array of records, or a single record; some copies nest their lists.

Source: the schema of the agency's public REST data (REFERENCE section 8).
"""

import json
from collections.abc import Iterator

from units.recalls.domain.notice import Notice, Product, digits
from units.recalls.domain.texts import (
    LONGEST_NUMBER,
    RecallFileError,
    address,
    day,
    gettext_noop,
    one_line,
    plain,
)

MARKS = {"RecallID", "RecallNumber"}
PARTIES = ("Manufacturers", "Importers", "Distributors")


def read_json(text: str) -> list[Notice]:
    """Raises RecallFileError; one that is cut off names the line where it ends."""
    try:
        data = json.loads(text, parse_constant=str)
    except json.JSONDecodeError as error:
        raise RecallFileError(
            gettext_noop(
                "The JSON breaks off or is damaged at line %(line)d, character %(column)d. "
                "Nothing was loaded: download the file again."
            ),
            line=error.lineno,
            column=error.colno,
        ) from error
    except (RecursionError, ValueError) as error:
        raise RecallFileError(
            gettext_noop("The JSON is damaged. Nothing was loaded: download the file again.")
        ) from error
    return [_notice(record, at) for at, record in enumerate(_records(data), start=1)]


def _records(data) -> list:
    """The records, whether they stand alone, in a list, or in lists that only have a name."""
    while isinstance(data, dict) and not MARKS & set(data) and len(data) == 1:
        (data,) = data.values()
    if isinstance(data, dict):
        if not MARKS & set(data):
            raise RecallFileError(
                gettext_noop(
                    "This JSON is no list of recalls: no RecallNumber stands in it. Download "
                    "the list from the agency's site."
                )
            )
        return [data]
    return data if isinstance(data, list) else []


def _notice(record, at: int) -> Notice:
    if not isinstance(record, dict):
        raise RecallFileError(gettext_noop("Record %(at)d of the file is no recall notice."), at=at)
    number, title = one_line(record.get("RecallNumber")), one_line(record.get("Title"))
    if title.lower().startswith("error retrieving"):
        raise RecallFileError(
            gettext_noop(
                "The agency's server answered with an error instead of a list: “%(title)s”. "
                "Ask it again later."
            ),
            title=title[:300],
        )
    if not digits(number) or len(number) > LONGEST_NUMBER:
        raise RecallFileError(
            gettext_noop("Record %(at)d of the file (“%(title)s”) has no recall number."),
            at=at,
            title=title[:100],
        )
    return Notice(
        number=number,
        title=title,
        announced_on=_day(one_line(record.get("RecallDate")), at),
        published_on=_day(one_line(record.get("LastPublishDate")), at),
        url=address(record.get("URL")),
        description=plain(record.get("Description")),
        products=tuple(_products(record)),
        parties=tuple(
            dict.fromkeys(name for key in PARTIES for name in _named(record, key, "Name"))
        ),
        hazard="\n".join(_named(record, "Hazards", "Name")),
        remedy="\n".join(
            [*_named(record, "Remedies", "Name"), *_named(record, "RemedyOptions", "Option")]
        ),
        contact=plain(record.get("ConsumerContact")),
        sold_at="\n".join(
            [*_named(record, "Retailers", "Name"), *filter(None, [one_line(_label(record))])]
        ),
        raw=record,
    )


def _label(record: dict):
    label = record.get("SoldAtLabel")
    return label if isinstance(label, str) else None


def _day(text: str, at: int):
    try:
        return day(text)
    except ValueError as error:
        raise RecallFileError(
            gettext_noop(
                "Record %(at)d of the file gives “%(text)s” as its day. Known forms: 2026-07-30, "
                "2026-07-30T00:00:00."
            ),
            at=at,
            text=text[:60],
        ) from error


def _products(record: dict) -> Iterator[Product]:
    for one in _many(record.get("Products")):
        yield Product(
            name=one_line(one.get("Name")),
            description=plain(one.get("Description")),
            model=one_line(one.get("Model")),
            units=one_line(one.get("NumberOfUnits")),
        )


def _named(record: dict, key: str, name: str) -> list[str]:
    texts = (plain(one.get(name)) for one in _many(record.get(key)))
    return list(dict.fromkeys(filter(None, texts)))


def _many(value) -> list[dict]:
    """A list of objects, however it is nested: ``[{}]``, ``{}`` or ``{"Product": [{}]}``."""
    if isinstance(value, dict):
        inner = list(value.values())
        if len(inner) == 1 and isinstance(inner[0], dict | list):
            return _many(inner[0])
        return [value]
    if isinstance(value, list):
        return [one for one in value if isinstance(one, dict)]
    return []
