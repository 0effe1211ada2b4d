"""The rules of the house, checked by machine: how code, papers of the project and imports must look."""
