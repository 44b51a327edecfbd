"""Loading the protocols and checking the tables that stand beside them."""

import tomllib
from collections import defaultdict
from dataclasses import asdict
from decimal import Decimal
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from units.catalogue.models import Component, Kind, KindComponent
from units.inspections.domain.notes import parse_notes
from units.inspections.domain.odds import POPULATIONS, parse_replacement, require_priors
from units.inspections.domain.protocols import ProtocolTable, parse_kind
from units.inspections.domain.steps import Known, Step
from units.inspections.domain.tables import (
    Named,
    TableError,
    parse_cautions,
    parse_rules,
    parse_words,
)
from units.inspections.models import Protocol, ProtocolStep
from units.inspections.services.errors import InspectionError

SHARED = "shared.toml"


@transaction.atomic
def load_reference(folder: Path) -> None:
    """Load ``protocols/*.toml`` and check the tables of cautions, tools, rules, notes and priors of
    a folder.

    Kinds and components must be loaded already. Loading again changes nothing; a version that
    was loaded with another content is refused, for inspections were made by it.
    """
    try:
        cautions = parse_cautions(_read(folder / "cautions.toml"), "cautions.toml")
        tools = parse_words(_read(folder / "tools.toml"), "tools", "tools.toml")
        parse_rules(_read(folder / "rules.toml"), "rules.toml", _named(cautions))
        _check_more(folder)
        known = Known(_components_by_kind(), cautions, tools)
        shared = _read(folder / "protocols" / SHARED).get("steps", {})
        for path in sorted((folder / "protocols").glob("*.toml")):
            if path.name != SHARED:
                _load(path, shared, known)
    except TableError as error:
        raise InspectionError(_(error.sentence) % error.places) from error


def _check_more(folder: Path) -> None:
    """The tables that are read where they are used: a fault is said now, not on a page."""
    components = set(Component.objects.values_list("slug", flat=True))
    parse_notes(_read(folder / "notes.toml"), "notes.toml", components)
    name = "replacement.toml"
    require_priors(parse_replacement(_read(folder / name), name), _components_by_kind(), name)


def _named(cautions: dict[str, str]) -> Named:
    return Named(
        components=set(Component.objects.values_list("slug", flat=True)),
        kinds=set(Kind.objects.values_list("slug", flat=True)),
        cautions=cautions,
        populations=POPULATIONS,
    )


def _components_by_kind() -> dict[str, set[str]]:
    found = defaultdict(set)
    for kind, component in KindComponent.objects.values_list("kind_id", "component_id"):
        found[kind].add(component)
    return found


def _read(path: Path) -> dict:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise InspectionError(
            _("%(file)s cannot be read: %(why)s") % {"file": path.name, "why": error}
        ) from error


def _load(path: Path, shared, known: Known) -> None:
    for table in parse_kind(_read(path), shared, path.name, known):
        digest = table.fingerprint()
        loaded = Protocol.objects.filter(slug=table.slug, version=table.version).first()
        if loaded is None:
            _store(table, digest)
        elif loaded.digest != digest:
            raise InspectionError(
                _(
                    "%(file)s: version %(version)d of “%(title)s” was loaded before with another"
                    " content. Give the changed protocol the next version number."
                )
                % {"file": path.name, "version": table.version, "title": table.title}
            )


def _store(table: ProtocolTable, digest: str) -> None:
    words = ("slug", "version", "title", "occasion", "run_in")
    heading = {word: getattr(table, word) for word in words}
    protocol = Protocol.objects.create(**heading, kind_id=table.kind, digest=digest)
    ProtocolStep.objects.bulk_create(
        _row(protocol, position, step) for position, step in enumerate(table.steps, start=1)
    )


def _row(protocol: Protocol, position: int, step: Step) -> ProtocolStep:
    words = asdict(step)
    component = words.pop("component")
    del words["asks"]  # its conditions say as much
    return ProtocolStep(
        protocol=protocol,
        position=position,
        component_id=component,
        answer=step.answer,
        photo_wanted=bool(step.photo),
        **words,
    )
