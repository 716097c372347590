"""Where the yes to the picture stands: what was asked, what was agreed, and what changed since."""

from __future__ import annotations

from dataclasses import dataclass

from orders.models import Consent, DesignVersion, Order, may_move
from orders.models.design import fingerprint
from orders.picture_changes import Change, changes, only_equal_blocks_moved
from planner.brief import as_json
from planner.quilt import Quilt


@dataclass(frozen=True)
class ToPicture:
    """The version asked about last, what was said to it, and how the draft differs from what was agreed.

    `agreed` is the newest yes that was not taken back, to this version or an earlier one.
    """

    version: DesignVersion | None
    agreed: Consent | None
    wishes: tuple[Consent, ...]
    is_current: bool
    changes: tuple[Change, ...] = ()
    is_covered: bool = False

    @property
    def yes(self) -> Consent | None:
        """The yes that holds for the quilt as it is drawn now."""
        return self.agreed if self.is_said else None

    @property
    def is_asked(self) -> bool:
        """Say whether the quilt as it is drawn now is what was asked about last."""
        return self.version is not None and self.is_current

    @property
    def is_said(self) -> bool:
        """Say whether rows may be joined as the quilt is drawn now."""
        return self.agreed is not None and (not self.changes or self.is_covered)

    @property
    def moved(self) -> tuple[Change, ...]:
        """Trades that she gave leave for."""
        return self.changes if self.is_said else ()


def to_picture(order: Order, quilt: Quilt | None, *, unit: str = "in") -> ToPicture:
    """Return where the yes to the picture stands for a draft."""
    version = order.versions.order_by("-number").first()
    said = order.consents.filter(withdrawn_at=None).exclude(version=None).select_related("version")
    agreed = said.filter(kind=Consent.Kind.PICTURE).order_by("-version__number").first()
    wishes = tuple(said.filter(kind=Consent.Kind.WISH, version=version).order_by("pk"))
    if quilt is None or version is None:
        return ToPicture(version, None, wishes, False)
    current = version.fingerprint == fingerprint(as_json(quilt))
    if agreed is None or agreed.version is None or agreed.version.fingerprint == fingerprint(as_json(quilt)):
        return ToPicture(version, agreed, wishes, current)
    before = agreed.version.as_quilt()
    differ = changes(before, quilt, unit=unit)
    covered = may_move(order) and only_equal_blocks_moved(before, quilt)
    return ToPicture(version, agreed, wishes, current, differ, covered)


def changed_since_the_yes(version: DesignVersion, *, unit: str) -> tuple[Change, ...]:
    """Return what is different in a version from the one that was agreed before it; nothing before a yes."""
    said = Consent.objects.filter(kind=Consent.Kind.PICTURE, withdrawn_at=None, version__order=version.order)
    earlier = said.filter(version__number__lt=version.number).select_related("version")
    agreed = earlier.order_by("-version__number").first()
    if agreed is None or agreed.version is None:
        return ()
    return changes(agreed.version.as_quilt(), version.as_quilt(), unit=unit)
