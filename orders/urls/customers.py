"""Addresses of customers, and of the files that are made to be taken away."""

from django.urls import path

from orders.views import customers, taken

paths = [
    path("customers/", customers.customers, name="customer-list"),
    path("customers/<int:pk>/", customers.customer, name="customer"),
    path("customers/<int:pk>/file/", customers.file, name="customer-file"),
    path("customers/<int:pk>/forgetting/", customers.forget, name="customer-forgetting"),
    path("take-along/", taken.take_along, name="workroom-take-along"),
    path("taken/<int:pk>.zip", taken.fetch, name="taken-file"),
]
