"""What import-linter cannot see: names in strings that cross the walls of the house.

Foreign keys, migration dependencies and templates point down only, by the same table of layers
that import-linter reads from pyproject.toml.
"""

import re
import subprocess
import sys
import tomllib
from functools import cache
from importlib import import_module
from pathlib import Path

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db.migrations.loader import MigrationLoader

ROOT = Path(__file__).resolve().parent.parent
HOUSES = ("shop", "parts", "units")
BASE_TEMPLATES = {"base.html", "paper.html"}
TAG = re.compile(r"{%\s*(url|extends|include|static)\s+(['\"])(.+?)\2")


@cache
def ranks() -> dict[str, tuple[int, int]]:
    """``{app: (house, storey)}``, the highest figures on top; siblings share a storey."""
    pyproject = tomllib.loads((ROOT / "pyproject.toml").read_text())
    contracts = pyproject["tool"]["importlinter"]["contracts"]
    found = {}
    for contract in contracts:
        house = contract.get("containers", [""])[0]
        if house in HOUSES:
            for storey, layer in enumerate(reversed(contract["layers"])):
                for name in layer.split("|"):
                    app = f"{house}.{name.strip(' ()')}"
                    found[app] = (-HOUSES.index(house), storey)
    return found


def own_apps():
    return [config for config in apps.get_app_configs() if config.name.split(".")[0] in HOUSES]


def may_name(upper: str, lower: str) -> bool:
    """Whether an app may name another one: itself, or one beneath it."""
    return upper == lower or ranks()[upper] > ranks()[lower]


def own_app_of(label: str) -> str | None:
    name = apps.get_app_config(label).name
    return name if name.split(".")[0] in HOUSES else None


def templates_of(app: str) -> list[Path]:
    return sorted((ROOT / app.replace(".", "/") / "templates").rglob("*.html"))


@cache
def urls_of(app: str) -> frozenset[str]:
    if not (ROOT / app.replace(".", "/") / "urls.py").exists():
        return frozenset()
    return frozenset(pattern.name for pattern in import_module(f"{app}.urls").urlpatterns)


def test_every_app_has_its_storey_in_the_table():
    assert [config.name for config in own_apps() if config.name not in ranks()] == []


def test_the_table_puts_the_houses_above_one_another():
    assert may_name("shop.people", "parts.buying")
    assert not may_name("parts.buying", "shop.people")
    assert not may_name("units.plates", "units.recalls")


def test_foreign_keys_point_down_only():
    upward = [
        f"{field.model._meta.label}.{field.name}"
        for config in own_apps()
        for model in config.get_models()
        for field in model._meta.get_fields()
        if field.is_relation and field.concrete
        if (target := own_app_of(field.related_model._meta.app_label))
        if not may_name(config.name, target)
    ]
    assert upward == []


def test_migrations_wait_for_lower_apps_only():
    upward = [
        f"{label}.{name} -> {other}"
        for (label, name), migration in MigrationLoader(None).disk_migrations.items()
        if (app := own_app_of(label))
        for other, _ in migration.dependencies
        if other != "__setting__" and (target := own_app_of(other))
        if not may_name(app, target)
    ]
    assert upward == []


LOWER_APPS = [config.name for config in own_apps() if config.name != "shop.front"]


def owner_of(kind: str, name: str) -> str | None:
    """The app whose URL, template or static file this is; None for a library's."""
    if kind == "url":
        return next((app for app in ranks() if name in urls_of(app)), f"no app ({name})")
    label = name.split("/")[0]
    labels = {config.label: config.name for config in own_apps()}
    return labels.get(label)


@pytest.mark.parametrize("app", LOWER_APPS)
def test_templates_name_nothing_above_them(app):
    upward = []
    for path in templates_of(app):
        for kind, _, name in TAG.findall(path.read_text()):
            if name in BASE_TEMPLATES or name.startswith("#"):
                continue
            owner = owner_of(kind, name)
            if owner and (owner not in ranks() or not may_name(app, owner)):
                upward.append(f"{path.relative_to(ROOT)}: {kind} {name}")
    assert upward == []


def test_templates_stand_under_the_label_of_their_app():
    astray = [
        str(path.relative_to(ROOT))
        for app in LOWER_APPS
        for path in templates_of(app)
        if path.relative_to(ROOT / app.replace(".", "/") / "templates").parts[0]
        != app.rpartition(".")[2]
    ]
    assert astray == []


def test_the_domain_runs_without_django():
    modules = [
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for house in HOUSES
        for path in sorted(ROOT.glob(f"{house}/*/domain/*.py"))
        if path.name != "__init__.py"
    ]
    code = "import sys, importlib; sys.modules['django'] = None\n" + "\n".join(
        f"importlib.import_module({name!r})" for name in modules
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert modules
    assert done.returncode == 0, done.stderr


@pytest.mark.django_db
def test_the_migrations_say_what_the_models_say():
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)
