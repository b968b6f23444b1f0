"""The clock: four jobs that wake up and look."""
