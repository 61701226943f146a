"""The commands: the only part of the program that prompts, prints or exits."""
