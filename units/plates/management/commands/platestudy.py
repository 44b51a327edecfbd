import json
import os
import time
import tomllib
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict
from importlib import import_module
from multiprocessing import get_context
from pathlib import Path

import psutil
from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _

from units.catalogue.domain.keys import match_key
from units.plates.domain import confidence, study
from units.plates.domain.proposal import FieldName

TIERS = ("easy", "normal", "hard")
JUDGED = ("model", "serial")
GENERATOR = "tests.platemaker"


class Command(BaseCommand):
    help = "Reads photos of drawn plates whose truth is known and says how often it is right."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("--photos", type=int, default=1200, help="in three tiers")
        parser.add_argument("--families", choices=["judge", "tune"], default="judge")
        parser.add_argument("--seed", type=int, default=1)
        parser.add_argument("--workers", type=int, default=2)
        parser.add_argument("--keep", help="a file of JSON lines to add to and to go on from")
        parser.add_argument("--fit", metavar="FILE", help="fit confidence on a kept file instead")
        parser.add_argument("--wrong", action="store_true", help="list what was read wrongly")

    def handle(self, *, photos, families, seed, workers, keep, fit, wrong, **options):
        if fit:
            return self.fit(Path(fit))
        rows = self.read(photos, families, seed, workers, Path(keep) if keep else None)
        self.report([_trial(row) for row in rows], rows)
        if wrong:
            self.list_wrong(rows)

    def read(self, photos, families, seed, workers, keep: Path | None) -> list[dict]:
        done = _kept(keep)
        wanted = [(families, TIERS[at % 3], seed * 1_000_000 + at) for at in range(photos)]
        rows = [done[name] for one in wanted if (name := _name(*one)) in done]
        missing = [one for one in wanted if _name(*one) not in done]
        for count, row in enumerate(_read_all(missing, workers), start=1):
            rows.append(row)
            if keep:
                with keep.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(row) + "\n")
            if count % 20 == 0 or count == len(missing):
                self.stderr.write(_("%(n)d of %(all)d read") % {"n": count, "all": len(missing)})
        return rows

    def report(self, trials: list[study.Trial], rows: list[dict]) -> None:
        families = sorted({one.family for one in trials})
        write = self.stdout.write
        write(f"{len(trials)} photos, {len(families)} families; {rows[0]['version']}")
        write(f"{'':22}{'photos':>7}{'model':>8}{'serial':>8}{'sure':>8}{'wrong':>7}")
        for tier in TIERS:
            self._line(tier, [one for one in trials if one.tier == tier])
        self._line("easy and normal", [one for one in trials if one.tier != "hard"])
        self._line("all", trials)
        for family in families:
            self._line(f"  {family}", [one for one in trials if one.family == family])
        self._bounds(trials)
        for name in JUDGED:
            write(f"{name}: stated confidence, photos, mean stated, came true")
            for row in study.reliability(trials, name):
                write(
                    f"  {row.low:.2f} to {row.high:.2f}{row.count:>7}"
                    f"{row.stated:>9.3f}{row.came_true:>9.3f}"
                )
        seconds = [one.seconds for one in trials]
        write(
            f"seconds a photo: median {study.percentile(seconds, 0.5):.2f}, "
            f"95th percentile {study.percentile(seconds, 0.95):.2f}; "
            f"largest memory of one reader {max(row['memory'] for row in rows) / 1e6:.0f} MB"
        )

    def _line(self, title: str, trials: list[study.Trial]) -> None:
        if trials:
            self.stdout.write(
                f"{title:22}{len(trials):>7}"
                f"{study.share(trials, lambda one: one.right('model')):>8.1%}"
                f"{study.share(trials, lambda one: one.right('serial')):>8.1%}"
                f"{study.share(trials, lambda one: one.outcome == 'sure'):>8.1%}"
                f"{sum(one.wrong_but_sure for one in trials):>7}"
            )

    def _bounds(self, trials: list[study.Trial]) -> None:
        sure = sum(one.outcome == "sure" for one in trials)
        wrong = sum(one.wrong_but_sure for one in trials)
        self.stdout.write(
            f"sure but wrong: {wrong} of {sure}; at most "
            f"{study.upper_bound(wrong, sure):.3%} (exact binomial, one-sided 95 %), "
            f"{study.upper_bound(wrong, sure, 0.975):.3%} (two-sided); families drawn anew: "
            + (f"at most {study.resampled_bound(trials):.3%}" if wrong else "none was wrong in any")
        )

    def list_wrong(self, rows: list[dict]) -> None:
        for row in sorted(rows, key=lambda row: row["name"]):
            for name in JUDGED:
                said = row["fields"][name]
                if not said["right"]:
                    self.stdout.write(
                        f"{row['name']} {row['family']} {name}: {said['true']} read as "
                        f"{said['text'] or '-'} ({said['outcome']} {said['confidence']:.3f})"
                    )

    def fit(self, kept: Path) -> None:
        if any(row["name"].startswith("judge-") for row in _kept(kept).values()):
            raise CommandError(_("Photos that are kept for judging are never fitted on."))
        rows = [
            (name, row["features"].get(name, {}), row["fields"][name]["right"])
            for row in _kept(kept).values()
            for name in JUDGED
            if row["features"].get(name)
        ]
        if not rows:
            raise CommandError(_("%(file)s holds no read photos to fit on.") % {"file": kept})
        sure = tomllib.loads(confidence.TABLE.read_text(encoding="utf-8"))["sure"]
        text = _as_toml(
            confidence.fit(rows), sure, f"{time.strftime('%Y-%m-%d')}, {len(rows)} rows"
        )
        confidence.TABLE.write_text(text, encoding="utf-8")
        self.stdout.write(text)


def _name(families: str, tier: str, seed: int) -> str:
    return f"{families}-{tier}-{seed}"


def _kept(path: Path | None) -> dict[str, dict]:
    if path is None or not path.exists():
        return {}
    rows = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    return {row["name"]: row for row in rows}


def _read_all(wanted: list[tuple[str, str, int]], workers: int) -> Iterator[dict]:
    _generator()
    # One thread for each process: as many readers as cores, none in another's way.
    os.environ["UNDERBELT_READER_THREADS"] = "2" if workers == 1 else "1"
    if workers == 1:
        yield from map(read_one, wanted)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        yield from pool.map(read_one, wanted, chunksize=1)


def _generator():
    try:
        return import_module(GENERATOR)
    except ImportError as error:
        raise CommandError(
            _(
                "The study draws its plates with the tests' generator. Run it in a copy of the "
                "sources with the packages of the tests installed: %(why)s"
            )
            % {"why": error}
        ) from error


def read_one(one: tuple[str, str, int]) -> dict:
    """Draw one photo, read it, and compare with what was drawn."""
    from units.plates.domain.reader import read_photo, warm

    families, tier, seed = one
    maker = _generator()
    photo = maker.make_photo(seed=seed, tier=tier, families=families)
    knowledge = maker.shop_knowledge(families)
    warm()
    proposal, _crop = read_photo(photo.jpeg, knowledge)
    truth = asdict(photo.truth)
    return {
        "name": _name(*one),
        "family": photo.family,
        "tier": tier,
        "spoilings": list(photo.spoilings),
        "outcome": str(proposal.outcome),
        "fields": {
            str(name): {
                "text": proposal.text_of(name),
                "true": truth[str(name)],
                "right": match_key(proposal.text_of(name)) == match_key(truth[str(name)]),
                "confidence": proposal.fields[name].confidence if name in proposal.fields else 0.0,
                "outcome": str(proposal.fields[name].outcome)
                if name in proposal.fields
                else "type",
            }
            for name in FieldName
        },
        "features": proposal.features,
        "version": proposal.version,
        "seconds": proposal.seconds,
        "memory": _most_memory(),
    }


def _most_memory() -> int:
    """The most memory in bytes that this process, which draws and reads, has had so far."""
    if psutil.WINDOWS:
        return psutil.Process().memory_info().peak_wset
    from resource import RUSAGE_SELF, getrusage

    return getrusage(RUSAGE_SELF).ru_maxrss * (1 if psutil.MACOS else 1024)


def _trial(row: dict) -> study.Trial:
    fields = {
        name: (said["confidence"], said["outcome"], said["right"])
        for name in JUDGED
        if (said := row["fields"][name])
    }
    return study.Trial(row["family"], row["tier"], row["outcome"], fields, row["seconds"])


def _as_toml(fields: dict, sure: float, version: str) -> str:
    lines = [
        "# Fitted by `manage.py platestudy --fit`; not to be edited by hand, but for `sure`.",
        f'version = "{version}"',
        f"sure = {sure}",
    ]
    for name, model in fields.items():
        lines += ["", f"[fields.{name}]", f"constant = {model['constant']:.5f}"]
        lines += [f"[fields.{name}.weights]"]
        lines += [f"{feature} = {weight:.5f}" for feature, weight in model["weights"].items()]
        lines += [f"[fields.{name}.scales]"]
        lines += [
            f"{feature} = [{centre:.5f}, {spread:.5f}]"
            for feature, (centre, spread) in model["scales"].items()
        ]
    return "\n".join(lines) + "\n"
