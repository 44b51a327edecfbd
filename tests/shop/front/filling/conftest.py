from dataclasses import replace
from datetime import date

import pytest

from shop.front.filling.fill import fill, writer
from shop.front.filling.plan import Plan


@pytest.fixture
def plan(db) -> Plan:
    return Plan(
        models=48, parts=200, answers=300, moves=400, on=date(2026, 10, 31), seed=1, by=writer()
    )


@pytest.fixture
def filled(plan) -> Plan:
    fill(plan)
    return plan


@pytest.fixture
def empty_ledger(plan) -> Plan:
    return replace(plan, moves=0)
