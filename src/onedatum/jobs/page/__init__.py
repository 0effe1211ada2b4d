"""What the page shows: plain views made from a study, one module per part of the page."""
