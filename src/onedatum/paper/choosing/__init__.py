"""The sheets of choosing: selection, questions to the customer, order."""
