"""The commands, by what they are about; each parses, calls a service and has its word printed."""
