import json
from pathlib import Path
from time import perf_counter

from django.core.files.base import ContentFile
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.lots.domain.bidding import Conditions, bid_of
from shop.lots.domain.haul import Site
from shop.lots.domain.listed import line_of
from shop.lots.domain.lists.source import LINE, NOT_LINE, QUESTION, QUESTIONS, Reading, SourceRow
from shop.lots.domain.recording import figures_of, versions
from shop.lots.domain.valuing import DRAWS
from shop.lots.selectors.figures import shop_figures, terms_of, values_of
from shop.lots.selectors.reading import read_upload
from shop.lots.services.valuing import Composed, Frame, compose_lot
from units.catalogue.models import Kind
from units.sheets.services import SheetRefusedError
from units.show.words import money

LEAST_DRAWS, MOST_DRAWS = 1_000, 200_000
SHOWN = 8


class Command(BaseCommand):
    help = "Reads a seller's list and says what the lot is worth, with its odds and what to ask."

    def add_arguments(self, parser):
        parser.add_argument("file", metavar="FILE", type=Path, help="an .xlsx or .csv file")
        parser.add_argument("--ask", type=float, help="what the seller asks for everything")
        parser.add_argument("--draws", type=int, default=DRAWS)
        parser.add_argument("--seed", type=int, default=1)
        parser.add_argument("--kilometres", type=float, default=0.0, help="to the seller, one way")
        parser.add_argument("--steps", type=int, default=0, help="between the floor and the truck")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *, file, ask, draws, seed, kilometres, steps, as_json, **options):
        begun = perf_counter()
        _check(ask, draws, seed, kilometres, steps)
        reading = _read(file)
        shop = shop_figures()
        frame = Frame(site=Site(kilometres, steps), typed=values_of(shop))
        composed = compose_lot(_lines(reading), frame, timezone.localdate())
        conditions = Conditions(asked=ask, terms=terms_of(shop), seed=seed, draws=draws)
        figures = figures_of(bid_of(composed.lot, conditions))
        told = _rows(reading) | _odds(reading, composed) | figures
        told |= {"seed": seed, "draws": draws, "versions": versions()}
        told["seconds"] = round(perf_counter() - begun, 2)
        if as_json:
            self.stdout.write(json.dumps(told, indent=1, ensure_ascii=False))
        else:
            self.stdout.writelines(f"{line}\n" for line in _sentences(told))


def _check(ask, draws, seed, kilometres, steps) -> None:
    if ask is not None and ask < 0:
        raise CommandError(_("The price asked is below nothing. Leave --ask out if there is none."))
    if not LEAST_DRAWS <= draws <= MOST_DRAWS:
        raise CommandError(
            _("Take between %(least)d and %(most)d draws.")
            % {"least": LEAST_DRAWS, "most": MOST_DRAWS}
        )
    if seed < 0 or kilometres < 0 or steps < 0:
        raise CommandError(_("The seed, the kilometres and the steps are not below nothing."))


def _read(file: Path) -> Reading:
    try:
        upload = ContentFile(file.read_bytes(), name=file.name)
        if not Kind.objects.exists():
            raise CommandError(
                _("The database holds no kinds of machine. Run “manage.py loadreference” first.")
            )
        return read_upload(upload)
    except OSError as error:
        raise CommandError(
            _("“%(name)s” cannot be opened: %(why)s.")
            % {"name": file.name, "why": error.strerror or error}
        ) from error
    except SheetRefusedError as error:
        raise CommandError(str(error)) from error
    except DatabaseError as error:
        raise CommandError(
            _("There is no database yet. Run “manage.py migrate” and “manage.py loadreference”.")
        ) from error


def _named(row: SourceRow) -> str:
    return f"{row.sheet}/{row.row}"


def _lines(reading: Reading) -> list:
    """What can be valued: confirmed by nobody, and taken as it reads."""
    lines = [line_of(row.draft, _named(row)) for row in reading.rows if row.draft]
    return [line for line in lines if line]


def _rows(reading: Reading) -> dict:
    """How every row of the list ended."""
    rows = reading.rows
    return {
        "source_rows": sum(row.upto - row.row + 1 for row in rows),
        "lines": len(reading.of(LINE)),
        "not_lines": sum(row.upto - row.row + 1 for row in reading.of(NOT_LINE)),
        "questions": len(reading.of(QUESTION)),
        "machines_listed": sum(
            row.draft.count for row in rows if row.draft and row.draft.sort == "machine"
        ),
        "asked": [_question(row) for row in reading.of(QUESTION)],
        "rows": [
            {
                "sheet": row.sheet,
                "row": row.row,
                "upto": row.upto,
                "fate": row.fate,
                "reason": row.reason,
                "text": row.text,
                "taken_for": _taken_for(row),
            }
            for row in rows
        ],
    }


def _taken_for(row: SourceRow) -> str:
    line = line_of(row.draft, "") if row.draft else None
    if line is None:
        return ""
    if hasattr(line, "sort"):
        return line.sort
    best = row.draft.candidates[0].model if line.wanted.model else None
    return f"{best.maker} {best.number}" if best else line.wanted.kind


def _question(row: SourceRow) -> dict:
    return {
        "sheet": row.sheet,
        "row": row.row,
        "cells": [one.ref for one in row.doubts],
        "questions": [_(QUESTIONS[one.code]) % one.named for one in row.doubts],
    }


def _odds(reading: Reading, composed: Composed) -> dict:
    unread = [row.draft.text for row in reading.rows if row.draft and not line_of(row.draft, "")]
    return {
        "priors_only": composed.priors_only,
        "machines_valued": len(composed.lot.machines),
        "not_run": sum(not one.ran for one in composed.lot.machines),
        "not_valued": unread + [line.name for line in composed.left_out],
    }


def _sentences(told: dict) -> list[str]:
    """The bid in sentences."""
    named = {**told, **told["profit"]}
    for key in ("most_to_pay", "break_even", "opening", "price", "p10", "p50", "p90"):
        named[key] = money(named[key])
    named["met"] = round(100 * told["met"])
    lines = [
        _(
            "Rows: %(source_rows)d; of these lines %(lines)d, no lines %(not_lines)d, questions "
            "%(questions)d. Machines valued: %(machines_valued)d of %(machines_listed)d."
        )
        % named,
        _("Most to pay: %(most_to_pay)s.") % named,
        _("Opening offer: %(opening)s.") % named
        if told["opening_taken"]
        else _("Opening offer: none, nothing up to the most to pay is likely to be taken."),
        _("Expected profit is nothing at %(break_even)s; that is no advice.") % named,
        _("At %(price)s the margin is met in %(met)d of 100 draws;") % named,
        _("  profit %(p10)s, %(p50)s, %(p90)s (1 in 10 below, the middle, 1 in 10 above).") % named,
    ]
    if told["priors_only"]:
        lines.append(_("All odds are still stated ones: the shop has looked at no such machine."))
    if told["not_valued"]:
        lines.append(_("Not valued: %(names)s.") % {"names": "; ".join(told["not_valued"])})
    lines += [_call(one) for one in told["calls_first"][:SHOWN] if one["tells"]]
    lines.append(_("%(seconds).1f seconds.") % told)
    return lines


def _call(one: dict) -> str:
    named = {**one, "worth": money(one["worth"])}
    if one["kind"] == "call":
        return _("Call %(about)s about %(model)s: worth %(worth)s for %(minutes)d minutes.") % named
    return _("Look at %(count)d of %(model)s: worth %(worth)s for %(minutes)d minutes.") % named
