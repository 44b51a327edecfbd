from datetime import date

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.front.filling.fill import fill, require_unused, writer
from shop.front.filling.plan import FillingRefusedError, Plan

EVERY = 20_000


class Command(BaseCommand):
    help = "Fills an unused database with invented rows in any number, to measure speed on."

    def add_arguments(self, parser):
        parser.add_argument("--models", type=int, default=5_000)
        parser.add_argument("--parts", type=int, default=60_000)
        parser.add_argument("--answers", type=int, default=250_000)
        parser.add_argument("--moves", type=int, default=400_000)
        parser.add_argument("--seed", type=int, default=1, help="the same seed, the same rows")
        parser.add_argument("--on", help="the last day of the six years, as 2026-10-31 (today)")

    def handle(self, *, models, parts, answers, moves, seed, on, **options):
        if min(models, parts) < 1 or min(answers, moves) < 0:
            raise CommandError(_("Give at least one model and one part, and no number below zero."))
        self.told = {}
        day = self.day(on)
        try:
            require_unused()
            fill(Plan(models, parts, answers, moves, day, seed, writer(), self.tell))
        except FillingRefusedError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(_("The database is filled."))

    def day(self, on: str | None) -> date:
        try:
            return date.fromisoformat(on) if on else timezone.localdate()
        except ValueError as error:
            raise CommandError(
                _("“%(on)s” is not a day. Write it as 2026-10-31.") % {"on": on}
            ) from error

    def tell(self, what: str, done: int) -> None:
        if done - self.told.get(what, -EVERY) >= EVERY:
            self.told[what] = done
            self.stdout.write(f"{what}: {done}")
            self.stdout.flush()
