"""What a running clock comes to. Source: common practice, no published source."""

from datetime import datetime, timedelta

MINUTE = timedelta(minutes=1)
FORGOTTEN = timedelta(hours=12)  # nobody stands at the bench longer: the clock was left running


def worked_minutes(started_at: datetime, stopped_at: datetime) -> int:
    """Whole minutes, the nearest, a half up; a clock that was started counts at least one."""
    return max(1, (stopped_at - started_at + MINUTE / 2) // MINUTE)


def is_forgotten(started_at: datetime, at: datetime) -> bool:
    return at - started_at > FORGOTTEN
