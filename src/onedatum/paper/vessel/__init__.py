"""The vessel as a drawing of its own: seen from the side, with its section across on the same height."""
