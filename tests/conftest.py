"""What every test needs."""

from hypothesis import settings

# Two slow cores must not fail a property: no time limit for one example. All else stays as the surroundings say.
settings.register_profile("onedatum", settings(), deadline=None)
settings.load_profile("onedatum")
