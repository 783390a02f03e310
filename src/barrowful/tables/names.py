"""The names of the tables of each command: for help and completion, which load no table."""

from __future__ import annotations

#: Command -> its tables by name, the first of which csv and tsv hold.
NAMES: dict[str, tuple[str, ...]] = {
    "options": ("options", "whole_site", "growing", "choices", "drivers"),
    "plan": ("plan", "frontier", "binds", "clash", "plan_totals", "plan_stages"),
    "sizes": ("sizes", "by_way", "drivers"),
    "orders": (
        *("orders", "order_costs", "questions", "sharing", "short", "payments", "sellers"),
        *("cash_by_month", "order_totals", "bags_or_bulk", "drivers"),
    ),
    "heap": ("heap", "batches", "hygiene", "recipes"),
    "course": ("course", "opinions", "drivers"),
    "ledger": ("ledger", "done"),
    "season": ("season", "weeks"),
    "whatif": ("whatif_site", "whatif", "break_even"),
    "check": ("check", "warnings"),
    "figures": ("figures",),
    "explain": ("explain",),
}
#: Tables that are there only when an option asks for them -> that option.
ASKED_WITH = {
    "frontier": "--frontier",
    "binds": "--binds",
    "recipes": "--recipes",
    "break_even": "--break-even",
    "drivers": "--ranges",
}
