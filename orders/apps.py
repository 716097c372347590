"""The shop's records, verbs and screens."""

from django.apps import AppConfig
from django.db.backends.signals import connection_created


class OrdersConfig(AppConfig):
    name = "orders"

    def ready(self) -> None:
        from orders import checks  # noqa: F401  importing registers them
        from orders.connections import refuse_careless

        connection_created.connect(refuse_careless)
