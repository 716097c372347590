"""Addresses of the Account room and of the books."""

from __future__ import annotations

from django.urls import path

from orders.views import (
    account,
    books,
    certificates,
    hand_over,
    her_page,
    ledger,
    links,
    messages,
    papers_to_make,
    payments,
    quotes,
    who_pays,
)

paths = [
    path("quilts/<int:number>/account/", account.account, name="order-account"),
    path("quilts/<int:number>/account/lines/", quotes.line, name="order-line"),
    path(
        "quilts/<int:number>/account/lines/<int:pk>/removal/", quotes.line_removal, name="order-line-removal"
    ),
    path("quilts/<int:number>/account/hours/", quotes.hours, name="order-hours"),
    path("quilts/<int:number>/account/parts/", quotes.parts, name="order-parts"),
    path("quilts/<int:number>/account/exemption/", quotes.exemption, name="order-exemption"),
    path(
        "quilts/<int:number>/account/exemption/removal/",
        quotes.exemption_removal,
        name="order-exemption-removal",
    ),
    path("quilts/<int:number>/account/quotes/", quotes.issue, name="order-quote"),
    path(
        "quilts/<int:number>/account/quotes/<int:version>/acceptance/",
        quotes.acceptance,
        name="order-quote-acceptance",
    ),
    path(
        "quilts/<int:number>/account/quotes/<int:version>/withdrawal/",
        quotes.withdrawal,
        name="order-quote-withdrawal",
    ),
    path("quilts/<int:number>/account/payments/", payments.payment, name="order-payment"),
    path("quilts/<int:number>/account/payments/together/", payments.together, name="order-payment-together"),
    path(
        "quilts/<int:number>/account/payments/<int:receipt>/reversal/",
        payments.reversal,
        name="order-payment-reversal",
    ),
    path("quilts/<int:number>/account/day-to-keep-off/", hand_over.keep_off, name="order-keep-off"),
    path(
        "quilts/<int:number>/account/payments/<int:receipt>/giving-back/",
        ledger.giving,
        name="order-giving-back",
    ),
    path("quilts/<int:number>/account/payments/<int:receipt>/bounce/", ledger.bounce, name="order-bounce"),
    path("quilts/<int:number>/account/added/", ledger.added, name="order-added"),
    path("quilts/<int:number>/account/credits/", ledger.credit, name="order-credit"),
    path("quilts/<int:number>/account/tips/", ledger.tip, name="order-tip"),
    path("quilts/<int:number>/account/write-off/", ledger.write_off, name="order-write-off"),
    path("quilts/<int:number>/account/proposals/<slug:noun>/", ledger.proposal, name="order-proposal"),
    path(
        "quilts/<int:number>/account/entries/<int:pk>/reversal/",
        ledger.entry_reversal,
        name="order-entry-reversal",
    ),
    path("quilts/<int:number>/account/calling-off/", ledger.calling_off, name="order-calling-off"),
    path("quilts/<int:number>/account/links/", links.link, name="order-link"),
    path("quilts/<int:number>/account/links/<int:pk>/closing/", links.closing, name="order-link-closing"),
    path("quilts/<int:number>/account/messages/", messages.message, name="order-message"),
    path("quilts/<int:number>/account/payers/", who_pays.who_pays, name="order-payers"),
    path("quilts/<int:number>/account/pause/", who_pays.pause, name="order-pause"),
    path("quilts/<int:number>/account/going-on/", who_pays.going_on, name="order-going-on"),
    path("quilts/<int:number>/account/people/", her_page.people_of, name="order-people"),
    path("quilts/<int:number>/account/papers/<slug:noun>/", papers_to_make.make, name="order-paper"),
    path(
        "quilts/<int:number>/account/unclaimed-notice/",
        papers_to_make.unclaimed,
        name="order-unclaimed-notice",
    ),
    path("quilts/<int:number>/hand-over/", hand_over.hand_over, name="order-hand-over"),
    # the books
    path("books/", books.books, name="books"),
    path("books/certificates/", certificates.certificates, name="books-certificates"),
    path("books/<slug:month_name>.csv", books.entries, name="books-entries"),
]
