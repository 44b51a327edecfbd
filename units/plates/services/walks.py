from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.utils.translation import gettext as _

from units.plates.models import PlateWalk
from units.plates.services.records import PlateError


def open_walk(*, place: str, by: AbstractBaseUser, at: datetime) -> PlateWalk:
    """Begin a walk past many machines. Raises PlateError when the place does not do."""
    place = " ".join(place.split())
    most = PlateWalk._meta.get_field("place").max_length
    if not place:
        raise PlateError(_("Say where these machines stand."))
    if len(place) > most:
        raise PlateError(_("The place has at most %(most)d characters.") % {"most": most})
    return PlateWalk.objects.create(place=place, opened_at=at, opened_by=by)
