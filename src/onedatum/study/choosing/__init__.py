"""Chapter choosing: the rules judged by what case and study know, and what would change their verdicts."""

from onedatum.study.choosing.chapter import Choosing, choosing_chapter

__all__ = ["Choosing", "choosing_chapter"]
