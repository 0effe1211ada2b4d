"""The parts of the case page: plain records made from a study, one module for each part."""
