from datetime import date

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from shop.front.demo import database
from shop.front.demo.people import seat_people
from shop.front.management.commands.serve import add_server_arguments
from shop.people.seats import SEATS
from units.show.words import day as written


class Command(BaseCommand):
    help = "Makes the invented shop, prints a sign-in per seat, and serves it."
    requires_migrations_checks = False

    def add_arguments(self, parser):
        parser.add_argument("--on", help="the day the story is told for, as 2026-10-31 (today)")
        parser.add_argument("--noserve", action="store_true", help="stop after making it")
        add_server_arguments(parser)

    def handle(self, *, on, noserve, host, port, https, noworker, **options):
        anchor = self.anchor(on)
        try:
            database.require_own_database()
            call_command("migrate", verbosity=0, interactive=False)
            database.mark()
            call_command("loadreference", verbosity=0, stdout=self.stdout)
            seated = seat_people()
            told = database.tell_once(anchor, timezone.localdate(), self.month_told)
        except database.DemoRefusedError as error:
            raise CommandError(str(error)) from error
        self.tell(told, seated)
        if not noserve:
            address = {"host": host, "port": port, "https": https, "noworker": noworker}
            call_command("serve", **address, stdout=self.stdout)

    def anchor(self, on: str | None) -> date | None:
        try:
            return date.fromisoformat(on) if on else None
        except ValueError as error:
            raise CommandError(
                _("“%(on)s” is not a day. Write it as 2026-10-31.") % {"on": on}
            ) from error

    def month_told(self, month: date) -> None:
        """Telling takes a minute: say how far it is."""
        self.stdout.write(_("Telling %(month)s …") % {"month": date_format(month, "F Y")})
        self.stdout.flush()

    def tell(self, told: date, seated) -> None:
        self.stdout.write(_("The invented shop stands, told for %(day)s.") % {"day": written(told)})
        self.stdout.write(_("Sign in as (the passwords are new on every run):"))
        for person, password in seated:
            seats = ", ".join(str(SEATS[seat]) for seat in person.seats)
            self.stdout.write(f"  {person.username:8} {password:16} {seats}")
