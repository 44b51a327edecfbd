"""Recalls: the list as it is published, loaded and loaded again, and what people decided."""

import json
from collections.abc import Iterator
from datetime import datetime

from shop.front.demo.story import Story, table
from units.catalogue.models import Unit
from units.recalls.models import Recall
from units.recalls.selectors import match_of
from units.recalls.services import decide_match, load_recalls


def recalled(story: Story) -> list[Iterator[datetime]]:
    told = table("recalls.toml")
    loads = [_load(story, row) for row in told["loads"]]
    return loads + [_decided(story, row) for row in told["decisions"]]


def _load(story: Story, row: dict) -> Iterator[datetime]:
    at = story.at(row["ago"], 7, 30)
    yield at
    notices = [one for one in table("recalls.toml")["notices"] if one["number"] in row["numbers"]]
    content = json.dumps([_published(story, one) for one in notices], indent=1).encode()
    load_recalls(content=content, name=row["name"], by=story.owner, at=at)


def _published(story: Story, notice: dict) -> dict:
    """A notice in the published JSON form (REFERENCE section 8)."""
    day = f"{story.day(notice['ago']).isoformat()}T00:00:00"
    return {
        "RecallNumber": notice["number"],
        "RecallDate": day,
        "LastPublishDate": day,
        "Title": notice["title"],
        "Description": notice["text"],
        "URL": f"https://recalls.example/{notice['number']}",
        "ConsumerContact": notice["contact"],
        "Products": [
            {"Name": notice["products"], "Model": "", "NumberOfUnits": notice["units"]},
        ],
        "Manufacturers": [{"Name": notice["maker"], "CompanyID": ""}],
        "Hazards": [{"Name": notice["hazard"]}],
        "Remedies": [{"Name": notice["remedy"]}],
        "RemedyOptions": [{"Option": "Repair"}],
    }


def _decided(story: Story, row: dict) -> Iterator[datetime]:
    at = story.at(row["ago"], 16)
    yield at
    recall = Recall.objects.get(number=row["number"])
    unit = Unit.objects.with_identity().get(serial=row["serial"])
    decide_match(
        recall=recall,
        unit=unit,
        outcome=row["outcome"],
        reason=row["reason"],
        basis=match_of(recall, unit).basis,
        by=story.bench,
        at=at,
    )
