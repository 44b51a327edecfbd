"""What makers said over two years, which numbers became others, and which models are sisters."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from parts.answers.models import Answer
from parts.answers.services import record_answer, withdraw_answer
from parts.fits.models import Part
from parts.fits.services import find_or_add_part, link_sisters
from shop.front.demo.story import FIRST, Story, table
from units.catalogue.models import Component, MachineModel

OPENED = FIRST - 2  # on this day what stood in the old notebook was typed in


def answering(story: Story, models: list[MachineModel]) -> list[Iterator[datetime]]:
    """Patterns fall to every n-th model; single answers are about one component or part."""
    by_number = {model.number: model for model in models}
    singles = table("answers.toml")["single"]
    threads = [_patterns(story, models)]
    threads += [_single(story, row, by_number) for row in singles]
    return threads + [_sisters(story, row, by_number) for row in table("answers.toml")["sisters"]]


def _patterns(story: Story, models: list[MachineModel]) -> Iterator[datetime]:
    patterns = table("answers.toml")["patterns"]
    said = [
        (answer["ago"], model, answer)
        for index, model in enumerate(models)
        for answer in patterns[index % len(patterns)]["answers"]
    ]
    for ago, model, answer in sorted(said, key=lambda one: (-one[0], one[1].pk)):
        at = _entered(story, ago)
        yield at
        _record(story, answer, at, model=model)


def _single(story: Story, row: dict, by_number: dict) -> Iterator[datetime]:
    at = _entered(story, row["ago"])
    yield at
    if "part" in row:
        answer = _record(story, row, at, part=Part.objects.get(number=row["part"]))
    else:
        component = Component.objects.filter(slug=row.get("component")).first()
        answer = _record(story, row, at, model=by_number[row["model"]], component=component)
    if "withdrawn_ago" in row:
        at = story.at(row["withdrawn_ago"], 10)
        yield at
        withdraw_answer(answer=answer, reason=row["reason"], by=story.desk, at=at)


def _entered(story: Story, ago: int) -> datetime:
    return story.at(min(ago, OPENED), 11)


def _record(story: Story, row: dict, at: datetime, **about) -> Answer:
    more = {name: row[name] for name in ("warranty", "lead_days", "dealer_only") if name in row}
    if "cost" in row:
        more["cost"] = Decimal(row["cost"])
    if "replaced_by" in row:
        more["replaced_by"] = _later_number(about["part"], row["replaced_by"])
    return record_answer(
        status=row["status"],
        given_on=story.day(row["ago"]),
        given_by=row["by"],
        channel=row["channel"],
        until=story.day(row["until_ago"]) if "until_ago" in row else None,
        note=row.get("note", ""),
        by=story.desk,
        at=at,
        **about,
        **more,
    )


def _later_number(part: Part, number: str) -> Part:
    return find_or_add_part(
        maker=part.maker, number=number, name=part.name, component=part.component
    )


def _sisters(story: Story, row: dict, by_number: dict) -> Iterator[datetime]:
    at = story.at(row["ago"], 15)
    yield at
    link_sisters(
        model=by_number[row["model"]],
        other=by_number[row["other"]],
        components=Component.objects.filter(slug__in=row["components"]),
        evidence=row["evidence"],
        by=story.bench,
        at=at,
    )
