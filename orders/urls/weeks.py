"""Addresses of the weeks: what fills them, the calendar they follow, and what is supposed."""

from django.urls import path

from orders.views import calendar, supposing, trips, weeks

urlpatterns = [
    path("", weeks.weeks, name="weeks"),
    path("days-off/", weeks.days_off, name="weeks-days-off"),
    path("days-off/<int:pk>/removal/", weeks.day_on, name="weeks-day-on"),
    path("changes/<int:pk>/undoing/", weeks.undoing, name="weeks-change-undoing"),
    path("week/<str:monday>/", weeks.sheet, name="weeks-sheet"),
    path("week/<str:monday>/closing/", weeks.closing, name="weeks-closing"),
    path("week/<str:monday>/opening/", weeks.opening, name="weeks-opening"),
    # the calendar
    path("calendar/", calendar.calendar, name="weeks-calendar"),
    path("calendar/overtime/", calendar.overtime, name="weeks-overtime"),
    path("calendar/overtime/<int:pk>/removal/", calendar.overtime_removal, name="weeks-overtime-removal"),
    path("calendar/holidays/", calendar.holidays, name="weeks-holidays"),
    path("calendar/planned/", calendar.planned, name="weeks-planned"),
    path("calendar/visits/", calendar.visits, name="weeks-visits"),
    path("calendar/visits/<int:pk>/moment/", calendar.visit_moment, name="weeks-visit-moment"),
    path("calendar/visits/<int:pk>/coming/", calendar.visit_coming, name="weeks-visit-coming"),
    path("calendar/visits/<int:pk>/removal/", calendar.visit_removal, name="weeks-visit-removal"),
    path("calendar/feed/", calendar.feed, name="weeks-feed"),
    path("calendar/feed/closing/", calendar.feed_closing, name="weeks-feed-closing"),
    path("calendar/trips/", trips.send, name="weeks-trips"),
    path("calendar/trips/<int:pk>/expected/", trips.expected, name="weeks-trip-expected"),
    path("calendar/trips/<int:pk>/arrival/", trips.arrival, name="weeks-trip-arrival"),
    path("calendar/outside/new/", trips.new, name="weeks-outside-new"),
    path("calendar/outside/<int:pk>/", trips.outside, name="weeks-outside"),
    path("calendar/outside/<int:pk>/leave/", trips.leave, name="weeks-outside-leave"),
    path(
        "calendar/outside/<int:pk>/closed/<str:first>/removal/", trips.opening, name="weeks-outside-opening"
    ),
    # if…
    path("if/", supposing.suppose, name="weeks-if"),
    path("if/asking/", supposing.asking, name="weeks-if-asking"),
    path("if/progress/", supposing.progress, name="weeks-if-progress"),
    path("if/putting-away/", supposing.putting_away, name="weeks-if-putting-away"),
    path("if/<int:pk>/doing/", supposing.doing, name="weeks-if-doing"),
]
