"""What the user states: the model of a case, its reading with file:line:column, the checks of the statement."""
