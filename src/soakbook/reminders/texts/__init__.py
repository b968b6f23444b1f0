"""What the reminders say, a kind a file: title and body from what was seen. Which beds and to whom is `deciding`'s."""
