"""Addresses of the site; the shop's own are in orders/urls/."""

from django.urls import include, path

urlpatterns = [path("", include("orders.urls"))]

handler400 = "orders.views.faults.bad_request"
handler403 = "orders.views.faults.not_allowed"
handler404 = "orders.views.faults.not_here"
handler500 = "orders.views.faults.fault"
