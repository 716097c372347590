"""Answer a brief written as a file: layouts, cloth, price and date."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from orders.papers.plan import plan_paper
from orders.quilt.plan_sheet import plan_sheet
from planner.brief import Brief, as_json, read_brief
from planner.plan import Plan, plan
from planner.problems import BadInput, Limit

DONE, WITH_PROBLEMS, BAD_BRIEF = 0, 1, 2


class Command(BaseCommand):
    help = "Example: manage.py plan_brief docs/briefs/ferncliff-throw.json --today 2027-03-15"
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="a brief in JSON; - reads it from standard input")
        parser.add_argument("--json", action="store_true", help="answer in JSON")
        parser.add_argument("--pdf", metavar="OUT", help="also write the answer as a paper to this file")
        parser.add_argument("--today", help="the shop's day, such as 2027-03-15 (today in UTC if not given)")
        parser.add_argument("--effort", type=int, default=200, help="how many plans a search may try")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            brief = read_brief(parsed(options["file"]))
            limit = Limit(effort=options["effort"])
            answer = plan(brief, today=shop_day(options["today"]), limit=limit)
        except BadInput as fault:
            raise CommandError(str(fault), returncode=BAD_BRIEF) from fault
        self.stdout.write(written(brief, answer) if options["json"] else plan_sheet(brief, answer))
        if options["pdf"]:
            write_pdf(brief, answer, Path(options["pdf"]), on=shop_day(options["today"]))
        if answer.problems:
            sys.exit(WITH_PROBLEMS)


def parsed(name: str) -> object:
    """Return the file as parsed JSON; what cannot be read is a bad brief."""
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as fault:
        raise BadInput("file", f"cannot be read: {fault}") from fault
    try:
        return json.loads(text, object_pairs_hook=_each_name_once)
    except BadInput:
        raise
    except (ValueError, RecursionError) as fault:
        raise BadInput("file", f"is not JSON: {fault}") from fault


def _each_name_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    names = [name for name, _ in pairs]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise BadInput("file", f"names “{twice[0]}” twice in one object; one of the two would be lost.")
    return dict(pairs)


def write_pdf(brief: Brief, answer: Plan, file: Path, *, on: date) -> None:
    """Write the answer as a paper; letter where lengths are inches, A4 elsewhere."""
    try:
        file.write_bytes(plan_paper(brief, answer, on=on))
    except OSError as fault:
        raise CommandError(f"The paper cannot be written: {fault}", returncode=BAD_BRIEF) from fault


def shop_day(written: str | None) -> date:
    """Return the day given, or today in UTC: a brief names no place with a clock."""
    if written is None:
        return timezone.localdate()
    try:
        return date.fromisoformat(written)
    except ValueError as fault:
        raise BadInput("today", f"“{written}” is not a day like 2027-03-15.") from fault


def written(brief: Brief, answer: Plan) -> str:
    """Return the answer as JSON, with unit, currency and the calendar's first day on top."""
    top = {"unit": brief.unit, "currency": brief.currency, "origin": brief.work.origin}
    return json.dumps(as_json(top) | as_json(answer), ensure_ascii=False, indent=1)
