"""How long hypothesis looks: a minute for all properties in every run, or at leisure with --hypothesis-profile=thorough.

No deadline in either: a busy machine is no fault of the code.
"""

from hypothesis import settings

settings.register_profile("quick", deadline=None, max_examples=75)
settings.register_profile("thorough", deadline=None, max_examples=1500)
settings.load_profile("quick")
