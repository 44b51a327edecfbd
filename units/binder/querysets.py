from django.apps import apps
from django.db import models
from django.db.models import OuterRef, Subquery
from django.db.models.functions import Coalesce


class EntryQuerySet(models.QuerySet):
    def standing(self):
        """Those that nobody took out."""
        return self.filter(taken_out=None)


class NoteQuerySet(EntryQuerySet):
    def with_pin(self):
        """Each with whether it is ``pinned``: as the newest change says, else not."""
        pins = apps.get_model("binder", "NotePin").objects.filter(note=OuterRef("pk"))
        newest = pins.order_by("-changed_at", "-pk").values("pinned")[:1]
        return self.annotate(pinned=Coalesce(Subquery(newest), False))
