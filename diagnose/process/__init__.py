"""The arithmetic of a cured-meat plant, as pure functions: weights, cures, brines, salt, names, humidity, heat and cold.

Nothing here reads a file, asks a question or knows a probability. Every function takes plain numbers in stated units and
returns a number or a frozen record. Limits of regulations and rows of guidelines are data and come in as arguments.
"""
