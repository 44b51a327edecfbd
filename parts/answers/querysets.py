from django.db import models


class AnswerQuerySet(models.QuerySet):
    def standing(self):
        """Answers that nobody withdrew."""
        return self.filter(withdrawal=None)

    def newest_first(self):
        return self.order_by("-given_on", "-recorded_at", "-id")

    def with_names(self):
        """With their model, who wrote them down, and the withdrawal if there is one."""
        return self.select_related(
            "model__maker", "component", "part", "recorded_by", "withdrawal__recorded_by"
        )
