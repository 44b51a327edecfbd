from django.db import models
from django.db.models import Count, F, Q


class PlateWalkQuerySet(models.QuerySet):
    def with_progress(self):
        """With ``photos``, how many of them are ``ended`` (read or not) and ``confirmed``."""
        return self.annotate(
            photos=Count("readings"),
            ended=Count("readings", filter=Q(readings__state__in=["read", "unread"])),
            confirmed=Count("readings__record"),
            aside=Count("readings__aside", filter=Q(readings__record=None)),
        )

    def open(self):
        """Those with a photo that nobody confirmed, and those that have none yet."""
        return self.with_progress().filter(Q(photos=0) | Q(confirmed__lt=F("photos") - F("aside")))


class PlateReadingQuerySet(models.QuerySet):
    def unconfirmed(self):
        """Those that a person still has to confirm or to set aside."""
        return self.filter(record=None, aside=None)

    def ended(self):
        """Those that wait for a person, not for the reader."""
        return self.filter(state__in=["read", "unread"])

    def loose(self):
        """Those of no walk."""
        return self.filter(walk=None)

    def of_photo(self, digest: str):
        """Those of the photo whose bytes have this SHA-256, however often it was stored."""
        return self.filter(photo__original_digest=digest)

    def with_pictures(self):
        return self.select_related(
            "photo", "crop", "walk", "asked_by", "record__unit__model__maker", "aside__set_by"
        )
