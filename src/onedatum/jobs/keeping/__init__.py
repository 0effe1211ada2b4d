"""A folder of cases that people edit: names, the lock, earlier versions, saving without losing an edit."""
