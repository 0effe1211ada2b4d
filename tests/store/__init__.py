"""Records that must last: the chain, the databases, copies."""
