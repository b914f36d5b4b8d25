"""Build dist/."""

from site_builder.building import site
from site_builder.reading.faults import ContentFault
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.failures import SetUpFailed


def run(arguments: list[str]) -> int:
    try:
        site.build(DIST)
    except ContentFault as fault:
        raise SetUpFailed(f"Nothing was built. {fault}") from fault
    return 0
