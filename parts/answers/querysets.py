from django.db import models


class AnswerQuerySet(models.QuerySet):
    def standing(self):
        """Answers that nobody withdrew."""
        return self.filter(withdrawal=None)

    def newest_first(self):
        return self.order_by("-given_on", "-recorded_at", "-id")
