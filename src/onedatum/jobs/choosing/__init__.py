"""The sheets of choosing, from a study: selection, questions to the customer, order."""
