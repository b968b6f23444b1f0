"""A season's water by the product's rule and by fixed schedules, on measured weather."""
