"""Tables and texts that ship with the package, each with a head that names its source; no code."""
