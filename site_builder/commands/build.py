"""Build dist/."""

import argparse
from urllib.parse import urlsplit

from site_builder.building import site
from site_builder.reading.faults import ContentFault
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.stamps import alone


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder build", description=__doc__)
    says = "https address of the folder it will be published in: the poster gets a QR code that leads there"
    parser.add_argument("--address", type=published_address, help=says)
    asked = parser.parse_args(arguments)
    try:
        with alone(__file__):
            site.build(DIST, asked.address or "")
    except ContentFault as fault:
        raise SetUpFailed(f"Nothing was built. {fault}") from fault
    return 0


def published_address(typed: str) -> str:
    """Return the address of the folder in which the site is published, with a slash at its end.

    Raises:
        argparse.ArgumentTypeError: a phone could not keep Fieldslate from there.
    """
    parts = urlsplit(typed.strip())
    if parts.scheme != "https" or not parts.hostname:
        raise argparse.ArgumentTypeError("begin it with https:// and the host. From elsewhere a phone cannot keep Fieldslate")
    if parts.query or parts.fragment or parts.path.endswith(".html"):
        raise argparse.ArgumentTypeError("give the folder alone, without a page and without what stands behind ? or #")
    return f"https://{parts.netloc}{parts.path.rstrip('/')}/"
