from django.http import JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_POST

from units.files.services import FileRefusedError
from units.inspections.forms import EntryForm, StepForm
from units.inspections.services import InspectionError, NotYoursError, take_answer, take_finish

# What the phone reads: only the first two let an entry leave its outbox.
ACCEPTED, HAD, REFUSED, NOT_YOURS = "accepted", "had", "refused", "not-yours"


@require_POST
def outbox(request):
    """Take one entry that waited on a phone, and answer by its id."""
    at = timezone.now()
    state, sentence = _taken(request, at)
    answer = {
        "id": request.POST.get("id", ""),
        "state": state,
        "sentence": sentence,
        "at": int(at.timestamp() * 1000),
    }
    return JsonResponse(answer, status=200 if state in (ACCEPTED, HAD) else 422)


def _taken(request, at) -> tuple[str, str]:
    envelope = EntryForm(request.POST)
    if not envelope.is_valid():
        return REFUSED, _sentences(envelope)
    words = {"entry": envelope.entry, "by": request.user, "at": at}
    try:
        if envelope.asked is None:
            return (ACCEPTED if take_finish(**words) else HAD), ""
        form = StepForm(request.POST, request.FILES, step=envelope.asked)
        if not form.is_valid():
            return REFUSED, _sentences(form)
        new = take_answer(step=envelope.asked, **words, **form.given())
        return (ACCEPTED if new else HAD), ""
    except NotYoursError as error:
        return NOT_YOURS, str(error)
    except (InspectionError, FileRefusedError) as error:
        return REFUSED, str(error)


def _sentences(form) -> str:
    return " ".join(sentence for errors in form.errors.values() for sentence in errors)
