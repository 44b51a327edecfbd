from shop.work.models.bench import Assignment, BenchHours, Clock, PartUse, TimeEntry
from shop.work.models.estimates import Alternative, Approval, Estimate, EstimateLine, FlatRate
from shop.work.models.jobs import CameAlong, JobInspection, Step, WorkOrder
from shop.work.models.leaving import CollectionNotice, HandBack, Notice, RecallTold
from shop.work.models.promises import Promise, StorageRule, WarrantyTerm

__all__ = [
    "Alternative",
    "Approval",
    "Assignment",
    "BenchHours",
    "CameAlong",
    "Clock",
    "CollectionNotice",
    "Estimate",
    "EstimateLine",
    "FlatRate",
    "HandBack",
    "JobInspection",
    "Notice",
    "PartUse",
    "Promise",
    "RecallTold",
    "Step",
    "StorageRule",
    "TimeEntry",
    "WarrantyTerm",
    "WorkOrder",
]
