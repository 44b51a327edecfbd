from shop.work.models.bench import PartUse, TimeEntry
from shop.work.models.estimates import Approval, Estimate, EstimateLine, FlatRate
from shop.work.models.jobs import CameAlong, JobInspection, Step, WorkOrder
from shop.work.models.leaving import HandBack, Notice

__all__ = [
    "Approval",
    "CameAlong",
    "Estimate",
    "EstimateLine",
    "FlatRate",
    "HandBack",
    "JobInspection",
    "Notice",
    "PartUse",
    "Step",
    "TimeEntry",
    "WorkOrder",
]
