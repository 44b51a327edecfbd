from datetime import date, datetime

from django.db import models
from django.db.models import Q
from django.db.models.expressions import RawSQL
from django.db.models.functions import Coalesce

from parts.fits.domain.designations import stand_ins
from units.catalogue.domain.keys import match_key

# The links that follow from some parts, one after another, whichever way the arrows are read. The
# union forgets what it met already, so even a ring would end.
CHAIN = """
WITH RECURSIVE chain(id, {to}) AS (
  SELECT id, {to} FROM fits_supersession WHERE {of} IN ({places})
  UNION
  SELECT link.id, link.{to} FROM fits_supersession AS link
  JOIN chain ON link.{of} = chain.{to}
) SELECT id FROM chain
"""
LATER, EARLIER = ("part_id", "replaced_by_id"), ("replaced_by_id", "part_id")
MOST_NAMED = 2000  # of more parts than a database takes by name at once, every link is looked at


class PartQuerySet(models.QuerySet):
    def matching(self, text: str):
        """Parts whose number holds these letters and digits, whose name holds this text, or that
        stand in for the standard part of this designation."""
        found = Q(name__icontains=text.strip())
        if key := match_key(text):
            found |= Q(key__contains=key)
        if spellings := stand_ins(text):
            found |= Q(designation__in=spellings)
        return self.filter(found)

    def numbered(self, number: str):
        """Parts of this number, whoever made them."""
        return self.filter(key=match_key(number)).exclude(key="")


class LinkQuerySet(models.QuerySet):
    """Links that may be withdrawn."""

    def standing(self, known_at: datetime | None = None):
        """Links not withdrawn; with an instant, those that were written down and stood then."""
        if known_at is None:
            return self.filter(withdrawn_at=None)
        stood = Q(withdrawn_at=None) | Q(withdrawn_at__gt=known_at)
        return self.filter(stood, recorded_at__lte=known_at)


class FitQuerySet(LinkQuerySet):
    def with_names(self):
        return self.select_related("part__component", "part__maker", "model__maker")

    def with_current(self):
        """Each row carries ``current_id``: its model, or the one that was merged into."""
        return self.annotate(current_id=Coalesce("model__merged_into", "model"))


class SupersessionQuerySet(LinkQuerySet):
    """Chains may come with links that stand apart from them: the domain follows what it needs."""

    def from_parts(self, part_ids):
        """The links by which these parts became others, and those others yet others."""
        return self._chained(LATER, part_ids)

    def up_to_parts(self, part_ids):
        """The links by which others became these parts, and yet others those."""
        return self._chained(EARLIER, part_ids)

    def as_of(self, on: date | None, known_at: datetime | None):
        """Links standing as far as was known then, of numbers replaced by that day."""
        links = self.standing(known_at)
        return links if on is None else links.filter(on__lte=on)

    def _chained(self, way: tuple[str, str], part_ids):
        of, to = way
        ids = sorted(part_ids)
        if len(ids) > MOST_NAMED:
            return self.all()
        if not ids:
            return self.none()
        chain = CHAIN.format(of=of, to=to, places=", ".join(["%s"] * len(ids)))
        return self.filter(pk__in=RawSQL(chain, ids))  # noqa: S611 - names of our own columns


class SisterQuerySet(LinkQuerySet):
    def of_families(self, models):
        """Links of these models (a query) on either side; each row carries the current models on
        its two sides as ``near_id`` and ``far_id``."""
        return self.filter(Q(model__in=models) | Q(other__in=models)).annotate(
            near_id=Coalesce("model__merged_into", "model"),
            far_id=Coalesce("other__merged_into", "other"),
        )
