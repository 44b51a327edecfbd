from django.db import models
from django.db.models import Q, Sum


class LotQuerySet(models.QuerySet):
    def counted(self):
        """Lots with ``machines``, how many of them their lines count, left out lines aside."""
        kept = Q(lines__sort="machine") & ~Q(lines__state="dropped")
        return self.annotate(machines=Sum("lines__count", filter=kept))
