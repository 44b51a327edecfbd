"""What an answer must be to be written down."""

from datetime import date

from django.utils.translation import gettext as _

from parts.answers.models import Answer, FreshnessRule
from parts.fits.services import RefusedError
from units.show.words import day as written


class AnswerError(RefusedError):
    """An answer that cannot be written down or withdrawn as it stands."""


def require_sense(said: dict, today: date) -> None:
    """:class:`AnswerError` with a sentence and its field unless the answer can be believed.

    ``said`` holds fields of :class:`Answer`; those left out are empty.
    """
    _require_subject(said)
    _require_speaker(said)
    _require_days(said, today)
    if said.get("cost") is not None and said["cost"] < 0:
        raise AnswerError(_("A part cannot cost less than nothing."), "cost")
    _require_successor(said)


def _require_subject(said: dict) -> None:
    model, part = said.get("model"), said.get("part")
    if bool(model) == bool(part):
        raise AnswerError(_("Say what the answer is for: a model or one part."), "part")
    if part and said.get("component"):
        raise AnswerError(_("A part has its component already."), "component")
    component = said.get("component")
    if component and not component.kinds.filter(kind=model.kind_id).exists():
        raise AnswerError(
            _("%(component)s is no component of this kind of machine.")
            % {"component": component.name},
            "component",
        )


def _require_speaker(said: dict) -> None:
    if not said.get("given_by"):
        raise AnswerError(_("Say who said so: a name, or the desk that answered."), "given_by")
    maker = said.get("route", Answer.Route.MAKER) == Answer.Route.MAKER
    if maker and said.get("party"):
        raise AnswerError(_("The maker’s own answer names no supplier."), "party")
    if not maker and not said.get("party"):
        raise AnswerError(_("Name the supplier or workshop that the answer is about."), "party")


def _require_days(said: dict, today: date) -> None:
    given_on, until, effective_on = said["given_on"], said.get("until"), said.get("effective_on")
    if given_on > today:
        raise AnswerError(
            _("%(day)s has not come yet. Use the day on which they said so.")
            % {"day": written(given_on)},
            "given_on",
        )
    if until and said["status"] != Answer.Status.BACK_ORDERED:
        raise AnswerError(_("Only a back-order has a day until which it lasts."), "until")
    if until and until < given_on:
        raise AnswerError(_("The back-order cannot end before they spoke of it."), "until")
    if effective_on and said["channel"] != FreshnessRule.Channel.NOTICE:
        raise AnswerError(_("Only a published notice takes effect on a later day."), "effective_on")
    if effective_on and effective_on < given_on:
        raise AnswerError(_("A notice takes effect on its own day or later."), "effective_on")


def _require_successor(said: dict) -> None:
    successor = said.get("replaced_by")
    if said["status"] == Answer.Status.SUPERSEDED and not said.get("part"):
        raise AnswerError(
            _("Only a part is replaced by another number. Choose the part it is."), "part"
        )
    if successor and said["status"] != Answer.Status.SUPERSEDED:
        raise AnswerError(
            _("Only an answer that a number is replaced names the new number."), "replaced_by"
        )
    if successor and successor == said.get("part"):
        raise AnswerError(_("A part is not replaced by itself."), "replaced_by")
