"""Addresses of the words to customers, and of quilts on their way home."""

from __future__ import annotations

from django.urls import path

from orders.views import going, words

paths = [
    path("quilts/<int:number>/account/words/", words.words, name="order-words"),
    path("quilts/<int:number>/account/words/mail/", words.mail, name="order-words-mail"),
    path("quilts/<int:number>/account/words/said/", words.went, name="order-words-said"),
    path("enquiries/<int:pk>/mail/", words.enquiry_mail, name="enquiry-mail"),
    path("mails/<int:pk>/taking-back/", words.taking_back, name="mail-taking-back"),
    path("mails/<int:pk>/attempt/", words.again, name="mail-attempt"),
    path("mails/<int:pk>/putting-away/", words.seen, name="mail-putting-away"),
    # on its way home
    path("quilts/<int:number>/hand-over/way/", going.way, name="order-way-home"),
    path("quilts/<int:number>/hand-over/parcel/", going.parcel, name="order-parcel"),
    path("quilts/<int:number>/hand-over/parcel/number/", going.tracking, name="order-parcel-number"),
    path("quilts/<int:number>/hand-over/parcel/arrival/", going.arrival, name="order-parcel-arrival"),
    path("quilts/<int:number>/account/same-as/", going.same_as, name="order-same-as"),
]
