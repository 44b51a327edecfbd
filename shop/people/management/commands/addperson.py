from django.core.management.base import BaseCommand, CommandError

from shop.people.seats import SEATS
from shop.people.services import PersonError, add_person


class Command(BaseCommand):
    help = "Add a member of staff. The password is made by chance and shown once."

    def add_arguments(self, parser):
        parser.add_argument("username")
        parser.add_argument("--name", required=True, help="first and last name, as on papers")
        parser.add_argument(
            "--seat", action="append", required=True, dest="seats", help=", ".join(SEATS)
        )

    def handle(self, *args, username, name, seats, **options):
        try:
            person, password = add_person(username=username, name=name, seats=seats)
        except PersonError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(
            f"{person.get_username()} may sign in with the password {password}\n"
            "It is shown once and kept nowhere: hand it over now."
        )
