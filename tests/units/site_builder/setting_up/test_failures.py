"""What a person reads when a download failed. The outputs are those of pip 23 and 24 and of npm 9 and 11, shortened."""

import pytest

from site_builder.setting_up.failures import download_failed, telling_lines

PIP_NO_NETWORK = """\
Collecting jinja2==3.1.6 (from -r run.txt (line 7))
  Downloading jinja2-3.1.6-py3-none-any.whl (134 kB)
WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after connection broken by \
'NewConnectionError('Failed to establish a new connection: [Errno -2] Name or service not known')': /simple/markdown/
ERROR: Could not find a version that satisfies the requirement markdown==3.11.3 (from versions: none)
ERROR: No matching distribution found for markdown==3.11.3
"""
PIP_LOST_ON_THE_WAY = """\
Collecting pillow==13.0.0 (from -r run.txt (line 168))
  Downloading pillow-13.0.0-cp311-cp311-manylinux_2_28_x86_64.whl (7.1 MB)
ERROR: Exception:
Traceback (most recent call last):
pip._vendor.urllib3.exceptions.ReadTimeoutError: HTTPSConnectionPool(host='files.example', port=443): Read timed out.
"""
PIP_OTHER_FILE = """\
Collecting markdown==3.11.3 (from -r run.txt (line 11))
  Using cached markdown-3.11.3-py3-none-any.whl (116 kB)
ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE. If you have updated the package versions, please update.
    markdown==3.11.3 from https://files.example/markdown-3.11.3-py3-none-any.whl (from -r run.txt (line 11)):
        Expected sha256 0a05
             Got        9a05
"""
PIP_UNKNOWN_VERSION = """\
Collecting jinja2==3.1.6 (from -r run.txt (line 7))
ERROR: Could not find a version that satisfies the requirement markdown==3.99.3 (from versions: 3.11.2, 3.11.3)
ERROR: No matching distribution found for markdown==3.99.3
"""
PIP_FULL_DISK = """\
Collecting pillow==13.0.0 (from -r run.txt (line 168))
ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device
"""
PIP_CERTIFICATE = """\
WARNING: Retrying (Retry(total=0)) after connection broken by 'SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED] \
certificate verify failed: self-signed certificate in certificate chain (_ssl.c:1006)'))': /simple/jinja2/
ERROR: Could not find a version that satisfies the requirement jinja2==3.1.6 (from versions: none)
ERROR: No matching distribution found for jinja2==3.1.6
"""
PIP_NOTHING_READY_MADE = """\
Collecting pydantic-core==2.50.5 (from -r run.txt (line 257))
  error: subprocess-exited-with-error
ERROR: Failed building wheel for pydantic-core
ERROR: Failed to build 'pydantic-core' when installing build dependencies
"""
NPM_NO_NETWORK = """\
npm error code ENOTFOUND
npm error syscall getaddrinfo
npm error errno ENOTFOUND
npm error network request to https://packages.example/pyodide/-/pyodide-314.0.7.tgz failed, reason: getaddrinfo ENOTFOUND packages.example
npm error network This is a problem related to network connectivity.
npm error A complete log of this run can be found in: log.txt
"""
NPM_9_REFUSED = """\
npm ERR! code ECONNREFUSED
npm ERR! FetchError: request to https://packages.example/@types%2femscripten failed, reason: connect ECONNREFUSED
"""
NPM_OTHER_FILE = """\
npm error code EINTEGRITY
npm error Integrity checksum failed when using sha512: wanted sha512-1Yv== but got sha512-0Yv==.
"""
NPM_UNKNOWN_VERSION = """\
npm error code ETARGET
npm error notarget No matching version found for pyodide@314.0.999.
"""
UNREACHABLE, SLOW, OTHER_FILE = "cannot be reached", "too long to answer", "not the one that the lock file names"


@pytest.mark.parametrize(
    ("program", "output", "package", "why", "remedy"),
    [
        ("pip", PIP_NO_NETWORK, "markdown 3.11.3", UNREACHABLE, "network connection"),
        ("pip", PIP_LOST_ON_THE_WAY, "pillow 13.0.0", SLOW, "better connection"),
        ("pip", PIP_OTHER_FILE, "markdown 3.11.3", OTHER_FILE, "Do not go round it"),
        ("pip", PIP_UNKNOWN_VERSION, "markdown 3.99.3", "no such version", "package index of your own"),
        ("pip", PIP_FULL_DISK, "pillow 13.0.0", "the disk is full", "Make room"),
        ("pip", PIP_CERTIFICATE, "jinja2 3.1.6", "certificate", "the clock"),
        ("pip", PIP_NOTHING_READY_MADE, "pydantic-core 2.50.5", "no ready-made file", "another Python"),
        ("npm", NPM_NO_NETWORK, "the packages", UNREACHABLE, "network connection"),
        ("npm", NPM_9_REFUSED, "the packages", UNREACHABLE, "network connection"),
        ("npm", NPM_OTHER_FILE, "the packages", OTHER_FILE, "Do not go round it"),
        ("npm", NPM_UNKNOWN_VERSION, "the packages", "no such version", "package index of your own"),
        ("pip", "Segmentation fault", "the packages", "the lines below say why", "Put right what they say"),
        ("pip", "", "the packages", "the lines below say why", "Put right what they say"),
    ],
)
def test_a_failed_download_says_which_package_why_and_what_to_do(program, output, package, why, remedy):
    first, second, third, *_ = str(download_failed(program, output, meant="the packages")).splitlines()
    assert first == f"Fieldslate is not set up yet: {program} could not install {package}."
    assert why in second
    assert remedy in third and "the same command again" in third


def test_the_words_of_the_program_stand_below():
    told = str(download_failed("npm", NPM_UNKNOWN_VERSION, meant="pyodide")).splitlines()
    assert told[3:] == ["What npm said:", *(f"    {line}" for line in NPM_UNKNOWN_VERSION.splitlines())]


def test_a_long_story_is_cut_to_its_errors():
    assert telling_lines("Collecting a\n" * 50 + "ERROR: no\n" * 9 + "Traceback\n") == ["ERROR: no"]


def test_without_errors_the_last_lines_are_told():
    assert telling_lines("\n".join("abcdefgh"), most=3) == ["f", "g", "h"]
