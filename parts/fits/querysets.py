from django.db import models

from units.catalogue.domain.keys import match_key


class PartQuerySet(models.QuerySet):
    def matching(self, text: str):
        """Parts whose number holds these letters and digits, or whose name holds this text."""
        found = models.Q(name__icontains=text.strip())
        if key := match_key(text):
            found |= models.Q(key__contains=key)
        return self.filter(found)

    def numbered(self, number: str):
        """Parts of this number, whoever made them."""
        return self.filter(key=match_key(number)).exclude(key="")


class FitQuerySet(models.QuerySet):
    def with_names(self):
        return self.select_related("part__component", "part__maker", "model__maker")
