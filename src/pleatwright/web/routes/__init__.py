"""The pages by what they are about; each module has one router."""

from pleatwright.web import table
from pleatwright.web.routes import (
    check,
    clients,
    closing,
    cloth,
    compare,
    day,
    drafts,
    files,
    measures,
    options,
    orders,
    pair,
    plan,
    quote,
    sewing,
    shop,
    stock,
    tartan,
    tartans,
)

ROUTERS = (
    day.router,
    pair.router,
    orders.router,
    drafts.router,
    measures.router,
    tartan.router,
    cloth.router,
    options.router,
    compare.router,
    plan.router,
    table.router,
    check.router,
    sewing.router,
    closing.router,
    quote.router,
    files.router,
    clients.router,
    stock.router,
    tartans.router,
    shop.router,
)
"""Every page of the app."""
