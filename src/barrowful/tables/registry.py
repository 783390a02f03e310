"""Every table of every command, in the order a command gives them."""

from __future__ import annotations

from typing import Any

from barrowful.tables.bags_or_bulk import BAGS_OR_BULK
from barrowful.tables.batches import BATCHES
from barrowful.tables.binds import BINDS
from barrowful.tables.break_even import BREAK_EVEN
from barrowful.tables.by_way import BY_WAY
from barrowful.tables.check import CHECK, WARNINGS
from barrowful.tables.choices import CHOICES
from barrowful.tables.clash import CLASH
from barrowful.tables.course import COURSE
from barrowful.tables.done import DONE
from barrowful.tables.drivers import DRIVERS
from barrowful.tables.explain import EXPLAIN
from barrowful.tables.figures import CONTENTS, FIGURES
from barrowful.tables.frontier import FRONTIER
from barrowful.tables.growing import GROWING
from barrowful.tables.heap import HEAP, RECIPES
from barrowful.tables.hygiene import HYGIENE
from barrowful.tables.layout import Layout
from barrowful.tables.ledger import LEDGER
from barrowful.tables.opinions import OPINIONS
from barrowful.tables.options import OPTIONS
from barrowful.tables.order_totals import CASH_BY_MONTH, ORDER_TOTALS, SELLERS
from barrowful.tables.orders import ORDER_COSTS, ORDERS
from barrowful.tables.payments import PAYMENTS
from barrowful.tables.plan import PLAN
from barrowful.tables.plan_stages import PLAN_STAGES
from barrowful.tables.plan_totals import PLAN_TOTALS
from barrowful.tables.questions import QUESTIONS
from barrowful.tables.season import SEASON, WEEKS
from barrowful.tables.sharing import SHARING
from barrowful.tables.short import SHORT
from barrowful.tables.sizes import SIZES
from barrowful.tables.whatif import WHATIF, WHATIF_SITE
from barrowful.tables.whole_site import WHOLE_SITE

#: Command -> its tables; a command without tables is not listed.
TABLES: dict[str, tuple[Layout[Any], ...]] = {
    "options": (OPTIONS, WHOLE_SITE, GROWING, CHOICES, DRIVERS),
    "plan": (PLAN, FRONTIER, BINDS, CLASH, PLAN_TOTALS, PLAN_STAGES),
    "sizes": (SIZES, BY_WAY, DRIVERS),
    "orders": (
        *(ORDERS, ORDER_COSTS, QUESTIONS, SHARING, SHORT, PAYMENTS, SELLERS),
        *(CASH_BY_MONTH, ORDER_TOTALS, BAGS_OR_BULK, DRIVERS),
    ),
    "season": (SEASON, WEEKS),
    "heap": (HEAP, BATCHES, HYGIENE, RECIPES),
    "course": (COURSE, OPINIONS, DRIVERS),
    "ledger": (LEDGER, DONE),
    "whatif": (WHATIF_SITE, WHATIF, BREAK_EVEN),
    "check": (CHECK, WARNINGS),
    "figures": (CONTENTS, FIGURES),
    "explain": (EXPLAIN,),
}
