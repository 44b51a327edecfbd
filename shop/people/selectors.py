from django.db.models import QuerySet

from shop.people.models import Customer

FEWEST_LETTERS = 2
MOST_SUGGESTED = 8


def customer_rows() -> QuerySet[Customer]:
    return Customer.objects.all()


def customer_page() -> QuerySet[Customer]:
    return Customer.objects.prefetch_related("places")


def suggested(text: str) -> QuerySet[Customer]:
    """The first few customers whom the text fits; nobody before it says something."""
    text = text.strip()
    if len(text) < FEWEST_LETTERS:
        return Customer.objects.none()
    return Customer.objects.matching(text)[:MOST_SUGGESTED]
