"""The closed-through day as a database trigger, for every table whose rows carry a day."""

from units.rows.guards import Guard


def after_closed_day(table: str, column: str) -> Guard:
    """Refuse a new row whose day is closed already."""
    return Guard(
        table,
        "INSERT",
        f"{table}: this day is closed",
        when=f"NEW.{column} <= (SELECT closed_through FROM days_calendar WHERE id = 1)",  # noqa: S608 - our own names
        label="closed_day",
    )
