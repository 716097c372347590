"""Addresses of the customer's own page."""

from django.urls import path

from orders.views import for_you, for_you_cut, for_you_label, for_you_pictures

urlpatterns = [
    path("", for_you.page, name="for-you"),
    path("price/", for_you.price, name="for-you-price"),
    path("picture/", for_you.picture, name="for-you-picture"),
    path("wish/", for_you.wish, name="for-you-wish"),
    path("label/", for_you_label.label, name="for-you-label"),
    path("cut/", for_you_cut.page, name="for-you-cut"),
    path("cut/pile/", for_you_cut.pile, name="for-you-cut-pile"),
    path("cut/<int:pk>/", for_you_cut.one, name="for-you-cut-one"),
    path("cut/photos/<int:number>/<int:size>.webp", for_you_cut.photo, name="for-you-cut-photo"),
    path("photos/<int:number>/<int:size>.webp", for_you_pictures.photo, name="for-you-photo"),
    path("picture/<int:number>.webp", for_you_pictures.whole, name="for-you-whole"),
    path("<str:token>/", for_you.open_link, name="for-you-open"),
]
