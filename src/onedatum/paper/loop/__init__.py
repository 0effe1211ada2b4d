"""The loop drawing: a two-wire loop as a circuit diagram, with its supply budget in a table beneath."""
