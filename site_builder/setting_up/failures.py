"""What to tell a person when a download failed: which package, why, and what to do.

The programs that download say it in a page of their own words. Here it becomes three sentences, and the program's
own words stand below them for whoever wants them.
"""

import re
from dataclasses import dataclass


class SetUpFailed(Exception):
    """Plain sentences for the person at the keyboard. `__main__` prints them; nothing else catches them."""


@dataclass(frozen=True, slots=True)
class Reason:
    signs: str
    why: str
    remedy: str


LINE_WIDTH = 200
AGAIN = "then give the same command again: it goes on from here."

# The first that fits wins. A lost connection is also followed by "no matching version", and a full disk may come after
# a lost connection that was mended, so the order is from the certain to the vague.
REASONS = (
    Reason(
        r"DO NOT MATCH THE HASHES|EINTEGRITY",
        "the file that came is not the one that the lock file names",
        "Give the same command again. If it fails again, do not go round it: something between here and the package "
        "index gives out another file. Try another network.",
    ),
    Reason(r"No space left on device|ENOSPC", "the disk is full", f"Make room (about 1 GB), {AGAIN}"),
    Reason(r"Permission denied|EACCES|EPERM", "a file or folder may not be written", f"Make the folder of Fieldslate your own, {AGAIN}"),
    Reason(
        r"CERTIFICATE_VERIFY_FAILED|SELF_SIGNED_CERT|UNABLE_TO_GET_ISSUER|UNABLE_TO_VERIFY|CERT_HAS_EXPIRED",
        "the certificate of the package index is not trusted on this machine",
        f"Check the date and the clock of this machine, and on a network with a proxy install its certificate, {AGAIN}",
    ),
    Reason(
        r"Read timed out|ReadTimeoutError|ConnectTimeoutError|ETIMEDOUT|ERR_SOCKET_TIMEOUT",
        "the package index took too long to answer",
        f"Wait for a better connection, {AGAIN}",
    ),
    Reason(
        r"Failed to establish a new connection|NewConnectionError|NameResolutionError|name resolution|getaddrinfo"
        r"|Name or service not known|Network is unreachable|Connection refused|Connection reset|Connection aborted"
        r"|RemoteDisconnected|ProxyError|ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ENETUNREACH|EHOSTUNREACH",
        "the package index cannot be reached from this machine",
        f"Check the network connection, and the proxy if there is one, {AGAIN}",
    ),
    Reason(
        r"Failed building wheel|Failed to build|subprocess-exited-with-error|metadata-generation-failed",
        "there is no ready-made file of it for this machine and this Python, and making one failed",
        "Use another Python, from 3.11 to 3.14, and give the same command again.",
    ),
    Reason(
        r"No matching distribution found|HTTP error 404|404 Client Error|E404|ETARGET",
        "the package index has no such version for this machine and this Python",
        "If your settings name a package index of your own, check that it has this version, and give the same command again.",
    ),
)
UNKNOWN = Reason("", "the lines below say why", f"Put right what they say, {AGAIN}")

# Where pip and npm name the package that they stopped at, the surest place first.
PACKAGE_NAMED = (
    r"No matching distribution found for ([\w.\-]+==[\w.\-]+)",
    r"^ +([\w.\-]+==[\w.\-]+) from .*\n +Expected sha256",
    r"Failed (?:building wheel for|to build) '?([\w.\-]+)",
    r"Could not find a version that satisfies the requirement ([\w.\-=]+)",
    r"'((?:@[\w.\-]+/)?[\w.\-]+@[\w.\-]+)' is not in this registry",
    r"No matching version found for ((?:@[\w.\-]+/)?[\w.\-]+@[\w.\-]*\w)",
    r"(?:request to|reason: request to|GET) https?://[^/\s]+/((?:@[\w.\-]+(?:/|%2[fF]))?[\w.\-]+)",
    r"/simple/([\w.\-]+)/",
)


def download_failed(program: str, output: str, meant: str) -> SetUpFailed:
    """Return what to tell about a `program` (pip, npm) that failed with this output while it fetched what was `meant`."""
    reason = next((reason for reason in REASONS if re.search(reason.signs, output)), UNKNOWN)
    return SetUpFailed(
        f"Fieldslate is not set up yet: {program} could not install {_package(output) or meant}.\n"
        f"Why: {reason.why}.\n"
        f"What to do: {reason.remedy}\n"
        f"What {program} said:\n" + "\n".join(f"    {line}" for line in telling_lines(output))
    )


def telling_lines(output: str, most: int = 6) -> list[str]:
    """Return the lines that say what went wrong, each once: the first of those marked as errors, else the last of all."""
    lines = [line.strip()[:LINE_WIDTH] for line in output.splitlines()]
    lines = list(dict.fromkeys(line for line in lines if line and not re.search(r"complete log of this run|Retrying \(", line)))
    errors = [line for line in lines if re.match(r"ERROR|[Ee]rror:|npm (error|ERR!) |E:", line)]
    return errors[:most] or lines[-most:]


def _package(output: str) -> str | None:
    for named in PACKAGE_NAMED:
        found = re.findall(named, output, re.MULTILINE)
        if found:
            return re.sub("%2f", "/", found[-1], flags=re.IGNORECASE).replace("==", " ")
    begun = re.findall(r"^Collecting ([\w.\-]+(?:==[\w.\-]+)?)", output, re.MULTILINE)
    return begun[-1].replace("==", " ") if begun else None
