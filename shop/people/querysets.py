from django.db import models


class CustomerQuerySet(models.QuerySet):
    def matching(self, text: str):
        """By any part of the name, or by any three or more digits of the telephone number."""
        words = models.Q(name__icontains=text)
        digits = "".join(filter(str.isdigit, text))
        if len(digits) >= 3:
            words |= models.Q(phone_digits__contains=digits)
        return self.filter(words)
