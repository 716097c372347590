from typing import Any

from django.db import migrations

from orders import guards


def install(apps: Any, schema_editor: Any) -> None:
    guards.install(schema_editor.connection)


def remove(apps: Any, schema_editor: Any) -> None:
    guards.remove(schema_editor.connection)


class Migration(migrations.Migration):
    dependencies = [("orders", "0002_shop")]
    operations = [migrations.RunPython(install, remove)]
