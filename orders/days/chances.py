"""How likely each quilt is on time, reckoned once a day in the background, from ten finished quilts on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from orders.background import errands
from orders.days.own_pace import ENOUGH_JOBS, bias_of_estimates, take_over_own_share, whole_jobs
from orders.days.replanning import plan_now
from orders.models import Errand, Shop
from planner.schedule import back_test, risk

KIND = "chances"
SAMPLES = 300


@dataclass(frozen=True)
class Chances:
    """The chance of each order to be on time, 0 to 1, and from how many finished quilts it is told.

    `kept` of the `tried` quilts before took no longer than was to be told then with nine times in ten.
    """

    of: Mapping[str, float]
    jobs: int
    tried: int = 0
    kept: int = 0


@errands.daily(KIND, seconds=60, megabytes=500)
def reckon(taken: Errand) -> str:
    """Work the plan through with estimates that are off as they were on the shop's own quilts."""
    shop, own = Shop.objects.the(), bias_of_estimates()
    if shop is None or own is None:
        return f"Chances are told from {ENOUGH_JOBS} finished quilts on."
    bias, jobs = own
    take_over_own_share(shop)
    work, table = plan_now(shop)
    if not table.stints:
        return "There is no work to reckon with."
    chances = risk(work, table, bias=bias, samples=SAMPLES)
    tested = back_test(whole_jobs())
    taken.keep(
        f"Reckoned for {len(chances)} quilts.",
        day=shop.today().isoformat(),
        jobs=jobs,
        of=dict(chances),
        tried=tested.jobs if tested else 0,
        kept=tested.kept if tested else 0,
    )
    return f"Reckoned for {len(chances)} quilts, from {jobs} that are finished."


def chances_now(shop: Shop) -> Chances | None:
    """Return the chances reckoned today, None before there are any."""
    last = Errand.objects.filter(kind=KIND, state=Errand.State.DONE).order_by("-pk").first()
    if last is None or last.payload.get("day") != shop.today().isoformat():
        return None
    told = last.payload
    return Chances(told["of"], told["jobs"], told["tried"], told["kept"])
