"""One function per command: the only place that joins study, paper and whatever is stored."""
