"""What an instrument would receive, from the same physics that sizes it."""
