import json
from datetime import date
from operator import attrgetter

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.answers.selectors import evening_of
from parts.support.domain.coverage import Covered, Need
from parts.support.domain.routes import Core, Offer
from parts.support.selectors import ModelCoverage, coverage_of
from parts.support.selectors.words import ROUTES, STATUSES, WORDS, core_words, sentence
from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel
from units.show.words import day, days_ago, money


class Command(BaseCommand):
    help = "Says whether parts for a model can be had, by which routes, and who said so when."

    def add_arguments(self, parser):
        parser.add_argument(
            "model", metavar="MODEL", help="model number; maker before it if need be"
        )
        parser.add_argument("--on", help="day asked about, as 2026-10-31; today if left out")
        parser.add_argument(
            "--entered",
            action="store_true",
            help="use only what had been written down by the end of that day",
        )
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *, model, on, entered, as_json, **options):
        on = _day(on)
        known_at = evening_of(on) if entered else None
        found = _model(model)
        covered = coverage_of([found], on, known_at)[found.pk]
        if as_json:
            self.stdout.write(json.dumps(_as_json(covered), indent=1, ensure_ascii=False))
        else:
            self.stdout.writelines(f"{line}\n" for line in _lines(covered))


def _day(text: str | None) -> date:
    today = timezone.localdate()
    try:
        on = date.fromisoformat(text) if text else today
    except ValueError as error:
        raise CommandError(
            _("“%(text)s” is not a day. Write it as 2026-10-31.") % {"text": text}
        ) from error
    if on > today:
        raise CommandError(_("That day has not come yet. Ask about today or an earlier day."))
    return on


def _model(text: str) -> MachineModel:
    """The current model that a number means, the maker's name before it if two makers have it."""
    key = match_key(text)
    models = MachineModel.objects.filter(merged_into=None).select_related("maker", "kind")
    near = [one for one in models.filter(key__in=_tails(key)) if _means(one, key)]
    if len(near) == 1:
        return near[0]
    if near:
        names = ", ".join(str(one) for one in near)
        raise CommandError(
            _("Several makers have this number. Name one of: %(names)s.") % {"names": names}
        )
    raise CommandError(
        _("No model has the number “%(number)s”. Models stand in the list of models.")
        % {"number": text}
    )


def _tails(key: str) -> list[str]:
    return [key[at:] for at in range(len(key))]


def _means(model: MachineModel, key: str) -> bool:
    return key in (model.key, model.maker.key + model.key)


def _as_json(found: ModelCoverage) -> dict:
    known = found.support
    return {
        "model": str(found.model),
        "on": found.on.isoformat(),
        "status": known.status,
        "source": known.given_by,
        "channel": known.channel,
        "answered_on": _iso(known.given_on),
        "age_days": known.age_days,
        "fresh": known.fresh,
        "holds_probability": round(found.holds, 4),
        "warranty": known.warranty,
        "answer": known.answer_id,
        "sentence": sentence(found.coverage),
        "components": [_component(one) for one in found.coverage.components],
    }


def _component(one: Covered) -> dict:
    best = one.best
    return {
        "component": one.place.slug,
        "status": one.word,
        "wears": one.place.wears,
        "critical": one.place.critical,
        "route": best.route if best else None,
        "said": best.status if best else None,
        "party": best.party if best else None,
        "part": best.number if best else None,
        "cost": str(best.cost) if best and best.cost is not None else None,
        "lead_days": best.lead_days if best else None,
        "answered_on": _iso(best.answered_on) if best else None,
        "age_days": best.age_days if best else None,
        "fresh": best.fresh if best else None,
        "holds_probability": round(best.holds, 4) if best else None,
        "answer": best.answer_id if best else None,
        **_core(best.core if best else None),
        "lacking": one.lacking,
        "needs": [_need(need) for need in one.needs if need.position],
    }


def _core(core: Core | None) -> dict:
    """The charge for the old one is no part of the cost."""
    return {
        "core_charge": str(core.charge) if core else None,
        "core_days": core.days if core else None,
    }


def _need(need: Need) -> dict:
    """One of several positions that each need a part of their own."""
    best = need.best
    return {
        "position": need.position,
        "status": need.word,
        "quantity": str(need.quantity),
        "route": best.route if best else None,
        "part": best.number if best else None,
        "cost": str(best.cost) if best and best.cost is not None else None,
    }


def _iso(value: date | None) -> str | None:
    return value and value.isoformat()


def _lines(found: ModelCoverage):
    known = found.support
    yield f"{found.model}, {day(found.on)}"
    word = STATUSES[known.status]
    if known.asked:
        yield _("%(word)s, said %(person)s on %(day)s (%(age)s); holds with %(odds)d %%") % {
            "word": word,
            "person": known.given_by,
            "day": day(known.given_on),
            "age": days_ago(known.age_days),
            "odds": round(100 * found.holds),
        }
    else:
        yield _("%(word)s; can be had with %(odds)d %%") % {
            "word": word,
            "odds": round(100 * found.holds),
        }
    yield sentence(found.coverage)
    for one in found.coverage.components:
        yield f"  {_(one.place.name):<26} {WORDS[one.word]!s:<14} {_offer(one.best)}".rstrip()
        for need in filter(attrgetter("position"), one.needs):
            word = WORDS[need.word]
            yield f"    {need.position:<24} {word!s:<14} {_offer(need.best)}".rstrip()


def _offer(best: Offer | None) -> str:
    if best is None or not best.yes:
        return ""
    said = [str(ROUTES[best.route]), best.party, best.number]
    said += [money(best.cost) if best.cost is not None else "", core_words(best.core)]
    said += [day(best.answered_on) if best.answered_on else ""]
    said += [f"{round(100 * best.holds)} %"]
    return ", ".join(filter(None, said))
