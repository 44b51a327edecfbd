"""Which database the demo may write into: an unused one, or one that it made itself."""

from collections.abc import Callable
from datetime import date

from django.apps import apps
from django.conf import settings
from django.contrib.auth import get_user_model
from django.db import connection, transaction
from django.utils.translation import gettext as _

from shop.front import demo
from units.rows.models import NumberSeries
from units.show.words import day as written

MARK = "demo"  # a number series of this name: its number is the ordinal of the story's anchor day


class DemoRefusedError(ValueError):
    """The demo may not write here; its text is a sentence to show."""


def require_own_database() -> None:
    """Refuse a production set-up, and a database in use that the demo did not make."""
    if settings.PRODUCTION:
        raise DemoRefusedError(_("This is a production set-up: the demo does not run here."))
    tables = set(connection.introspection.table_names())
    if NumberSeries._meta.db_table in tables and marks().exists():
        return
    if any(in_use(model, tables) for model in telltales()):
        raise DemoRefusedError(
            _(
                "This database is in use and was not made by the demo, so the demo leaves it "
                "alone. Set UNDERBELT_HOME to an empty folder (and DATABASE_URL to nothing or "
                "to an empty database) and run the demo again."
            )
        )


def telltales():
    """Models that hold a row in every database that a shop has begun to use."""
    names = ["people.Customer", "people.ShopProfile", "catalogue.Unit", "rows.NumberSeries"]
    return [get_user_model(), *map(apps.get_model, names)]


def in_use(model, tables: set[str]) -> bool:
    return model._meta.db_table in tables and model._default_manager.exists()


def marks():
    return NumberSeries.objects.filter(name=MARK)


def mark() -> None:
    NumberSeries.objects.get_or_create(name=MARK)


@transaction.atomic
def tell_once(anchor: date | None, today: date, month_told: Callable[[date], None]) -> date:
    """Tell the story unless it stands already; the anchor day it is told for.

    All of it or nothing. Another ``anchor`` than the one it was told for is refused.
    """
    row = marks().select_for_update().get()
    if not row.last:
        anchor = anchor or today
        demo.tell(anchor, month_told)
        marks().update(last=anchor.toordinal())
        return anchor
    told = date.fromordinal(row.last)
    if anchor not in (None, told):
        raise DemoRefusedError(
            _(
                "The story in this database is told for %(told)s. For another day, set "
                "UNDERBELT_HOME to an empty folder and run the demo again."
            )
            % {"told": written(told)}
        )
    return told
