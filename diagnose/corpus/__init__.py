"""The knowledge folder: reading, checking, searching, and the typed records that the rest of the program works on."""
