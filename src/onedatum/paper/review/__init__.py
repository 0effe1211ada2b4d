"""The paper of a log review: the level over the time, findings, what could not be judged, how often chance misleads."""
