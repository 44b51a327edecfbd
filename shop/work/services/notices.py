from django.utils.translation import gettext as _

from shop.work.models import WorkOrder
from shop.work.services.bench import Bench


def draft_notice(job: WorkOrder, outcome: str) -> str:
    return notice_text(Bench(job), outcome)


def notice_text(bench: Bench, outcome: str) -> str:
    """The text to start from when a machine leaves declined or unsafe: what was found, why it
    matters, and what to do; a person may change it before it is kept."""
    paragraphs = [_opening(outcome)]
    if bench.findings:
        names = sorted({_(finding.component.name) for finding in bench.findings})
        paragraphs.append(_("We found faults at: %(names)s.") % {"names": ", ".join(names)})
    sentences = [verdict.reason for verdict in bench.verdicts if verdict.hold]
    sentences += [verdict.caution for verdict in bench.verdicts if verdict.caution]
    paragraphs += [_(sentence) for sentence in dict.fromkeys(sentences)]
    return "\n\n".join([*paragraphs, _closing(outcome)])


def _opening(outcome: str) -> str:
    if outcome == WorkOrder.Outcome.UNSAFE:
        return _("This machine is not safe to use. It leaves our shop unrepaired and tagged.")
    return _("The work that we proposed was declined. This machine leaves our shop unrepaired.")


def _closing(outcome: str) -> str:
    if outcome == WorkOrder.Outcome.UNSAFE:
        return _("Do not use it, and keep others from using it, until it has been repaired.")
    return _("Faults that are left may grow worse and may damage other parts.")
