"""Addresses of the shop's pages, grouped by the thing they belong to."""

from django.urls import path

from orders.views import health, sign_in

urlpatterns = [
    path("", sign_in.home, name="home"),
    # the door
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    # the machine
    path("healthz", health.health, name="health"),
]
