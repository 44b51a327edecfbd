import pytest
from django.conf import settings

from shop.books.models import Account
from shop.books.services import BooksError, load_reference, posting_rules

pytestmark = pytest.mark.django_db
FOLDER = settings.BASE_DIR / "fixtures" / "reference"


def test_loading_twice_gives_the_same_accounts():
    count = load_reference(FOLDER)
    assert (load_reference(FOLDER), Account.objects.count()) == (count, count)


def test_an_account_that_was_renamed_keeps_its_name():
    load_reference(FOLDER)
    Account.objects.filter(number="1000").update(name="Petty cash")
    load_reference(FOLDER)
    assert Account.objects.get(number="1000").name == "Petty cash"


def test_every_account_that_a_rule_names_is_there():
    load_reference(FOLDER)
    assert posting_rules().accounts <= set(Account.objects.values_list("number", flat=True))


def test_a_rule_without_its_account_is_refused_by_number(tmp_path):
    text = (FOLDER / "accounts.toml").read_text()
    (tmp_path / "accounts.toml").write_text(text.replace('shelf = "1300"', 'shelf = "1399"'))
    with pytest.raises(BooksError, match="1399"):
        load_reference(tmp_path)
    assert not Account.objects.exists()


def test_a_missing_rule_is_refused_by_its_file(tmp_path):
    text = (FOLDER / "accounts.toml").read_text()
    (tmp_path / "accounts.toml").write_text(text.replace('sold = "5200"', ""))
    with pytest.raises(BooksError, match=r"accounts\.toml.*sold"):
        load_reference(tmp_path)
