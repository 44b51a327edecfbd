"""The accounts and the posting rules, from the reference data."""

import tomllib
from functools import cache
from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.utils.translation import gettext as _

from shop.books.domain.posting import PostingError, Rules, read_rules
from shop.books.models import Account
from shop.books.services.errors import BooksError

FOLDER = settings.BASE_DIR / "fixtures" / "reference"
FILE = "accounts.toml"


@transaction.atomic
def load_reference(folder: Path) -> int:
    """Add the accounts that are not there yet, and return how many the file has.

    An account that the accountant renamed keeps its name. Raises BooksError when the posting
    rules name an account that the file does not have.
    """
    table = tomllib.loads((folder / FILE).read_text())
    accounts = [Account(**row) for row in table["accounts"]]
    for account in accounts:
        account.clean_fields()
    missing = _rules(table).accounts - {account.number for account in accounts}
    if missing:
        raise BooksError(
            _("%(file)s: the posting rules name accounts that it does not have: %(accounts)s.")
            % {"file": FILE, "accounts": ", ".join(sorted(missing))}
        )
    Account.objects.bulk_create(accounts, ignore_conflicts=True)
    return len(accounts)


@cache
def posting_rules() -> Rules:
    """The rules that the shop posts by."""
    return _rules(tomllib.loads((FOLDER / FILE).read_text()))


def _rules(table: dict) -> Rules:
    try:
        return read_rules(table["posting"])
    except PostingError as error:
        raise BooksError(f"{FILE}: {error}") from error
