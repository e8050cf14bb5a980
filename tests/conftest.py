"""What tests of several packages share: the system's own browser, and pages that must stay silent."""

from __future__ import annotations

import pytest


@pytest.fixture(scope="session")
def browser():
    """The system's own Chromium; `bench.test` stands for the bench on the network, an insecure origin."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium",
            args=[
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--disable-quic",
                "--host-resolver-rules=MAP bench.test 127.0.0.1",
            ],
        )
        yield browser
        browser.close()
