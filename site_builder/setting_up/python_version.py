"""Which Python is too old. Python 3.7 must be able to read this, or nobody would be told."""

OLDEST = (3, 11)


def refuse_old_python(version: "tuple[int, ...]") -> None:
    """Stop with a sentence if `version`, as in sys.version_info, is below the oldest that Fieldslate runs on."""
    if tuple(version[:2]) < OLDEST:
        raise SystemExit(
            f"Fieldslate needs Python {OLDEST[0]}.{OLDEST[1]} or later, and this is Python {version[0]}.{version[1]}. "
            "Install a newer one and name it in the command: python3.12 -m site_builder serve"
        )
