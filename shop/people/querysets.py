from django.db import models

FEWEST_DIGITS = 3


class CustomerQuerySet(models.QuerySet):
    def matching(self, text: str):
        """By any part of the name, or by any three or more digits of the telephone number.

        Leading zeros are tried without, too: they are dialled at home and not kept.
        """
        words = models.Q(name__icontains=text.strip())
        digits = "".join(filter(str.isdecimal, text))
        for part in {digits, digits.lstrip("0")}:
            if len(part) >= FEWEST_DIGITS:
                words |= models.Q(phone_digits__contains=part)
        return self.filter(words)
