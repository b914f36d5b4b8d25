"""The commands of Fieldslate: python3 -m site_builder <command>.

Up to `enter` only the standard library is imported. Python 3.7 can read this file and python_version.py, so that it gets a
sentence and not a traceback.
"""

import sys

from site_builder.setting_up.python_version import refuse_old_python

# command: (the lock that it needs, what it does). Each is `run` in the module of that name in site_builder/commands.
COMMANDS = {
    "serve": ("run", "build dist/ and serve it on this machine (--port N)"),
    "build": ("run", "build dist/ and stop"),
    "test": ("test", "build dist/ and run every test (what follows goes to pytest)"),
    "journey": ("test", "make the whole journey in Chromium, Firefox and WebKitGTK"),
    "shots": ("test", "take the screenshots of the README"),
    "budgets": ("test", "measure pages and taps on a phone beside the most that they may be"),
    "bench": ("test", "measure the start of the pages and the bytes of a first visit"),
    "mutate": ("test", "break calc/physics and calc/rules a place at a time and see that the tests notice"),
    "compare": ("test", "hold the answers of this checkout against another commit's: compare COMMIT"),
    "new": ("run", "write the skeleton of a calculator that runs: new calculator NAME"),
    "messages": ("run", "list every message that the code can make, each with its place"),
    "lock": ("run", "pin the versions again (--upgrade for newer ones)"),
}


def main(arguments: "list[str]") -> int:
    refuse_old_python(sys.version_info[:2])
    from importlib import import_module

    from site_builder.setting_up.environment import enter
    from site_builder.setting_up.failures import SetUpFailed

    if not arguments or arguments[0] not in COMMANDS:
        print("python3 -m site_builder <command>")
        for command, (_, purpose) in COMMANDS.items():
            print(f"  {command:7} {purpose}")
        return 0 if arguments in (["--help"], ["-h"]) else 2
    try:
        enter(COMMANDS[arguments[0]][0], arguments)
        code: int = import_module("site_builder.commands." + arguments[0]).run(arguments[1:])
        return code
    except SetUpFailed as failure:
        print(failure, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped. The same command goes on from here.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
