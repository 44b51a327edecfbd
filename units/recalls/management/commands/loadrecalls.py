from pathlib import Path

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.translation import gettext as _

from units.recalls.services import RecallError, load_recalls


class Command(BaseCommand):
    help = "Loads the public list of recalls, in its JSON or CSV form, again and again."

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path, help="as it was downloaded from the agency's site")

    def handle(self, *, file: Path, **options):
        try:
            content = file.read_bytes()
        except OSError as error:
            raise CommandError(
                _("%(file)s cannot be read: %(why)s.") % {"file": file, "why": error.strerror}
            ) from error
        try:
            load = load_recalls(content=content, name=file.name, by=None, at=timezone.now())
        except RecallError as error:
            raise CommandError(f"{file}: {error}") from error
        self.stdout.write(
            _("Recalls new: %(new)d, changed: %(changed)d, as before: %(same)d.") % vars(load)
        )
        if load.left_out:
            self.stdout.write(load.left_out)
        self.stdout.write(_("Matches opened: %(opened)d.") % vars(load))
        if load.opened:
            self.stdout.write(
                _("Each holds its machine from sale until a person confirms or dismisses it.")
            )
