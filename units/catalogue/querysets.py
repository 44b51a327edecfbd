from django.db import models
from django.db.models import Q
from django.db.models.functions import Coalesce


class MakerQuerySet(models.QuerySet):
    def suggested_by(self, key: str):
        return self.filter(key__contains=key)


class MachineModelQuerySet(models.QuerySet):
    def current(self):
        """Models that were not merged into another."""
        return self.filter(merged_into=None)

    def unconfirmed(self):
        return self.current().filter(confirmed=False)

    def suggested_by(self, key: str):
        return self.current().filter(key__contains=key)

    def families_of(self, model_ids):
        """The current models behind these ids and all that were merged into them.

        Each row carries ``current_id``; rows of one family share it.
        """
        heads = self.filter(pk__in=model_ids).values(head=Coalesce("merged_into", "pk"))
        return self.annotate(current_id=Coalesce("merged_into", "pk")).filter(
            Q(pk__in=heads) | Q(merged_into__in=heads)
        )


class UnitQuerySet(models.QuerySet):
    def with_identity(self):
        return self.select_related("model__maker", "model__kind", "maker")
