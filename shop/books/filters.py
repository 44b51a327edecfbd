import django_filters
from django.utils.translation import gettext_lazy as _

from shop.books.models import Account, JournalEntry


class EntryFilter(django_filters.FilterSet):
    document = django_filters.CharFilter(label=_("Document"), lookup_expr="icontains")
    account = django_filters.ModelChoiceFilter(
        label=_("Account"),
        queryset=Account.objects.all(),
        empty_label=_("every account"),
        method="on_account",
    )

    class Meta:
        model = JournalEntry
        fields = ["document", "account"]

    def on_account(self, entries, name, account):
        # Not through the join that sums the lines: it would sum this account's alone.
        return entries.filter(pk__in=account.lines.values("entry"))
