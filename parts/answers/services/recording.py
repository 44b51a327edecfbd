"""Write down what was said, and that it was wrong."""

from datetime import date

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.answers.models import Answer, Withdrawal
from parts.answers.services.sense import AnswerError, require_sense
from parts.fits.models import Part, Supersession
from parts.fits.services import PartError, supersede_part, withdraw_supersession
from units.catalogue.models import MachineModel
from units.files.services import store_picture
from units.show import words
from units.show.words import day as written


@transaction.atomic
def record_answer(
    *, status: str, given_on: date, given_by: str, channel: str, by, at, picture=None, **more
) -> Answer:
    """Write down what was said, or proved, of a model, a component of it, or a part.

    ``more`` is any other field of :class:`Answer`: the subject (``model`` and perhaps
    ``component``, or ``part``), ``route`` and ``party``, ``until``, ``effective_on`` (the later
    day on which a published notice begins to hold), ``replaced_by``, ``cost``, ``lead_days``,
    ``dealer_only``, ``warranty``, ``note``. ``picture`` is an upload of the letter. The same words
    said twice on one day are one answer.
    """
    said = {"status": status, "given_on": given_on, "channel": channel, **more}
    said["party"] = " ".join(said.get("party", "").split())
    said["note"] = said.get("note", "").strip()
    said["given_by"] = " ".join(given_by.split())
    require_sense(said, timezone.localdate(at))
    # The subject's row is locked so that a double click finds the answer of its first press.
    if said.get("model"):
        models = MachineModel.objects.select_for_update(of=("self",), no_key=True)
        said["model"] = models.get(pk=said["model"].current.pk)
    else:
        said["part"] = Part.objects.select_for_update(of=("self",), no_key=True).get(
            pk=said["part"].pk
        )
    if same := Answer.objects.standing().filter(**_with_defaults(said)).first():
        return same
    if picture:
        said["file"] = store_picture(upload=picture, by=by, at=at)
    _chain(said, by, at)
    return Answer.objects.create(**said, recorded_at=at, recorded_by=by)


def _chain(said: dict, by, at) -> None:
    """An answer that a number became another one makes the link between the two parts as well."""
    part, successor = said.get("part"), said.get("replaced_by")
    links = Supersession.objects.standing()
    if not successor or links.filter(part=part, replaced_by=successor).exists():
        return
    try:
        supersede_part(
            part=part,
            by_part=successor,
            on=said["given_on"],
            evidence=said["given_by"],
            by=by,
            at=at,
        )
    except PartError as error:
        raise AnswerError(str(error), "replaced_by") from error


def _with_defaults(said: dict) -> dict:
    """The whole answer, so that one that says less is not taken for one that says more."""
    names = ("model", "component", "part", "route", "until", "effective_on", "dealer_only")
    names += ("replaced_by", "cost", "lead_days", "warranty")
    defaults = {name: Answer._meta.get_field(name).get_default() for name in names}
    return defaults | said


@transaction.atomic
def withdraw_answer(*, answer: Answer, reason: str, by, at) -> Withdrawal:
    """Say that an answer was wrong. It stays in the record and counts no longer."""
    reason = " ".join(reason.split())
    if not reason:
        raise AnswerError(_("Say why the answer is withdrawn."), "reason")
    answer = Answer.objects.select_for_update(of=("self",)).get(pk=answer.pk)
    earlier = Withdrawal.objects.filter(answer=answer).select_related("recorded_by").first()
    if earlier:
        raise AnswerError(
            _("%(person)s withdrew this answer already, on %(day)s: %(reason)s")
            % {
                "person": words.person(earlier.recorded_by),
                "day": written(timezone.localdate(earlier.recorded_at)),
                "reason": earlier.reason,
            }
        )
    _unchain(answer, reason, by, at)
    return Withdrawal.objects.create(answer=answer, reason=reason, recorded_at=at, recorded_by=by)


def _unchain(answer: Answer, reason: str, by, at) -> None:
    """The link that an answer made goes with it, unless another answer says the same."""
    if not answer.replaced_by_id:
        return
    pair = {"part": answer.part_id, "replaced_by": answer.replaced_by_id}
    if Answer.objects.standing().filter(**pair).exclude(pk=answer.pk).exists():
        return
    link = Supersession.objects.standing().filter(**pair, recorded_at=answer.recorded_at).first()
    if link:
        withdraw_supersession(supersession=link, reason=reason, by=by, at=at)
