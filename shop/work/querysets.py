from django.db import models


class WorkOrderQuerySet(models.QuerySet):
    def open(self):
        return self.exclude(state__in=self.model.ENDS).exclude(state="closed", purpose="own")

    def with_machine(self):
        return self.select_related("unit__model__maker", "unit__model__kind", "owner", "payer")
