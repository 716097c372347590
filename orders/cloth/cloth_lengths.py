"""How much cloth one part of a quilt takes, whatever bolt it is cut from."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from functools import cached_property

from django.core.cache import cache

from orders.models import Cloth, Order, Shop
from orders.planning import bolt_of, cloth_of
from planner import materials
from planner.materials import CutPiece, CutPlan, Item, backing_options, parts, plan_cuts, share_out
from planner.problems import BadInput, Impossible, Limit
from planner.quilt import Quilt
from planner.units import Length, Rate

KEPT_FOR = 24 * 60 * 60  # seconds; the key names all that goes in
CANNOT = -1


@dataclass(frozen=True)
class Lengths:
    """The length a role takes, cloth by cloth; bolts of one usable width take the same."""

    quilt: Quilt | None
    role: str
    shop: Shop

    def of(self, cloth: Cloth) -> Length | None:
        """Return the length that goes in, in whole steps and ticks; None where it cannot be told.

        What lies on the shelf is compared as it lies: the wash and the squared end count when it is bought.
        """
        found = self._reckoned(cloth)
        return None if found in (None, CANNOT) else found

    def cannot(self, cloth: Cloth) -> bool:
        """Say whether a cloth is too narrow for the part."""
        return self._reckoned(cloth) == CANNOT

    def given_by(self, cloth: Cloth, order: Order) -> tuple[int, int]:
        """Return how many of the part's pieces a garment gives, and how many there are."""
        whole = sum(item.count for item in self._items if isinstance(item, CutPiece))
        if not whole:
            return 0, 0
        garment = cloth_of(cloth, self.shop, order=order)
        key = "cloth-given-" + hashlib.sha256(f"{self._asked!r} {garment!r}".encode()).hexdigest()
        found = cache.get(key)
        if found is None:
            found = share_out(garment, self._items, limit=Limit(effort=1)).count
            cache.set(key, found, KEPT_FOR)
        return found, whole

    def _reckoned(self, cloth: Cloth) -> int | None:
        if self.quilt is None or (self.role != "backing" and not self._items):
            return None
        bolt = self._bolt(cloth)
        key = "cloth-length-" + hashlib.sha256(f"{self.role} {self._asked!r} {bolt!r}".encode()).hexdigest()
        found = cache.get(key)
        if found is None:
            found = self._backing(bolt) if self.role == "backing" else self._cut(bolt)
            cache.set(key, found, KEPT_FOR)
        assert isinstance(found, int)
        return found

    @cached_property
    def _allowances(self) -> materials.Allowances:
        return self.shop.shop_rules().allowances

    @cached_property
    def _items(self) -> tuple[Item, ...]:
        if self.quilt is None:
            return ()
        try:
            return parts(self.quilt, allowances=self._allowances).get(self.role, ())  # type: ignore[call-overload]
        except BadInput:  # sashing whose strips cannot be told from the blocks
            return ()

    @property
    def _asked(self) -> object:
        return (self.quilt.size if self.quilt else None, self._allowances, self._items)

    def to_buy(self, cloth: Cloth, missing: int) -> Length:
        """Return what has to be bought where so much is missing, washed and squared as the shop does."""
        return bolt_of(cloth, self.shop).to_buy(missing)

    def _bolt(self, cloth: Cloth) -> materials.Cloth:
        """A new bolt as wide as this one: what is on hand is compared afterwards."""
        any_price = Rate(1, self.shop.currency, cloth.price_per)  # type: ignore[arg-type]
        return replace(
            bolt_of(cloth, self.shop), id="bolt", kind="cotton", price=any_price, lot="", fuse="none"
        )

    def _cut(self, bolt: materials.Cloth) -> int:
        answer = plan_cuts(bolt, self._items, limit=Limit(effort=1))
        return bolt.in_steps(answer.used) if isinstance(answer, CutPlan) else CANNOT

    def _backing(self, bolt: materials.Cloth) -> int:
        assert self.quilt is not None
        given = self._allowances
        answer = backing_options(
            self.quilt.size,
            [replace(bolt, kind="backing")],
            overhang=given.overhang,
            seam_loss=given.seam_loss,
            least_panel=given.least_panel,
        )
        return CANNOT if isinstance(answer, Impossible) else bolt.in_steps(answer[0].length)
