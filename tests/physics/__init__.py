"""Physics against the outside: standards, tables, worked examples, independent methods."""
