"""Build dist/."""

import argparse

from site_builder.building import site
from site_builder.building.poster import published_address
from site_builder.reading.faults import ContentFault
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.failures import SetUpFailed


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder build", description=__doc__)
    says = "https address of the folder it will be published in: the poster gets a QR code that leads there"
    parser.add_argument("--address", type=published_address, help=says)
    asked = parser.parse_args(arguments)
    try:
        site.build(DIST, asked.address or "")
    except ContentFault as fault:
        raise SetUpFailed(f"Nothing was built. {fault}") from fault
    return 0
