"""What the paper room is tried on."""
