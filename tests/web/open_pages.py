"""Browser contexts that are open: a server that ends first closes its pages, which would else ask it in vain.

A module of its own, because pytest holds the conftest of a folder twice where tests import from it.
"""

CONTEXTS = []


def close_pages_of(port):
    """Close every page that a server on this port has given."""
    for page in [page for context in CONTEXTS for page in context.pages]:
        if f":{port}/" in page.url:
            page.close()
