"""Physics: pure functions, numbers in, numbers out; the rooms know neither the case nor one another."""
