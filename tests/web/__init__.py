"""The server: its door, its workers, its pages."""
