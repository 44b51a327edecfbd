"""The whole of it, in the order in which rows name one another."""

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.db import transaction
from django.utils.translation import gettext as _

from shop.front.demo import database
from shop.front.filling.answering import fill_answers
from shop.front.filling.fitting import fill_parts
from shop.front.filling.ledger import fill_ledger
from shop.front.filling.machines import fill_machines
from shop.front.filling.plan import FillingRefusedError, Plan
from units.catalogue.models import MachineModel, Unit

WRITER = "filling"


def fill(plan: Plan) -> None:
    """Fill a database that nobody uses. Raises FillingRefusedError."""
    require_unused()
    call_command("loadreference", verbosity=0)
    with transaction.atomic():
        fill_machines(plan)
        fill_parts(plan)
        fill_answers(plan)
        fill_ledger(plan)


def writer():
    """Who is said to have written it all: a user who cannot sign in."""
    user, _made = get_user_model().objects.get_or_create(
        username=WRITER, defaults={"is_active": False, "last_name": "Filling"}
    )
    return user


def require_unused() -> None:
    if settings.PRODUCTION:
        raise FillingRefusedError(_("This is a production set-up: it is not filled."))
    if Unit.objects.exists() or MachineModel.objects.exists() or database.marks().exists():
        raise FillingRefusedError(
            _(
                "This database holds machines already, so it is left alone. Set UNDERBELT_HOME "
                "to an empty folder, migrate, and fill that."
            )
        )
