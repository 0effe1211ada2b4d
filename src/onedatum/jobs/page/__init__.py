"""What the case page shows: plain records made from a study, one module for each part of the page."""
