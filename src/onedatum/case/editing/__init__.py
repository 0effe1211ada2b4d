"""The parts of an edit: where a path leads in the model, where it stands in the text, and what is written there."""
