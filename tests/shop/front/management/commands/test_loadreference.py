import shutil

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from parts.answers.models import FreshnessRule
from shop.books.models import Account
from shop.work.models import FlatRate
from units.catalogue.models import Component, Kind
from units.inspections.models import Protocol, ProtocolStep

pytestmark = pytest.mark.django_db
TABLES = [Kind, Component, Protocol, ProtocolStep, FreshnessRule, FlatRate, Account]


def counts() -> dict[str, int]:
    return {table.__name__: table.objects.count() for table in TABLES}


def test_every_table_of_the_reference_is_loaded():
    call_command("loadreference")
    assert all(counts().values()), counts()


def test_loading_twice_adds_nothing():
    call_command("loadreference")
    first = counts()
    call_command("loadreference")
    assert counts() == first


def test_a_folder_that_is_not_there_gets_a_sentence(tmp_path):
    with pytest.raises(CommandError, match="is not a folder"):
        call_command("loadreference", tmp_path / "nowhere")


def test_a_wrong_table_gets_a_sentence_and_loads_nothing(tmp_path):
    folder = tmp_path / "reference"
    shutil.copytree(settings.BASE_DIR / "fixtures" / "reference", folder)
    (folder / "kinds.toml").write_text("this is not = a table =")
    before = counts()
    with pytest.raises(CommandError):
        call_command("loadreference", folder)
    assert counts() == before


def test_a_table_that_is_missing_gets_a_sentence(tmp_path):
    with pytest.raises(CommandError, match=r"kinds\.toml"):
        call_command("loadreference", tmp_path)
