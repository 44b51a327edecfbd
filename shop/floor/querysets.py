from django.db import models


class StayQuerySet(models.QuerySet):
    def here(self):
        return self.filter(left_on=None)

    def ours(self):
        return self.filter(owner=None)
