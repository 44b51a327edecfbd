"""Loading the protocols and checking the tables that stand beside them."""

import hashlib
import tomllib
from collections import defaultdict
from dataclasses import asdict
from decimal import Decimal
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from units.catalogue.models import Component, Kind, KindComponent
from units.inspections.domain.protocols import ProtocolTable, parse_protocol
from units.inspections.domain.tables import TableError, parse_cautions, parse_rules
from units.inspections.models import Protocol, ProtocolStep
from units.inspections.services.errors import InspectionError


@transaction.atomic
def load_reference(folder: Path) -> None:
    """Load ``protocols/*.toml`` and check ``cautions.toml`` and ``rules.toml`` of a folder.

    Kinds and components must be loaded already. Loading again changes nothing; a version that
    was loaded with another text is refused, for inspections were made by it.
    """
    try:
        cautions = parse_cautions(_read(folder / "cautions.toml"), "cautions.toml")
        parse_rules(
            _read(folder / "rules.toml"),
            "rules.toml",
            set(Component.objects.values_list("slug", flat=True)),
            set(Kind.objects.values_list("slug", flat=True)),
            cautions,
        )
        kinds = _components_by_kind()
        for path in sorted((folder / "protocols").glob("*.toml")):
            _load(path, kinds, cautions)
    except TableError as error:
        raise InspectionError(_(error.sentence) % error.places) from error


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


def _load(path: Path, kinds, cautions) -> None:
    table = parse_protocol(_read(path), path.name, kinds, cautions)
    digest = hashlib.sha256(path.read_text(encoding="utf-8").encode()).hexdigest()
    loaded = Protocol.objects.filter(slug=table.slug, version=table.version).first()
    if loaded is None:
        _store(table, digest)
    elif loaded.digest != digest:
        raise InspectionError(
            _(
                "%(file)s: version %(version)d was loaded before with another text. Give the"
                " changed protocol the next version number."
            )
            % {"file": path.name, "version": table.version}
        )


def _store(table: ProtocolTable, digest: str) -> None:
    heading = {word: getattr(table, word) for word in ("slug", "version", "title", "occasion")}
    protocol = Protocol.objects.create(**heading, kind_id=table.kind, digest=digest)
    steps = []
    for position, step in enumerate(table.steps, start=1):
        row = asdict(step) | {"answer": step.answer, "position": position}
        component = row.pop("component")
        steps.append(ProtocolStep(protocol=protocol, component_id=component, **row))
    ProtocolStep.objects.bulk_create(steps)
