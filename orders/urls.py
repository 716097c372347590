"""Addresses of the shop's pages, grouped by the thing they belong to."""

from django.urls import path

from orders.views import health, papers, photos, quilt, sign_in

urlpatterns = [
    path("", sign_in.home, name="home"),
    # the door
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    # photos
    path("photos/<int:number>/<int:size>.jpg", photos.picture, name="photo"),
    path("photos/<int:number>/<int:size>/", photos.part, name="photo-part"),
    # the Quilt room
    path("quilts/<int:number>/quilt/", quilt.quilt, name="order-quilt"),
    # papers
    path("papers/<int:number>.pdf", papers.paper, name="paper"),
    # the machine
    path("healthz", health.health, name="health"),
]
