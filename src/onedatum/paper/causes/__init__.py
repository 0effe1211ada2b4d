"""The paper on which part may be wrong: readings, ranked explanations, what each would read, what to measure next."""
