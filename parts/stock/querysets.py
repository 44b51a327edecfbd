from django.db import models


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

    def usable(self):
        return self.exclude(grade="spent")
