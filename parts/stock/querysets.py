from django.db import models
from django.db.models import Q


class CostLayerQuerySet(models.QuerySet):
    def oldest_first(self):
        return self.order_by("move__moved_on", "move_id")

    def not_empty(self):
        return self.filter(quantity_left__gt=0)

    def come_by(self, on):
        """Layers that had come on or before a day: nothing is taken before it came."""
        return self.filter(move__moved_on__lte=on)


class DonorPieceQuerySet(models.QuerySet):
    def held(self):
        """Still on the donor, or in a bin without a part number."""
        return self.filter(state="held")

    def held_on(self, day=None, known_at=None):
        """Held now; or on a past day, by what had been written down at ``known_at``."""
        if day is None:
            return self.held()
        pieces = self.filter(donor__stripped_on__lte=day)
        pieces = pieces.filter(Q(settled_on=None) | Q(settled_on__gt=day))
        if known_at is None:
            return pieces
        return pieces.filter(donor__recorded_at__lte=known_at)

    def usable(self):
        return self.exclude(grade="spent")
