"""A word for whoever watches over the machine."""

from django.db import DatabaseError, connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from orders.background import runner
from orders.views.callers import ANYONE, open_to

PLAIN = "text/plain; charset=utf-8"


@require_safe
@open_to(ANYONE)
def health(request: HttpRequest) -> HttpResponse:
    if not database_answers():
        return unwell("The database does not answer.")
    if runner.has_stopped():
        return unwell("The errands have stopped. Start the site anew.")
    return HttpResponse("ok\n", content_type=PLAIN)


def database_answers() -> bool:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT count(*) FROM orders_person")
    except DatabaseError:
        return False
    return True


def unwell(sentence: str) -> HttpResponse:
    return HttpResponse(f"{sentence}\n", status=503, content_type=PLAIN)
