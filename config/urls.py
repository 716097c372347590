"""Addresses of the site; the shop's own are in orders/urls.py."""

from django.urls import include, path

urlpatterns = [path("", include("orders.urls"))]
