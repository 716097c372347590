"""A plan told in plain text, as a maker would read it at the table."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date, timedelta
from textwrap import wrap

from planner.brief import Brief
from planner.care import needs, show_heat
from planner.layout import Layout
from planner.materials import BackingOption, BattingOption, CutPlan, InterfacingOption
from planner.plan import Offer, Plan
from planner.problems import Problem
from planner.schedule import Promise
from planner.units import Size, show_length, show_money

WIDTH = 96


def plan_sheet(brief: Brief, answer: Plan) -> str:
    """Return the whole answer, the offer put first in full and the others in short."""
    return "\n".join(part for line in sheet_lines(brief, answer) for part in _wrapped(line))


def sections_of(brief: Brief, answer: Plan) -> list[tuple[str, list[str]]]:
    """Return the same as headings, each with the lines below it; a line keeps its blanks."""
    found: list[tuple[str, list[str]]] = []
    for line in sheet_lines(brief, answer):
        if line.startswith(" "):
            found[-1][1].append(line.strip())
        elif line:
            found.append((line, []))
    return found


def sheet_lines(brief: Brief, answer: Plan) -> list[str]:
    """Return the answer line by line: headings at the margin, what belongs to them indented."""
    lines = [_heading(brief), ""]
    if answer.chosen is not None:
        lines += _offer(brief, answer.options[answer.chosen])
    others = [offer for number, offer in enumerate(answer.options) if number != answer.chosen]
    if others:
        lines += ["", "Other layouts", *(f"  {_in_short(brief, offer)}" for offer in others)]
    if answer.problems:
        lines += ["", "To settle", *(line for problem in answer.problems for line in _problem(problem))]
    return lines


def _wrapped(line: str) -> list[str]:
    indent = " " * (len(line) - len(line.lstrip()))
    return wrap(line, WIDTH, subsequent_indent=indent + "  ", break_on_hyphens=False) or [""]


def _heading(brief: Brief) -> str:
    kept = f", {_count(brief.buffer, 'day')} kept free before it" if brief.buffer else ""
    return f"{_count(len(brief.bag.garments), 'garment')}, needed by {_day(brief.due)}{kept}."


def _offer(brief: Brief, offer: Offer) -> Iterator[str]:
    quilt = offer.layout.quilt
    yield f"{_size(brief, quilt.size)}, before the first wash: {_made_of(brief, offer.layout)}"
    if offer.layout.verdict:
        yield f"  {offer.layout.verdict}"
    for note in offer.layout.notes:
        yield f"  {note}"
    for left in offer.layout.left_out:
        yield f"  {left.piece} is left out. {left.reason}"
    yield ""
    yield from _date(brief, offer)
    yield ""
    yield from _price(offer)
    yield ""
    yield from _work(brief, offer)
    yield ""
    yield from _cloth(brief, offer)
    yield ""
    yield from _iron(brief, offer)
    yield from ("", "Mind", *_cautions(brief, offer))


def _made_of(brief: Brief, layout: Layout) -> str:
    quilt = layout.quilt
    sizes = sorted({cell.at.size for cell in quilt.cells})
    counts = [sum(cell.at.size == size for cell in quilt.cells) for size in sizes]
    parts = [f"{_count(n, 'block')} of {_size(brief, size)}" for n, size in zip(counts, sizes, strict=True)]
    if quilt.sashing:
        corners = " with cornerstones" if quilt.sashing.cornerstones else ""
        parts.append(f"sashing {show_length(quilt.sashing.width, unit=brief.unit)}{corners}")
    if quilt.borders:
        parts.append(_count(len(quilt.borders), "border"))
    return ", ".join(parts)


def _date(brief: Brief, offer: Offer) -> Iterator[str]:
    promised = offer.promise
    yield "Date"
    if not isinstance(promised, Promise):
        yield "  No day can be named yet."
        return
    fits, first = (_date_of(brief, day) for day in (promised.day, promised.not_before))
    yield f"  Fits by {_day(fits)}; cannot be before {_day(first)}."
    room = (brief.due - timedelta(days=brief.buffer) - fits).days
    yield (f"  {_count(room, 'day')} to spare." if room >= 0 else f"  {_count(-room, 'day')} too late.")
    if promised.undisturbed is not None and promised.undisturbed > promised.day:
        yield f"  Moving nothing already planned, it is {_day(_date_of(brief, promised.undisturbed))}."
    if offer.why_not_earlier:
        yield f"  {offer.why_not_earlier}"


def _price(offer: Offer) -> Iterator[str]:
    pricing = offer.pricing
    yield "Price"
    for line in pricing.lines:
        yield f"  {line.words:<32}{show_money(line.amount):>16}"
    for tax in pricing.taxes:
        yield f"  {tax.words + (' (in the price)' if tax.inclusive else ''):<32}{show_money(tax.amount):>16}"
    yield f"  {'Total':<32}{show_money(pricing.total):>16}"
    if pricing.deposit.minor:
        rest = ", ".join(show_money(each) for each in pricing.instalments)
        yield f"  Deposit {show_money(pricing.deposit)}, then {rest}."
    if pricing.hour is not None and pricing.wage is not None:
        hour, wage = show_money(pricing.hour), show_money(pricing.wage)
        yield f"  Keep to yourself: it brings {hour} an hour, {wage} after overhead."


def _work(brief: Brief, offer: Offer) -> Iterator[str]:
    whole = [garment.id for garment in brief.bag.garments]
    minutes = sum(each.minutes for each in offer.minutes)
    yield f"Work: {_hours(minutes)}" + (", quilting goes out" if offer.goes_out else "")
    stages = [f"{each.stage} {each.minutes}" for each in offer.minutes if each.minutes]
    yield f"  minutes: {' · '.join(stages)}"
    for number, load in enumerate(offer.loads, start=1):
        yield f"  load {number}, {load.programme}: {_named(load.garments, whole)}. {' '.join(load.cautions)}"


def _cloth(brief: Brief, offer: Offer) -> Iterator[str]:
    yield "Cloth"
    quilt = offer.layout.quilt
    for id in sorted({quilt.cloth[role] for role in offer.cuts}):
        roles = [role for role in offer.cuts if quilt.cloth[role] == id]
        yield f"  {id} ({', '.join(roles)}): {_cut(brief, offer.cuts[roles[0]])}"
    for backing in offer.backing[:2]:
        panels = "one piece" if backing.way == "whole" else f"{backing.panels} panels {backing.way}"
        yield f"  backing, {backing.cloth}: {panels}, {_length(brief, backing)}"
    for batting in offer.batting[:1]:
        size = _length(brief, batting) if batting.length else _size(brief, batting.size)
        yield f"  batting, {batting.cloth}: {size}"
    for kind in sorted({each.way for each in offer.interfacing}):
        first = next(each for each in offer.interfacing if each.way == kind)
        of = f" of {kind}" if kind != first.cloth else ""
        yield f"  interfacing, {first.cloth}: {_count(first.pieces, 'panel')}{of}, {_length(brief, first)}"


def _cut(brief: Brief, plan: CutPlan) -> str:
    bought = "nothing to buy" if not plan.buy else f"buy {_long(brief, plan.buy)}"
    if plan.buy and not plan.proved:
        bought += f" (never under {_long(brief, plan.bound)} this way)"
    return f"{_count(len(plan.strips), 'strip')}, {show_length(plan.used, unit=brief.unit)} in all, {bought}"


def _iron(brief: Brief, offer: Offer) -> Iterator[str]:
    yield "At the iron, coolest first (try a corner that will be cut away; the care label comes first)"
    unit = "F" if brief.unit == "in" else "C"
    for batch in offer.presses:
        yield f"  {show_heat(batch.heat, unit=unit):>8}, {batch.cover}: {', '.join(batch.pieces)}"


def _cautions(brief: Brief, offer: Offer) -> Iterator[str]:
    said: dict[str, list[str]] = {}
    for cut in offer.shirts:
        piece = brief.bag.piece(cut.piece)
        for caution in needs(brief.bag.garment(piece.garment), piece).cautions:
            said.setdefault(caution, []).append(piece.id)
    yield "  Rotary cutter: close the blade at every rest, cut away from you, fingers off the ruler's edge."
    whole = [cut.piece for cut in offer.shirts]
    for caution, pieces in said.items():
        yield f"  {_named(pieces, whole)}: {caution}"


def _named(ids: Collection[str], whole: Collection[str]) -> str:
    """Name them all, or say which few of the whole are not meant."""
    others = sorted(set(whole) - set(ids))
    if len(ids) > 1 and not others:
        return f"all {len(ids)}"
    if len(ids) > 6 and len(others) <= 3:
        return f"all but {', '.join(others)}"
    return ", ".join(sorted(ids))


def _in_short(brief: Brief, offer: Offer) -> str:
    promised = offer.promise
    day = f", fits by {_day(_date_of(brief, promised.day))}" if isinstance(promised, Promise) else ""
    blocks = _count(len(offer.layout.quilt.cells), "block")
    return f"{_size(brief, offer.layout.quilt.size)}, {blocks}, {show_money(offer.pricing.total)}{day}"


def _problem(problem: Problem) -> Iterator[str]:
    yield f"  ! {problem.what}"
    if problem.change:
        yield f"    {problem.change}"


def _size(brief: Brief, size: Size) -> str:
    across = show_length(size.width, unit=brief.unit, rounding="nearest")
    down = show_length(size.height, unit=brief.unit, rounding="nearest")
    return f"{across.removesuffix(' ' + brief.unit)} × {down}"


def _long(brief: Brief, ticks: int) -> str:
    return show_length(ticks, unit="yd" if brief.unit == "in" else "m", rounding="up")


def _length(brief: Brief, option: BackingOption | BattingOption | InterfacingOption) -> str:
    bought = f"buy {_long(brief, option.buy)}" if option.buy else "on the shelf"
    return f"{show_length(option.length, unit=brief.unit)} long, {bought}"


def _date_of(brief: Brief, day: int) -> date:
    return brief.work.date_of(day)


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def _hours(minutes: int) -> str:
    return f"{minutes // 60} h {minutes % 60:02d}"


def _count(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")
