"""What was found on site against what the case lets expect."""
