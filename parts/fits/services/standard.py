"""Which parts are standard ones."""

from django.db import transaction
from django.utils.translation import gettext as _

from parts.fits.domain.designations import read_standard
from parts.fits.domain.reading import DesignationError
from parts.fits.models import Designation, Part
from parts.fits.services.refusing import PartError


@transaction.atomic
def set_designation(*, part: Part, text: str, by, at) -> Part:
    """Write down a part's standard designation in any spelling; an empty text takes it away.

    PartError when it does not read. The same designation again changes nothing.
    """
    typed = " ".join(text.split())
    designation, sort = _read(typed) if typed else ("", "")
    locked = Part.objects.select_for_update(of=("self",)).get(pk=part.pk)
    if locked.designation == designation:
        return locked
    locked.designation, locked.sort = designation, sort
    locked.save(update_fields=["designation", "sort"])
    Designation.objects.create(
        part=locked, typed=typed, designation=designation, recorded_at=at, recorded_by=by
    )
    return locked


def _read(text: str) -> tuple[str, str]:
    if len(text) > Designation._meta.get_field("typed").max_length:
        raise PartError(_("This designation is too long."), "designation")
    try:
        standard = read_standard(text)
    except DesignationError as error:
        raise PartError(_(error.sentence) % error.places, "designation") from error
    return standard.designation, standard.sort
