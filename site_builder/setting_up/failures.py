"""What to tell a person when a download failed: which package, why, and what to do, above what the program itself says."""

import re


class SetUpFailed(Exception):
    """Plain sentences for the person at the keyboard. `__main__` prints them; nothing else catches them."""


LINE_WIDTH = 200
# What the program's words hold, why it failed, and what to do. The first that fits wins: a lost connection is also followed by
# "no matching version", and a full disk may come after a lost connection that was mended.
REASONS = (
    (
        r"DO NOT MATCH THE HASHES|EINTEGRITY",
        "the file that came is not the one that the lock file names",
        "Do not go round it: something between here and the package index gives out another file. Try another network.",
    ),
    (r"No space left on device|ENOSPC", "the disk is full", "Make room, about 1 GB."),
    (r"Permission denied|EACCES|EPERM", "a file or folder may not be written", "Make the folder of Fieldslate your own."),
    (
        r"CERTIFICATE_VERIFY_FAILED|SELF_SIGNED_CERT|UNABLE_TO_(GET_ISSUER|VERIFY)|CERT_HAS_EXPIRED",
        "the certificate of the package index is not trusted on this machine",
        "Check the clock of this machine, and on a network with a proxy install its certificate.",
    ),
    (r"[Tt]imed out|TimeoutError|TIMEDOUT|SOCKET_TIMEOUT", "the package index took too long to answer", "Wait for a better connection."),
    (
        r"(?i)new connection|name ?resolution|service not known|unreach|connection (refused|reset|aborted)|Disconnected|ProxyError|ENOTFOUND|ECONN",
        "the package index cannot be reached from this machine",
        "Check the network connection, and the proxy if there is one.",
    ),
    (
        r"Failed (building|to build)|subprocess-exited-with-error|metadata-generation-failed",
        "there is no ready-made file of it for this machine and this Python, and making one failed",
        "Use another Python, from 3.11 to 3.14.",
    ),
    (
        r"No matching distribution|HTTP error 404|404 Client Error|E404|ETARGET",
        "the package index has no such version for this machine and this Python",
        "If your settings name a package index of your own, check that it has this version.",
    ),
    ("", "the lines below say why", "Put right what they say."),
)
# The last of these is the package that pip stopped at. npm names it in what it says.
PACKAGE = r"^(?:Collecting|ERROR: No matching distribution found for) ([\w.\-]+)==([\w.\-]+)"


def download_failed(program: str, output: str, meant: str) -> SetUpFailed:
    """Return what to tell about a `program` (pip, npm) that failed with this output while it fetched what was `meant`."""
    why, remedy = next((why, remedy) for signs, why, remedy in REASONS if re.search(signs, output))
    stopped_at = [" ".join(named) for named in re.findall(PACKAGE, output, re.MULTILINE)]
    return SetUpFailed(
        f"Fieldslate is not set up yet: {program} could not install {stopped_at[-1] if stopped_at else meant}.\n"
        f"Why: {why}.\n"
        f"What to do: {remedy} Then give the same command again: it goes on from here.\n" + with_lines(f"What {program} said:", output)
    )


def with_lines(sentence: str, output: str, most: int = 6) -> str:
    """Return a sentence with the lines below it that say what went wrong."""
    return "\n    ".join([sentence, *telling_lines(output, most)])


def telling_lines(output: str, most: int = 6) -> list[str]:
    """Return the lines that say what went wrong, each once: the first of those marked as errors, else the last of all."""
    lines = [line.strip()[:LINE_WIDTH] for line in output.splitlines()]
    lines = list(dict.fromkeys(line for line in lines if line and not re.search(r"complete log of this run|Retrying \(", line)))
    errors = [line for line in lines if re.match(r"ERROR|[Ee]rror:|npm (error|ERR!) |E:", line)]
    return errors[:most] or lines[-most:]
