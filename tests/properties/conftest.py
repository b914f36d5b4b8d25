"""How long hypothesis looks: a minute for all properties in every run, or at leisure with --hypothesis-profile=thorough.

Every run draws the same, so that a red one is the fault of what was changed; the thorough one looks elsewhere each time, and what it
finds is written down as an @example. Nothing is remembered on the disk. No deadline: a busy machine is no fault of the code.
"""

from hypothesis import settings

settings.register_profile("quick", deadline=None, database=None, derandomize=True, max_examples=50)
settings.register_profile("thorough", deadline=None, database=None, max_examples=1500)
settings.load_profile("quick")
