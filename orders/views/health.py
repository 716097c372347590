"""A word for whoever watches over the machine."""

from django.db import DatabaseError, connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from orders.views.callers import ANYONE, open_to


@require_safe
@open_to(ANYONE)
def health(request: HttpRequest) -> HttpResponse:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT count(*) FROM orders_person")
    except DatabaseError:
        return HttpResponse("The database does not answer.\n", status=503, content_type="text/plain")
    return HttpResponse("ok\n", content_type="text/plain")
