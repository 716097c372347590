"""Where the yes to the picture stands: what was asked, what was agreed, and what changed since."""

from __future__ import annotations

from dataclasses import dataclass

from orders.models import Consent, DesignVersion, Order, may_move
from orders.models.design import fingerprint
from orders.quilt.layouts import standing_move
from orders.yes.picture_changes import Change, changes, only_equal_blocks_moved
from planner.brief import as_json, read_quilt
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
    """Return where the yes to the picture stands for a draft; no query if `with_picture` came first."""
    version = max(order.versions.all(), key=lambda each: each.number, default=None)
    agreed = agreed_of(order)
    wishes = tuple(each for each in _said(order, Consent.Kind.WISH) if version and each.version == version)
    if quilt is None or version is None:
        return ToPicture(version, None, wishes, False)
    print_of = fingerprint(as_json(quilt))
    current = version.fingerprint == print_of
    if agreed is None or agreed.version is None or agreed.version.fingerprint == print_of:
        return ToPicture(version, agreed, wishes, current)
    before = agreed.version.as_quilt()
    differ = changes(before, quilt, unit=unit)
    covered = may_move(order) and only_equal_blocks_moved(before, quilt)
    return ToPicture(version, agreed, wishes, current, differ, covered)


def may_be_joined(order: Order) -> bool:
    """Say whether rows may be joined as the quilt is drawn now, as far as the picture is asked about."""
    agreed, move = agreed_of(order), standing_move(order)
    if agreed is None or agreed.version is None or move is None:
        return False
    if agreed.version.fingerprint == fingerprint(move.quilt):
        return True
    return to_picture(order, read_quilt(move.quilt)).is_said


def agreed_of(order: Order) -> Consent | None:
    """Return the yes to the newest version that was agreed and not taken back."""
    said = _said(order, Consent.Kind.PICTURE)
    return max(said, key=lambda each: each.version.number if each.version else 0, default=None)


def _said(order: Order, kind: str) -> list[Consent]:
    """What was said of this kind and not taken back, the first first, each with its version."""
    versions = {each.pk: each for each in order.versions.all()}
    said = [each for each in order.consents.all() if each.kind == kind and each.withdrawn_at is None]
    found = []
    for each in sorted(said, key=lambda each: each.pk):
        if each.version_id is not None and each.version_id in versions:
            each.version = versions[each.version_id]
            found.append(each)
    return found


def changed_since_the_yes(version: DesignVersion, *, unit: str) -> tuple[Change, ...]:
    """Return what is different in a version from the one that was agreed before it; nothing before a yes."""
    said = Consent.objects.filter(kind=Consent.Kind.PICTURE, withdrawn_at=None, version__order=version.order)
    earlier = said.filter(version__number__lt=version.number).select_related("version")
    agreed = earlier.order_by("-version__number").first()
    if agreed is None or agreed.version is None:
        return ()
    return changes(agreed.version.as_quilt(), version.as_quilt(), unit=unit)
