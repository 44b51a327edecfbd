import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _

from units.inspections.domain.findings import (
    FindingSet,
    parse_findings,
    written_rule,
    written_verdict,
)
from units.inspections.domain.odds import POPULATIONS
from units.inspections.domain.tables import TableError
from units.inspections.domain.understanding import Check, Rule, Verdict, verdicts
from units.inspections.selectors import findable, understanding_rules


class Command(BaseCommand):
    help = (
        "Prints the table of rules; with a file of findings (JSON), what those mean and why."
        " Needs no database."
    )
    requires_system_checks = ()

    def add_arguments(self, parser):
        parser.add_argument(
            "file",
            nargs="?",
            metavar="FILE",
            help='{"kind": ..., "population": ..., "findings": [{"component": ..., "condition":'
            " ...}]}; - reads it from the standard input",
        )
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *, file, as_json, **options):
        if file is None:
            said, lines = [written_rule(rule) for rule in understanding_rules()], _table()
        else:
            given = _read(file)
            meaning = verdicts(given.findings, understanding_rules(), given.kind, given.population)
            said, lines = [written_verdict(verdict) for verdict in meaning], _meaning(meaning)
        if as_json:
            self.stdout.write(json.dumps(said, indent=1, ensure_ascii=False))
        else:
            self.stdout.writelines(f"{line}\n" for line in lines)


def _read(file: str) -> FindingSet:
    name = _("standard input") if file == "-" else file
    try:
        text = sys.stdin.read() if file == "-" else Path(file).read_text(encoding="utf-8")
        return parse_findings(json.loads(text), name, findable(), POPULATIONS)
    except TableError as error:
        raise CommandError(_(error.sentence) % error.places) from error
    except json.JSONDecodeError as error:
        raise CommandError(
            _("%(file)s is not JSON: %(why)s, in line %(line)d.")
            % {"file": name, "why": error.msg, "line": error.lineno}
        ) from error
    except (OSError, UnicodeDecodeError) as error:
        raise CommandError(
            _("%(file)s cannot be read: %(why)s") % {"file": name, "why": error}
        ) from error


def _table() -> Iterator[str]:
    for rule in understanding_rules():
        yield from _rule(rule)
        yield ""


def _rule(rule: Rule) -> Iterator[str]:
    bounds = [*sorted(rule.kinds), *sorted(rule.populations)]
    yield _line(rule.key, rule.severity, *bounds, _("holds") if rule.hold else "")
    for label, pairs in (
        (_("found, all:"), rule.all),
        (_("found, any:"), rule.any),
        (_("not found:"), rule.none),
    ):
        if pairs:
            yield f"  {label} " + ", ".join(":".join(pair) for pair in sorted(pairs))
    acts = [f"{act} {component}" for component, act in rule.verdicts]
    yield "  " + "; ".join(acts) + (f" ({_('together')}: {rule.pair})" if rule.pair else "")
    if rule.because_of:
        yield "  " + _("because of: %(names)s") % {"names": ", ".join(sorted(rule.because_of))}
    if rule.over:
        yield "  " + _("goes before: %(rules)s") % {"rules": ", ".join(sorted(rule.over))}
    yield from _why(rule, rule.checks)


def _meaning(meaning: list[Verdict]) -> Iterator[str]:
    if not meaning:
        yield _("No rule speaks of these findings.")
    for verdict in meaning:
        held = _("holds the machine") if verdict.hold else ""
        pair = _("together: %(pair)s") % {"pair": verdict.pair} if verdict.pair else ""
        yield _line(f"{verdict.act} {verdict.component}", verdict.severity, held, pair)
        if verdict.because_of:
            names = ", ".join(verdict.because_of)
            yield "  " + _("because of: %(names)s") % {"names": names}
        yield from _why(verdict, verdict.checks)


def _why(said: Rule | Verdict, checks: Iterable[Check]) -> Iterator[str]:
    yield f"  {_(said.reason)}"
    if said.caution:
        yield "  " + _("Caution: %(sentence)s") % {"sentence": _(said.caution)}
    for check in checks:
        yield "  " + _("next, %(minutes)d min: %(look)s") % {
            "minutes": check.minutes,
            "look": _(check.look),
        }
    yield f"  [{said.source}]"


def _line(first: str, *rest: str) -> str:
    return "  ".join([first, *(f"[{one}]" for one in rest if one)])
