"""The shop's records, verbs and screens."""

from django.apps import AppConfig


class OrdersConfig(AppConfig):
    name = "orders"

    def ready(self) -> None:
        from orders import checks  # noqa: F401  importing registers them
