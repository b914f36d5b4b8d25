"""What a static host should send with the files, in the forms that such hosts read.

A host that reads neither still serves a whole app: the policy stands in each page, and the service worker adds the rest once it
answers. README.md lists the headers for whoever has to enter them by hand.
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.policy import HEADERS

FOR_HOSTS = ("_headers", ".htaccess")  # read by the host; a phone has no use for them
ALWAYS_ASKED_FOR = "no-cache"
NEVER_CHANGED = "public, max-age=31536000, immutable"  # a folder whose name carries the hash of what is in it


def write_for_hosts(dist: Path, address: str = "") -> None:
    """Write both files; `address` is where the site will stand, if that is known, since one form names whole paths."""
    folders = sorted(folder.name for folder in dist.iterdir() if folder.is_dir() and "-" in folder.name)
    below = urlsplit(address).path.rstrip("/")
    (dist / "_headers").write_text(_as_list_of_paths(folders, below), encoding="utf-8", newline="\n")
    (dist / ".htaccess").write_text(_as_directives(folders), encoding="utf-8", newline="\n")


def _as_list_of_paths(folders: list[str], below: str) -> str:
    rules = [(f"{below}/*", HEADERS), (f"{below}/service-worker.js", {"cache-control": ALWAYS_ASKED_FOR})]
    rules += [(f"{below}/{folder}/*", {"cache-control": NEVER_CHANGED}) for folder in folders]
    return "\n".join(f"{path}\n{_lines(headers, '  {}: {}')}" for path, headers in rules)


def _as_directives(folders: list[str]) -> str:
    types = "\n".join(f'  AddType "{kind}" {ending}' for ending, kind in CONTENT_TYPES.items())
    return f"""<IfModule mod_headers.c>
{_lines(HEADERS, '  Header always set {} "{}"')}  Header set cache-control "{ALWAYS_ASKED_FOR}"
  <If "%{{REQUEST_URI}} =~ m#/({"|".join(folders)})/#">
    Header set cache-control "{NEVER_CHANGED}"
  </If>
</IfModule>
<IfModule mod_mime.c>
{types}
  RemoveEncoding .gz
</IfModule>
"""


def _lines(headers: dict[str, str], form: str) -> str:
    return "".join(form.format(name, value) + "\n" for name, value in headers.items())
