"""A paper, opened or still in the press."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from orders import papers
from orders.models import Paper
from orders.views.callers import HELPER, OWNER, open_to

FOR_HELPERS = (
    Paper.Kind.CUT_LIST,
    Paper.Kind.CLOTH_CUTS,
    Paper.Kind.QUILTER,
    Paper.Kind.CARE,
    Paper.Kind.TAGS,
    Paper.Kind.STOP,
)


@require_safe
@open_to(OWNER, HELPER)
def paper(request: HttpRequest, number: int) -> HttpResponse:
    """Show the PDF; while it is being made, a page that looks again by itself."""
    found = get_object_or_404(Paper.objects.select_related("order"), number=number)
    if getattr(request.user, "role", None) != OWNER and found.kind not in FOR_HELPERS:
        raise Http404
    pdf = papers.bytes_of(found)
    if pdf is None:
        reason = papers.why_none(found)
        waiting = render(request, "papers/waiting.html", {"paper": found, "reason": reason}, status=202)
        if not reason:
            waiting["Refresh"] = "2"
        return waiting
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{found.kind.replace(" ", "-")}-{found.number}.pdf"'
    return answer
