"""A job is closed with an outcome once nothing is missing, or cancelled."""

from datetime import date, datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shop.floor.models import Stay
from shop.floor.services import end_stay
from shop.people.seats import OWNER, seats_of
from shop.work.domain.closing import (
    REPAIRED,
    WRITTEN,
    ClosingFacts,
    Missing,
    SafetyKey,
    keys_for,
    missing,
    waived,
)
from shop.work.domain.states import CANCEL, CLOSE
from shop.work.models import CameAlong, Notice, WorkOrder
from shop.work.services.bench import Bench
from shop.work.services.closing_facts import Ending, closing_facts, held_components, names_of
from shop.work.services.errors import JobError, UndoneError
from shop.work.services.outcomes import record_done
from shop.work.services.recalls import tell_recalls
from shop.work.services.steps import lock_job, require_given_up, require_way, take_step
from units.inspections.services import clear_findings

SENTENCES = {
    "clock-runs": gettext_lazy("A clock still runs on this job: %(names)s. Stop it first."),
    "no-answer": gettext_lazy("Nobody said no to the estimate. Write down the answer first."),
    "inspection": gettext_lazy("No finished inspection stands behind “no fault found”."),
    "fault-found": gettext_lazy("The inspection did find faults: %(names)s."),
    "parts-in": gettext_lazy(
        "Parts were put in, so a fault was found: %(names)s. Put them back, or close it as"
        " repaired."
    ),
    "lines": gettext_lazy("Not taken from the shelf: %(names)s. Take it, or say why not."),
    "beyond-the-yes": gettext_lazy("%(names)s"),
    "time": gettext_lazy("No time is written. Write the minutes worked."),
    "test-missing": gettext_lazy("No final test was made."),
    "test-unfinished": gettext_lazy("The final test is not finished."),
    "test-failed": gettext_lazy("The final test was not passed."),
    "test-older": gettext_lazy("Parts or time came after the final test. Test again."),
    "test-narrow": gettext_lazy(
        "The final test left out what was agreed since: %(names)s. Test again."
    ),
    "hold": gettext_lazy("This holds the machine and is not put right: %(names)s."),
    "not-covered": gettext_lazy("Found, and no work done about it: %(names)s."),
    "key-unsaid": gettext_lazy("Say where the safety key is."),
    "key-lost": gettext_lazy("Without its safety key the machine is not repaired."),
    "notice": gettext_lazy("Write the notice that goes with the machine."),
}


@transaction.atomic
def close_job(*, job: WorkOrder, ending: Ending, by: AbstractBaseUser, at: datetime) -> WorkOrder:
    """Close a job. Raises UndoneError with every missing sentence, JobError if it is closed."""
    job = lock_job(job)
    outcome = ending.outcome
    require_way(job, CLOSE, outcome, by)
    bench = Bench(job)
    facts = closing_facts(bench, ending, timezone.localdate(at))
    _require_nothing_missing(facts, by)
    _leave_behind(bench, ending, by, at)
    return take_step(
        job=job,
        deed=CLOSE,
        checked=keys_for(outcome),
        outcome=outcome,
        note=_note(ending, facts),
        by=by,
        at=at,
    )


def _leave_behind(bench: Bench, ending: Ending, by: AbstractBaseUser, at: datetime) -> None:
    """What closing writes besides the state: the key to give back, the notice, what became of the
    components worked on, cleared findings."""
    job = bench.job
    if ending.safety_key in {SafetyKey.HERE, SafetyKey.NEW}:
        CameAlong.objects.get_or_create(job=job, thing=CameAlong.Thing.SAFETY_KEY)
    if ending.outcome in WRITTEN:
        Notice.objects.create(job=job, text=ending.notice.strip(), written_at=at, written_by=by)
    if ending.outcome == WorkOrder.Outcome.REPAIRED and job.unit:
        done = bench.components_worked_on | bench.components_cleared
        clear_findings(unit=job.unit, components=done, document=job.number, by=by, at=at)
    if job.unit:
        record_done(bench=bench, repaired=ending.outcome == REPAIRED, by=by, at=at)


def _require_nothing_missing(facts: ClosingFacts, by: AbstractBaseUser) -> None:
    if facts.waiver.strip() and OWNER not in seats_of(by):
        raise JobError(_("Only the owner may close a job in spite of what is missing."))
    if left := missing(facts):
        sentences = [sentence_of(one) for one in left]
        raise UndoneError(" ".join(sentences), sentences=sentences)


def missing_for_repair(bench: Bench, on: date) -> list[str]:
    """What is still missing before a job may be closed as repaired, as sentences."""
    ending = Ending(WorkOrder.Outcome.REPAIRED, safety_key=SafetyKey.HERE)
    facts = closing_facts(bench, ending, on)
    return [sentence_of(one) for one in missing(facts)]


def sentence_of(one: Missing) -> str:
    return SENTENCES[one.key] % {"names": ", ".join(one.names)}


def _note(ending: Ending, facts: ClosingFacts) -> str:
    said = [reason.strip() for reason in ending.not_used.values() if reason.strip()]
    if ending.safety_key in {SafetyKey.KEPT, SafetyKey.LOST}:
        said.append(KEY_PLACES[ending.safety_key])
    if done_without := waived(facts):
        words = {
            "reason": ending.waiver.strip(),
            "what": " ".join(sentence_of(one) for one in done_without),
        }
        said.append(_("waived by the owner: %(reason)s (%(what)s)") % words)
    return "; ".join(str(one) for one in said)[:400]


KEY_PLACES = {
    SafetyKey.HERE: gettext_lazy("the safety key is here"),
    SafetyKey.NEW: gettext_lazy("a new safety key goes with it"),
    SafetyKey.KEPT: gettext_lazy("the customer kept the safety key"),
    SafetyKey.LOST: gettext_lazy("the safety key is missing"),
}


@transaction.atomic
def cancel_job(
    *,
    job: WorkOrder,
    reason: str,
    left: bool,
    recalls_told: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> WorkOrder:
    """End a job before anything is charged; ``left`` when the customer took the machine along.

    ``recalls_told`` says how he was told of the machine's open recalls; empty if he was not.
    Raises JobError; so for a machine that is held and would be with him without a notice.
    """
    job = lock_job(job)
    require_way(job, CANCEL, "", by)
    if not reason.strip():
        raise JobError(_("Say why the job is cancelled."))
    require_given_up(job)
    if job.purpose != WorkOrder.Purpose.OWN:
        _require_not_held(job, left)
        tell_recalls(job=job, how=recalls_told, by=by, at=at)
    if left and job.purpose != WorkOrder.Purpose.OWN and job.stay_id:
        on = timezone.localdate(at)
        end_stay(stay=job.stay, left=Stay.Left.RETURNED, on=on, document=job.number, by=by)
        job.came_along.update(returned=True)
    checked = {"reason", "parts-back", "clocks-stopped", "recalls-told", "not-held"}
    return take_step(job=job, deed=CANCEL, checked=checked, note=reason.strip(), by=by, at=at)


def _require_not_held(job: WorkOrder, left: bool) -> None:
    """What is not safe goes to its owner with a written notice only, never by cancelling."""
    held = held_components(Bench(job))
    if held and (left or not job.stay_id):
        raise JobError(
            _(
                "This holds the machine: %(names)s. Close the job as unsafe, so that it leaves with"
                " its notice, or leave the machine here."
            )
            % {"names": ", ".join(sorted(names_of(held).values()))}
        )
