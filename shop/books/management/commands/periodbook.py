import os
import tempfile
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from parts.days.services import DayClosedError
from shop.books.selectors.words import TIES
from shop.books.services import BooksError, make_book, read_period


class Command(BaseCommand):
    help = "Write the accountant's workbook of a month, after posting what is not posted yet."

    def add_arguments(self, parser):
        parser.add_argument("period", help="year and month, such as 2026-10")
        parser.add_argument("--out", required=True, metavar="FILE.xlsx", help="where to write it")

    def handle(self, *, period, out, **options):
        path = Path(out)
        try:
            month = read_period(period, timezone.localdate())
            posted, figures = self._write(month, path)
        except (BooksError, DayClosedError) as error:
            raise CommandError(str(error)) from error
        except OSError as error:
            raise CommandError(
                _("%(path)s cannot be written: %(reason)s. Choose another file.")
                % {"path": path, "reason": error.strerror or error}
            ) from error
        told = ngettext("%(count)d document posted", "%(count)d documents posted", posted)
        self.stdout.write(
            _("%(path)s is written; %(posted)s.")
            % {"path": path, "posted": told % {"count": posted}}
        )
        for tie in figures.ties:
            if not tie.holds:
                self.stderr.write(
                    _("This does not hold: %(check)s. The difference is %(difference)s.")
                    % {"check": TIES[tie.key], "difference": tie.difference}
                )

    def _write(self, month, path: Path):
        """Beside its place first, so that a file that is there already is replaced whole."""
        handle, beside = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        try:
            if path.is_dir():
                raise IsADirectoryError(None, _("it is a folder"))
            with os.fdopen(handle, "wb") as file:
                told = make_book(month=month, file=file, by=None, at=timezone.now())
            os.replace(beside, path)
        finally:
            Path(beside).unlink(missing_ok=True)
        return told
