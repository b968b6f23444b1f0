"""The command line: parse, call a service, print what it says. No rule of the trade lives here."""
