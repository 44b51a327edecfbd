"""Load a published list of recalls, whole or not at all, again and again without duplicates."""

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from units.recalls.domain.names import names_in
from units.recalls.domain.notice import Notice, completed, is_older
from units.recalls.domain.reading import read_notices
from units.recalls.domain.texts import RecallFileError
from units.recalls.models import Recall, RecallLoad, RecallVersion, RecallWord
from units.recalls.selectors import open_matches
from units.recalls.services.errors import RecallError
from units.rows.services import next_number

CHUNK = 500
SAID = (
    "number", "title", "announced_on", "published_on", "url", "description", "products",
    "parties", "hazard", "remedy", "contact", "sold_at", "digest", "loaded_at",
)  # fmt: skip


def load_recalls(
    *, content: bytes, name: str, by: AbstractBaseUser | None, at: datetime
) -> RecallLoad:
    """Take in the notices of a file: new ones, and those that say something else than before.

    The text of a changed notice is brought up to date, unless a later wording is known; what its
    form leaves empty stays as it was. Every version is kept as published. A decision about a match
    counts on unless the ranges became others. Raises RecallError.
    """
    try:
        notices = read_notices(content)
    except RecallFileError as error:
        raise RecallError(_(error.sentence) % error.values, "file") from error
    return _take_in(notices, content, name, by, at)


@transaction.atomic
def _take_in(
    notices: Sequence[Notice],
    content: bytes,
    name: str,
    by: AbstractBaseUser | None,
    at: datetime,
) -> RecallLoad:
    # Numbered, and so one after the other: two people may load one list at once.
    next_number("recall-load")
    before = _open()
    sorts = _sorted(notices)
    new = [_filled(Recall(key=one.key), one, at) for one in sorts.new]
    changed = [_filled(recall, one, at) for recall, one in sorts.changed]
    Recall.objects.bulk_create(new, batch_size=CHUNK)
    Recall.objects.bulk_update(changed, SAID, batch_size=CHUNK)
    Recall.objects.bulk_update(sorts.later, ["published_on"], batch_size=CHUNK)
    RecallWord.objects.filter(recall__in=changed).delete()
    _keep({one.key: one for one in sorts.said}, new + changed, at)
    return RecallLoad.objects.create(
        name=name[-200:],
        digest=hashlib.sha256(content).hexdigest(),
        new=len(new),
        changed=len(changed),
        same=len(notices) - len(new) - len(changed) - sorts.older,
        older=sorts.older,
        opened=len(_open() - before),
        loaded_at=at,
        loaded_by=by,
    )


@dataclass
class _Sorts:
    """The notices of a file by what they bring; ``later`` have a later day and the same words."""

    new: list[Notice] = field(default_factory=list)
    changed: list[tuple[Recall, Notice]] = field(default_factory=list)
    later: list[Recall] = field(default_factory=list)
    older: int = 0

    @property
    def said(self) -> list[Notice]:
        return self.new + [notice for _recall, notice in self.changed]


def _sorted(notices: Sequence[Notice]) -> _Sorts:
    sorts, known = _Sorts(), _known(notices)
    for notice in notices:
        recall = known.get(notice.key)
        if recall is None:
            sorts.new.append(notice)
        elif is_older(notice, recall.published_on):
            sorts.older += 1
        elif recall.digest != notice.digest and (
            (whole := completed(notice, recall.notice)).digest != recall.digest
        ):
            sorts.changed.append((recall, whole))
        elif notice.published_on and notice.published_on != recall.published_on:
            recall.published_on = notice.published_on
            sorts.later.append(recall)
    return sorts


def _known(notices: Sequence[Notice]) -> dict[str, Recall]:
    """By their keys the rows of these notices, whole where the words may have become others."""
    digests = {notice.key: notice.digest for notice in notices}
    rows = Recall.objects.only("key", "digest", "published_on")
    known = {recall.key: recall for recall in rows if recall.key in digests}
    other = [one.pk for one in known.values() if one.digest != digests[one.key]]
    return known | {one.key: one for one in Recall.objects.in_bulk(other).values()}


def _open() -> set[tuple[int, int]]:
    return {(match.recall.pk, match.unit.pk) for match in open_matches()}


def _filled(recall: Recall, notice: Notice, at: datetime) -> Recall:
    recall.number, recall.title = notice.number, notice.title
    recall.announced_on, recall.published_on = notice.announced_on, notice.published_on
    recall.url = notice.url
    recall.description, recall.hazard = notice.description, notice.hazard
    recall.products = [asdict(product) for product in notice.products]
    recall.parties = list(notice.parties)
    recall.remedy, recall.contact = notice.remedy, notice.contact
    recall.sold_at = notice.sold_at
    recall.digest, recall.loaded_at = notice.digest, at
    return recall


def _keep(notices: dict[str, Notice], recalls: Iterable[Recall], at: datetime) -> None:
    """The words that find these notices, and what was published."""
    longest = RecallWord._meta.get_field("word").max_length
    words, versions = [], []
    for recall in recalls:
        notice = notices[recall.key]
        words += [
            RecallWord(recall=recall, word=word)
            for word in sorted(names_in(notice))
            if len(word) <= longest
        ]
        versions.append(
            RecallVersion(
                recall=recall, digest=notice.digest, raw=json.dumps(notice.raw), loaded_at=at
            )
        )
    RecallWord.objects.bulk_create(words, batch_size=CHUNK)
    RecallVersion.objects.bulk_create(versions, batch_size=CHUNK)
