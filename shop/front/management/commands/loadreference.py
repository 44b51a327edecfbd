from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils.translation import gettext as _

from parts.answers.services import load_reference as load_freshness
from shop.books.services import load_reference as load_accounts
from shop.work.services.reference import load_reference as load_flat_rates
from units.catalogue.services import load_reference as load_kinds
from units.inspections.services import load_reference as load_protocols

# From the lowest house up: what a table names must be there before it.
LOADERS = [load_kinds, load_protocols, load_freshness, load_flat_rates, load_accounts]


class Command(BaseCommand):
    help = (
        "Loads kinds, protocols, rules, shop defaults and accounts; may be run again at any time."
    )

    def add_arguments(self, parser):
        parser.add_argument(
            "folder",
            nargs="?",
            type=Path,
            default=settings.BASE_DIR / "fixtures" / "reference",
            help="folder of the tables (default: fixtures/reference)",
        )

    def handle(self, *args, folder, **options):
        if not folder.is_dir():
            raise CommandError(_("%(folder)s is not a folder.") % {"folder": folder})
        try:
            with transaction.atomic():
                for load in LOADERS:
                    load(folder)
        except (ValueError, OSError) as error:
            raise CommandError(str(error)) from error
        self.stdout.write(_("The reference tables are loaded."))
