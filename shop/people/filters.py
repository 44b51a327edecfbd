import django_filters
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer


class CustomerFilter(django_filters.FilterSet):
    text = django_filters.CharFilter(label=_("Name or telephone digits"), method="fits")
    sort = django_filters.ChoiceFilter(
        label=_("Person or company"), choices=Customer.Sort, empty_label=_("both")
    )

    class Meta:
        model = Customer
        fields = ["text", "sort"]

    def fits(self, customers, name, text):
        return customers.matching(text)
