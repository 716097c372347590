"""A view that says "ok" behind Django's seven stock middlewares: what pages are measured against."""

from __future__ import annotations

import django
from django.conf import settings
from django.core.handlers.wsgi import WSGIHandler
from django.http import HttpRequest, HttpResponse
from django.urls import path


def bare(request: HttpRequest) -> HttpResponse:
    return HttpResponse("ok")


urlpatterns = [path("bare/", bare)]

if not settings.configured:
    settings.configure(
        ROOT_URLCONF=__name__,
        SECRET_KEY="of no use",
        ALLOWED_HOSTS=["127.0.0.1"],
        INSTALLED_APPS=["django.contrib.auth", "django.contrib.contenttypes", "django.contrib.sessions"],
        MIDDLEWARE=[
            "django.middleware.security.SecurityMiddleware",
            "django.contrib.sessions.middleware.SessionMiddleware",
            "django.middleware.common.CommonMiddleware",
            "django.middleware.csrf.CsrfViewMiddleware",
            "django.contrib.auth.middleware.AuthenticationMiddleware",
            "django.contrib.messages.middleware.MessageMiddleware",
            "django.middleware.clickjacking.XFrameOptionsMiddleware",
        ],
    )
    django.setup()
application = WSGIHandler()
