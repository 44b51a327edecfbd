from datetime import timedelta

from django.core.management.base import BaseCommand
from django.utils import timezone
from django.utils.translation import gettext as _

from units.files.services import sweep_files


class Command(BaseCommand):
    help = "Removes stored files that no row names, left by uploads that were refused half-way."

    def handle(self, *args, **options):
        # A request that is still writing its row is younger than a day.
        count = sweep_files(before=timezone.now() - timedelta(days=1))
        self.stdout.write(_("Files removed: %(count)d") % {"count": count})
