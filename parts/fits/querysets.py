from django.db import models


class PartQuerySet(models.QuerySet):
    def matching(self, key: str):
        return self.filter(models.Q(key__contains=key) | models.Q(name__icontains=key))


class FitQuerySet(models.QuerySet):
    def for_component(self, model, component):
        return self.filter(model=model, part__component=component).select_related("part")
