"""Addresses of the shop's pages, grouped by the thing they belong to."""

from django.urls import path

from orders.views import (
    account,
    bag,
    bench,
    books,
    demo,
    enquiry,
    for_you,
    hand_over,
    health,
    links,
    papers,
    payments,
    photos,
    quilt,
    quilt_cloth,
    quilt_yes,
    quilts,
    quotes,
    set_up,
    shelf,
    shirts,
    sign_in,
    stages,
    today,
    weeks,
)

urlpatterns = [
    path("", today.today, name="today"),
    # the door
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    # an empty shop
    path("set-up/", set_up.set_up, name="set-up"),
    path("set-up/owner/", set_up.first_owner, name="first-owner"),
    # the made-up shop
    path("demo/opening/", demo.opening, name="demo-opening"),
    path("demo/closing/", demo.closing, name="demo-closing"),
    # photos
    path("photos/<int:number>/<int:size>.jpg", photos.picture, name="photo"),
    path("photos/<int:number>/<int:size>/", photos.part, name="photo-part"),
    # enquiries
    path("enquiries/new/", enquiry.new, name="new-enquiry"),
    path("enquiries/<int:pk>/", enquiry.enquiry, name="enquiry"),
    path("enquiries/<int:pk>/answer/", enquiry.answer, name="enquiry-answer"),
    path("enquiries/<int:pk>/pencil/", enquiry.pencil, name="enquiry-pencil"),
    path("enquiries/<int:pk>/eraser/", enquiry.eraser, name="enquiry-eraser"),
    path("enquiries/<int:pk>/decline/", enquiry.decline, name="enquiry-decline"),
    path("enquiries/<int:pk>/reopening/", enquiry.reopening, name="enquiry-reopening"),
    path("enquiries/<int:pk>/order/", enquiry.order, name="enquiry-order"),
    # the Bag room
    path("quilts/<int:number>/bag/", bag.bags, name="order-bag"),
    path("quilts/<int:number>/bag/arrival/", bag.arrival, name="bag-arrival"),
    path("quilts/<int:number>/bag/sharing/", bag.sharing, name="bag-sharing"),
    path("quilts/<int:number>/bag/log/", shirts.log, name="order-log"),
    path("quilts/<int:number>/bag/<int:pk>/", bag.bag, name="bag"),
    path("quilts/<int:number>/bag/<int:pk>/receipt/", bag.receipt, name="bag-receipt"),
    path("quilts/<int:number>/shirts/<int:shirt>/", shirts.shirt, name="shirt"),
    path("quilts/<int:number>/shirts/<int:shirt>/panels/", shirts.panels, name="shirt-panels"),
    path("quilts/<int:number>/shirts/<int:shirt>/panels/<slug:side>/", shirts.panel, name="shirt-panel"),
    path("quilts/<int:number>/shirts/<int:shirt>/photos/", shirts.photos, name="shirt-photos"),
    path("quilts/<int:number>/shirts/<int:shirt>/return/", shirts.giving_back, name="shirt-return"),
    path("quilts/<int:number>/shirts/<int:shirt>/absence/", shirts.absence, name="shirt-absence"),
    path("quilts/<int:number>/shirts/<int:shirt>/finding/", shirts.finding, name="shirt-finding"),
    # the shelf
    path("shelf/", shelf.shelf, name="shelf"),
    path("shelf/new/", shelf.new, name="cloth-new"),
    path("shelf/<int:pk>/", shelf.cloth, name="cloth"),
    path("shelf/<int:pk>/pieces/", shelf.pieces, name="cloth-pieces"),
    path("shelf/<int:pk>/pieces/<int:piece>/end/", shelf.piece_end, name="cloth-piece-end"),
    path("shelf/<int:pk>/pieces/<int:piece>/back/", shelf.piece_back, name="cloth-piece-back"),
    path("shelf/<int:pk>/away/", shelf.away, name="cloth-away"),
    path("shelf/<int:pk>/back/", shelf.back, name="cloth-back"),
    # the Quilt room
    path("quilts/<int:number>/quilt/", quilt.quilt, name="order-quilt"),
    path("quilts/<int:number>/quilt/wish/", quilt.wish, name="order-quilt-wish"),
    path("quilts/<int:number>/quilt/layout/", quilt.layout, name="order-quilt-layout"),
    path("quilts/<int:number>/quilt/trade/", quilt.trade, name="order-quilt-trade"),
    path("quilts/<int:number>/quilt/turn/", quilt.turn, name="order-quilt-turn"),
    path("quilts/<int:number>/quilt/leaving-out/", quilt.leaving_out, name="order-quilt-leaving-out"),
    path("quilts/<int:number>/quilt/bringing-back/", quilt.bringing_back, name="order-quilt-bringing-back"),
    path("quilts/<int:number>/quilt/undoing/", quilt.undoing, name="order-quilt-undoing"),
    path("quilts/<int:number>/quilt/picture.jpg", quilt.picture, name="order-quilt-picture"),
    path("quilts/<int:number>/quilt/cloth/", quilt_cloth.cloth, name="order-quilt-cloth"),
    path(
        "quilts/<int:number>/quilt/setting-aside/",
        quilt_cloth.setting_aside,
        name="order-quilt-setting-aside",
    ),
    path("quilts/<int:number>/quilt/question/", quilt_yes.question, name="order-quilt-question"),
    path("quilts/<int:number>/quilt/yes-to-cut/", quilt_yes.yes_to_cut, name="order-quilt-yes-to-cut"),
    path(
        "quilts/<int:number>/quilt/yes-to-picture/",
        quilt_yes.yes_to_picture,
        name="order-quilt-yes-to-picture",
    ),
    path("quilts/<int:number>/quilt/withdrawal/", quilt_yes.withdrawal, name="order-quilt-withdrawal"),
    # all quilts, and the weeks they fill
    path("quilts/", quilts.quilts, name="quilts"),
    path("weeks/", weeks.weeks, name="weeks"),
    path("weeks/days-off/", weeks.days_off, name="weeks-days-off"),
    path("weeks/days-off/<int:pk>/removal/", weeks.day_on, name="weeks-day-on"),
    # the Bench room
    path("quilts/<int:number>/bench/", bench.bench, name="order-bench"),
    path("quilts/<int:number>/bench/<slug:place>/", bench.pile, name="bench-pile"),
    path("quilts/<int:number>/bench/taken-back/<int:pk>/", stages.undo, name="bench-undo"),
    path("stages/<int:pk>/start/", stages.start, name="stage-start"),
    path("stages/<int:pk>/pause/", stages.pause, name="stage-pause"),
    path("stages/<int:pk>/finish/", stages.finish, name="stage-finish"),
    path("stages/<int:pk>/pin/", stages.pin, name="stage-pin"),
    # the Account room
    path("quilts/<int:number>/account/", account.account, name="order-account"),
    path("quilts/<int:number>/account/lines/", quotes.line, name="order-line"),
    path(
        "quilts/<int:number>/account/lines/<int:pk>/removal/", quotes.line_removal, name="order-line-removal"
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
    path(
        "quilts/<int:number>/account/payments/<int:receipt>/reversal/",
        payments.reversal,
        name="order-payment-reversal",
    ),
    path("quilts/<int:number>/account/links/", links.link, name="order-link"),
    path("quilts/<int:number>/account/links/<int:pk>/closing/", links.closing, name="order-link-closing"),
    path("quilts/<int:number>/hand-over/", hand_over.hand_over, name="order-hand-over"),
    # the books
    path("books/", books.books, name="books"),
    path("books/<slug:month_name>.csv", books.entries, name="books-entries"),
    # the customer's page
    path("for-you/", for_you.page, name="for-you"),
    path("for-you/price/", for_you.price, name="for-you-price"),
    path("for-you/picture/", for_you.picture, name="for-you-picture"),
    path("for-you/wish/", for_you.wish, name="for-you-wish"),
    path("for-you/photos/<int:number>/<int:size>.jpg", for_you.photo, name="for-you-photo"),
    path("for-you/<str:token>/", for_you.open_link, name="for-you-open"),
    # papers
    path("papers/<int:number>.pdf", papers.paper, name="paper"),
    # the machine
    path("healthz", health.health, name="health"),
]
